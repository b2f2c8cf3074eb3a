import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { listLoggers } from "#lib/db/clock";
import { clocksView } from "#lib/services/clocks-view";
import { recordLoggerFile, type LoggerInput } from "#lib/services/record-logger-file";
import { clockProject, stream, type ClockProject } from "#tests/services/clock-project";
import { refusedWith } from "#tests/services/refused";

const EVENING: Instant = Date.parse("2026-12-02T18:00:00-04:00");

let site: ClockProject;
beforeEach(async () => {
  site = await clockProject(EVENING);
  await site.send("02-B", "16", { tied: "yes" });
  site.clock.now = EVENING + 10 * HOUR;
});
afterEach(() => site.close());

const input = (text: string | Uint8Array, parts: Partial<LoggerInput> = {}): LoggerInput => ({
  sheet: "02-B", line: "17", stream: stream(text), fileName: "LG-2.csv", clock: "own", offset: "", order: "", unit: null, column: "", ...parts,
});
const send = (text: string | Uint8Array, parts: Partial<LoggerInput> = {}, who = "crew") => recordLoggerFile(site.as(who), input(text, parts));
const hourly = (from: number, to: number, celsius: number, step = 0.5): string[] =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => `${new Date(EVENING + (from + i * step) * HOUR).toISOString()},${celsius.toFixed(1)}`);
const csv = (...rows: string[]): string => ["Time,Temperature °C", ...rows].join("\r\n");
const onFile = () => listLoggers(site.tx, "02-B", "17");

describe("a logger's file", () => {
  it("is read whole into the clock, under its name and its digest", async () => {
    const receipt = await send(csv(...hourly(0, 10, 20)));
    expect(receipt).toMatchObject({ readings: 21, words: "21 readings, Wed 18:00 to Thu 04:00.", notes: [] });
    expect(await onFile()).toMatchObject([{ title: "LG-2.csv", sha256: receipt.sha256, enteredAt: site.clock.now }]);
    const { rows: [row] } = await clocksView(site.tx, site.project, site.clock.now);
    expect(row).toMatchObject({ line: "17", state: "runs", until: EVENING + 18 * HOUR });
  });

  it("is taken once at a point: again it is refused with the day it came, unless it is the same call", async () => {
    const text = csv(...hourly(0, 4, 20));
    const first = await send(text, { id: "d6c1a3a4-65b0-4c08-8d71-0c6a8f6f3a11" });
    expect((await send(text, { id: first.id })).id).toBe(first.id);
    site.clock.now += HOUR;
    const refusal = await refusedWith(send(text, { fileName: "copy.csv" }));
    expect(refusal.message).toBe("This file was read into this clock already, Thu 3 Dec 2026, 04:00 −04:00.");
    expect(await onFile()).toHaveLength(1);
  });

  it("with local times and no zone is refused with what to say, and nothing of it is kept", async () => {
    const refusal = await refusedWith(send("Date Time,Temp (°C)\n2026-12-02 19:00,20.0\n2026-12-02 20:00,19.0\n"));
    expect(refusal).toMatchObject({
      code: "invalid", message: "Nothing of the file was taken.",
      faults: [{ field: "clock", message: "Row 2: The times are local and name no zone: 2026-12-02 19:00. Say which clock they are on: the site's, or one offset such as -04:00." }],
    });
    expect(await onFile()).toEqual([]);
  });

  it.each<[string, Partial<LoggerInput>]>([
    ["the site's clock", { clock: "site" }],
    ["one offset", { clock: "fixed", offset: "−4" }],
  ])("with local times is read on %s once that is said", async (_what, parts) => {
    await send("Date Time,Temp (°F)\n2026-12-02 19:00,68\n2026-12-02 21:00,50\n", parts);
    expect((await site.sheet("02-B")).readings).toMatchObject([{ at: EVENING + HOUR, celsius: 20, logged: true }, { at: EVENING + 3 * HOUR, celsius: 10 }]);
  });

  it("names every row that is wrong, and takes none of those that are right", async () => {
    const rows = hourly(0, 3, 20, 1);
    rows[1] = rows[1]!.replace("20.0", "2O.0"); // a letter for a digit
    rows[3] = rows[3]!.replace("20.0", "200");
    const { faults } = await refusedWith(send(csv(...rows)));
    expect(faults.map(({ message }) => message.slice(0, 6))).toEqual(["Row 3:", "Row 5:"]);
    expect(await onFile()).toEqual([]);
  });

  it.each<[string, string, Partial<LoggerInput>, string]>([
    ["of times to come", csv(...hourly(8, 11, 20)), {}, "file"],
    ["of times before the clock", csv(...hourly(-9, -1, 20)), {}, "file"],
    ["without a unit", "Time,Temperature\n2026-12-02T19:00Z,20\n", {}, "unit"],
    ["with several temperatures", `Time,Temp inside °C,Temp outside °C\n${hourly(0, 2, 20).map((row) => `${row},9`).join("\n")}`, {}, "column"],
    ["with a column that it has not", csv(...hourly(0, 2, 20)), { column: "Probe 3" }, "column"],
    ["with an offset that is none", csv(...hourly(0, 2, 20)), { clock: "fixed", offset: "four" }, "offset"],
    ["that changed on its way", csv(...hourly(0, 2, 20)), { declaredSha256: "0".repeat(64) }, "file"],
    ["that is no table", "a quotation mark that is \"\n,\"never closed\n", {}, "file"],
  ])("%s is refused at its field, and nothing is kept", async (_what, text, parts, field) => {
    expect(await refusedWith(send(text, parts))).toMatchObject({ code: "invalid", faults: [{ field }] });
    expect(await onFile()).toEqual([]);
  });

  it("with several temperatures is read by the head of the one that was named", async () => {
    await send(`Time,Temp inside °C,Temp outside °C\n${hourly(0, 2, 20).map((row) => `${row},9`).join("\n")}`, { column: "temp outside °c" });
    expect((await site.sheet("02-B")).readings.map(({ celsius }) => celsius)).toEqual([9, 9, 9, 9, 9]);
  });

  it("that says it is larger than 5 MB is refused before a byte of it is read", async () => {
    const unread: AsyncIterable<Uint8Array> = { [Symbol.asyncIterator]: () => ({ next: () => Promise.reject(new Error("It was read.")) }) };
    const refusal = await refusedWith(recordLoggerFile(site.as("crew"), { ...input(""), stream: unread, declaredLength: 5 * 1024 ** 2 + 1 }));
    expect(refusal).toMatchObject({ code: "invalid", message: "The file is larger than 5 MB. Send the part of it that is about this work." });
  });

  it("that is larger than it says is refused as soon as that shows", async () => {
    expect(await refusedWith(send(new Uint8Array(5 * 1024 ** 2 + 1).fill(0x31)))).toMatchObject({ code: "invalid" });
  });

  it("is for a point with a clock that runs, and for who reads temperatures", async () => {
    expect(await refusedWith(send(csv(...hourly(0, 2, 20)), { line: "22" }))).toMatchObject({ code: "blocked" });
    expect(await refusedWith(send(csv(...hourly(0, 2, 20)), { line: "99" }))).toMatchObject({ code: "not-found" });
    expect(await refusedWith(send(csv(...hourly(0, 2, 20)), {}, "owner"))).toMatchObject({ code: "not-allowed" });
  });

  it("with a gap of 3 h counts the colder end and leaves the question to the decider", async () => {
    site.clock.now = EVENING + 40 * HOUR;
    await send(csv(...hourly(0, 4, 20), ...hourly(7, 40, 12)));
    await site.send("02-B", "17", {});
    const { questions } = await site.standing("02-B", "17");
    expect(questions).toMatchObject([{ code: "CLOCK ASSUMED", title: "3 h of the cure are assumed", measured: "Wed 22:00 to Thu 01:00 at 12 °C" }]);
  });
});

