import { randomUUID } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { clocksView } from "#lib/services/clocks-view";
import { nextActionsView } from "#lib/services/next-action-view";
import { recordTemperature } from "#lib/services/record-temperature";
import { clockProject, type ClockProject } from "#tests/services/clock-project";
import { refusedWith } from "#tests/services/refused";

const EVENING: Instant = Date.parse("2026-12-02T18:00:00-04:00");

let site: ClockProject;
beforeEach(async () => {
  site = await clockProject(EVENING);
});
afterEach(() => site.close());

async function read(mark: string, line: string, hoursAfter: number, celsius: string, from = EVENING): Promise<void> {
  await recordTemperature(site.as("crew"), { id: randomUUID(), sheet: mark, line, at: new Date(from + hoursAfter * HOUR).toISOString(), temperature: celsius, unit: "°C" });
}

const view = () => clocksView(site.tx, site.project, site.clock.now);
const named = async () => (await view()).rows.map(({ mark, line, clock, state, words }) => ({ at: `${mark} ${line}`, clock, state, words }));

describe("the clocks of a project", () => {
  it("are none before anything was done", async () => {
    expect(await view()).toMatchObject({ finding: "No clock runs.", rows: [], later: [], drawn: [] });
  });

  it("stand with what cannot be met first, then what stands still, then what ends soonest", async () => {
    await site.send("02-A", "4", { clean: "yes" }); // covered within 24 h
    await site.send("02-A", "21", { full: "yes" }); // 400 °C·h
    await site.send("02-B", "16", { tied: "yes" }); // 18 h at 20 °C
    site.clock.now = EVENING + 12 * HOUR;
    await read("02-A", "22", 0, "20");
    await read("02-A", "22", 12, "20");
    await read("02-B", "17", 0, "20");
    await read("02-B", "17", 6, "20");
    await read("02-B", "17", 12, "6");
    expect(await named()).toEqual([
      { at: "02-B 17", clock: "cure", state: "stopped", words: "cannot tell, paused at 6 °C" },
      { at: "02-A 22", clock: "maturity", state: "runs", words: "14:00, earliest" }, // 240 °C·h at 06:00, 160 at 20 °C are 8 h
      { at: "02-A 11", clock: "maximum wait", state: "runs", words: "18:00, 12 h 00 left" },
    ]);
    site.clock.now = EVENING + 25 * HOUR;
    const [first] = (await view()).rows;
    expect(first).toMatchObject({ mark: "02-A", line: "11", state: "cannot be met", words: "cannot be met since 18:00: redo point 4" });
  });

  it("say when a paused cure was stopped, and draw it with its temperatures", async () => {
    await site.send("02-B", "16", { tied: "yes" });
    site.clock.now = EVENING + 3 * HOUR;
    await read("02-B", "17", 0, "20");
    await read("02-B", "17", 1, "20");
    await read("02-B", "17", 2, "6");
    const { rows: [row], drawn: [clock] } = await view();
    expect(row).toMatchObject({ since: EVENING, until: null, stopped: [{ from: EVENING + HOUR, to: EVENING + 2 * HOUR }, { from: EVENING + 2 * HOUR, to: EVENING + 3 * HOUR }] });
    expect(clock).toMatchObject({ title: "02-B, point 17, jacket cure", amount: "1.00 of 18 h at 20 °C", headline: "Cannot tell yet", minimum: 8, paused: true });
  });

  it("count the pot life of a batch at the warmest that it was", async () => {
    await site.send("02-A", "13", { "part-a": "20 °C", "part-b": "30 °C", air: "10 °C" }); // 60 min at 20 °C are 30 at 30 °C
    expect(await named()).toEqual([{ at: "02-A 15", clock: "pot life", state: "runs", words: "18:30, 30 min left" }]);
    site.clock.now += 31 * MINUTE;
    expect(await named()).toEqual([{ at: "02-A 15", clock: "pot life", state: "cannot be met", words: "cannot be met since 18:30: redo point 13" }]);
  });

  it("go as soon as they are reached, or what they wait for is done", async () => {
    await site.send("02-A", "4", { clean: "yes" });
    await site.send("02-B", "16", { tied: "yes" });
    await site.release("02-A", "4");
    site.clock.now = EVENING + 20 * HOUR;
    for (let hour = 0; hour <= 20; hour += 4) await read("02-B", "17", hour, "20");
    await site.send("02-A", "11", { looked: "yes" });
    await site.release("02-A", "11");
    expect(await named()).toEqual([]);
  });

  it("stand apart where they end beyond the axis", async () => {
    await site.send("02-A", "21", { full: "yes" });
    site.clock.now = EVENING + HOUR;
    await read("02-A", "22", 0, "8");
    const { rows, later, span } = await view();
    expect(rows).toEqual([]);
    expect(later).toMatchObject([{ line: "22", until: EVENING + 50 * HOUR, words: "Fri 20:00, earliest" }]); // 400 °C·h at 8 °C
    expect(span.to).toBeLessThan(EVENING + 50 * HOUR);
  });

  it("are worked out anew with every reading, and never from what was shown before", async () => {
    await site.send("02-A", "21", { full: "yes" });
    site.clock.now = EVENING + 10 * HOUR;
    await read("02-A", "22", 0, "20");
    await read("02-A", "22", 10, "20");
    expect((await view()).rows[0]?.until).toBe(EVENING + 20 * HOUR);
    await read("02-A", "22", 5, "10"); // nobody knows how long it was so cold: both stretches count at 10 °C
    expect((await view()).rows[0]).toMatchObject({ until: EVENING + 25 * HOUR, recordedAt: site.clock.now });
  });
});