describe("the night on which the clocks go back", () => {
  // Halifax, 1 Nov 2026: 01:00 to 02:00 comes twice.
  const SATURDAY = Date.parse("2026-10-31T20:30:00-03:00");
  beforeEach(async () => {
    await site.close();
    site = await clockProject(SATURDAY);
    await site.send("02-B", "16", { tied: "yes" });
    site.clock.now = SATURDAY + 12 * HOUR;
  });

  it("settles the repeated hour by the order of the rows where that leaves one way to read it", async () => {
    await send("Date Time,°C\n2026-11-01 00:30,20\n2026-11-01 01:30,19\n2026-11-01 01:30,18\n2026-11-01 02:30,17\n", { clock: "site" });
    expect((await site.sheet("02-B")).readings.map(({ at, celsius }) => [(at - SATURDAY) / HOUR, celsius])).toEqual([[4, 20], [5, 19], [6, 18], [7, 17]]);
  });

  it("asks where it can be either, and keeps nothing", async () => {
    const { faults } = await refusedWith(send("Date Time,°C\n2026-11-01 00:30,20\n2026-11-01 01:30,19\n2026-11-01 02:30,17\n", { clock: "site" }));
    expect(faults).toMatchObject([{ field: "clock", message: expect.stringMatching(/^Row 3: 2026-11-01 01:30 comes twice/) }]);
    expect(await onFile()).toEqual([]);
  });

  it("is no question for a logger that keeps one offset", async () => {
    await send("Date Time,°C\n2026-11-01 00:30,20\n2026-11-01 01:30,19\n", { clock: "fixed", offset: "-03:00" });
    expect((await site.sheet("02-B")).readings.map(({ at }) => (at - SATURDAY) / MINUTE)).toEqual([240, 300]);
  });
});