describe("a night in which the clocks change", () => {
  // 18 h from 31 Oct 2026 20:30 −03:00 in Halifax end at 13:30 −04:00: the wall clock alone would say 17 h.
  const DST_EVENING = Date.parse("2026-10-31T20:30:00-03:00");

  it("counts hours, and writes the offset where it is another one", async () => {
    await site.close();
    site = await clockProject(DST_EVENING);
    await site.send("02-B", "16", { tied: "yes" });
    site.clock.now = DST_EVENING + MINUTE;
    await read("02-B", "17", 0, "20", DST_EVENING);
    const [row] = (await view()).rows;
    expect(new Date(row!.until!).toISOString()).toBe("2026-11-01T17:30:00.000Z");
    expect(row?.words).toBe("Sun 13:30 −04:00, earliest");
  });
});

describe("the next work of a pile", () => {
  const next = async (mark: string, tide: Parameters<typeof nextActionsView>[1] = null) => nextActionsView(await site.sheet(mark), tide);

  it("has its earliest and latest time, with the limit that sets it", async () => {
    await site.send("02-A", "4", { clean: "yes" });
    await site.release("02-A", "4");
    const { actions, deadEnds } = await next("02-A");
    expect(actions.find(({ line }) => line === "11")).toMatchObject({ earliest: "now", latest: "Thu 18:00, preparation to cover-up", tide: null });
    expect(actions.find(({ line }) => line === "24")).toMatchObject({ earliest: "now", latest: null });
    expect(deadEnds).toEqual([]);
  });

  it("says which release it waits for", async () => {
    await site.send("02-A", "4", { clean: "yes" });
    expect((await next("02-A")).actions.find(({ line }) => line === "11")).toMatchObject({ earliest: "waits for the release of point 4" });
  });

  it("says at once which step has to be redone when a limit has run out", async () => {
    await site.send("02-A", "4", { clean: "yes" });
    await site.release("02-A", "4");
    site.clock.now += 25 * HOUR;
    expect((await next("02-A")).deadEnds).toEqual([{ redo: "4", words: "Point 11 cannot be met: preparation to cover-up ended 18:00. Redo point 4." }]);
  });
});

describe("hours that nobody measured", () => {
  it("are a question that the decider answers by name before a release", async () => {
    await site.send("02-B", "16", { tied: "yes" });
    site.clock.now = EVENING + 30 * HOUR;
    for (const [hour, celsius] of [[0, "20"], [5, "20"], [15, "14"], [20, "20"], [25, "20"], [30, "20"]] as const) await read("02-B", "17", hour, celsius);
    await site.send("02-B", "17", {});
    const { questions } = await site.standing("02-B", "17");
    expect(questions).toMatchObject([{ photo: null, code: "CLOCK ASSUMED", title: "10 h of the cure are assumed", measured: "Wed 23:00 to Thu 09:00 at 14 °C" }]);
    await site.release("02-B", "16");
    const refusal = await refusedWith(site.release("02-B", "17"));
    expect(refusal).toMatchObject({ code: "blocked", faults: [{ field: "answers" }] });
    await site.release("02-B", "17", [{ photo: null, code: "CLOCK ASSUMED", answer: "explained", words: "The enclosure was heated all night." }]);
    expect((await site.sheet("02-B")).history.decisions.at(-1)).toMatchObject({ by: "inspector", answers: [{ code: "CLOCK ASSUMED", answer: "explained" }] });
  });

  it("are no question where somebody measured all along", async () => {
    await site.send("02-B", "16", { tied: "yes" });
    site.clock.now = EVENING + 20 * HOUR;
    for (let hour = 0; hour <= 20; hour += 4) await read("02-B", "17", hour, "20");
    await site.send("02-B", "17", {});
    expect((await site.standing("02-B", "17")).questions).toEqual([]);
  });
});
