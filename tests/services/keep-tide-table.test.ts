import { randomUUID } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { HOUR, MINUTE, SECOND, type Instant } from "#lib/domain/instant";
import { listTideTables } from "#lib/db/clock";
import { keepTideTable, readTideTable, type TideInput } from "#lib/services/keep-tide-table";
import { tideNow, tidePicture, tideWindowsIn, tidesView } from "#lib/services/tide-view";
import { clockProject, type ClockProject } from "#tests/services/clock-project";
import { refusedWith } from "#tests/services/refused";

const NOON: Instant = Date.parse("2026-12-03T12:00:00-04:00");
const DAY = "2026-12-02 23:57,0.3,low\n2026-12-03 06:10,1.9,high\n2026-12-03 12:22,0.3,low\n2026-12-03 18:35,2.0,high\n2026-12-04 00:47,0.3,low";

let site: ClockProject;
beforeEach(async () => {
  site = await clockProject(NOON);
});
afterEach(() => site.close());

const input = (parts: Partial<TideInput> = {}): TideInput => ({
  id: randomUUID(), table: DAY, source: "Harbour table, sheet 12", clock: "site", offset: "", order: "", unit: "m", workLevel: "0.8 m", allowance: "0 m", ...parts,
});
const keep = (parts: Partial<TideInput> = {}, who = "crew") => keepTideTable(site.as(who), input(parts));
const tables = () => listTideTables(site.tx, site.project.id);
const now = async (at = NOON) => tideNow(site.tx, site.project, at);

describe("a tide table", () => {
  it("is kept with its waters as instants, once however often it is sent", async () => {
    const one = input();
    await keepTideTable(site.as("crew"), one);
    await keepTideTable(site.as("crew"), one);
    const kept = await tables();
    expect(kept).toMatchObject([{ source: "Harbour table, sheet 12", workLevelM: "0.8", allowanceM: "0", byId: "crew", enteredAt: NOON }]);
    expect(kept[0]?.waters[1]).toEqual({ at: Date.parse("2026-12-03T06:10:00-04:00"), heightM: "1.9", turn: "high" });
  });

  it("opens the window between its waters to the second", async () => {
    await keep();
    // HW 06:10 1.9 m, LW 12:22 0.3 m, HW 18:35 2.0 m and a level of 0.8 m: from 10:01:31 to 14:38:07 by the cosine between the waters.
    const [window] = tideWindowsIn(await tables(), site.project.zone, { from: NOON, to: NOON + HOUR });
    expect(window).toMatchObject({ opens: "10:01", closes: "14:38" });
    expect(Math.abs(window!.from - Date.parse("2026-12-03T10:01:31-04:00"))).toBeLessThan(SECOND);
    expect(Math.abs(window!.to - Date.parse("2026-12-03T14:38:07-04:00"))).toBeLessThan(SECOND);
  });

  it("says until when work goes, from when it will, and nothing where no table is", async () => {
    expect(await now()).toBeNull();
    await keep();
    expect(await now()).toBe("work to 14:38");
    expect(await now(NOON + 4 * HOUR)).toBe("work from 22:31");
    expect(await now(NOON + 12 * HOUR)).toBe("work to 00:47, where the table ends");
    expect(await now(NOON + 24 * HOUR)).toBe("no table for today");
  });

  it("takes the allowance for surge off the level", async () => {
    await keep({ allowance: "1 ft", workLevel: "2 ft 7.5 in" });
    const [table] = await tables();
    expect(table).toMatchObject({ workLevelM: "0.8001", allowanceM: "0.3048" });
    expect(tidePicture(table!, site.project.zone, NOON).limitM).toBeCloseTo(0.4953, 9);
  });

  it("gives way to a later one where both know a day, and keeps its own days", async () => {
    await keep();
    await keep({ table: "2026-12-03 06:10,1.9\n2026-12-03 12:22,1.0\n2026-12-03 18:35,2.0" }); // never under 0.8 m
    const windows = tideWindowsIn(await tables(), site.project.zone, { from: NOON - 14 * HOUR, to: NOON + 14 * HOUR });
    expect(windows.map(({ opens, closes }) => `${opens} to ${closes}`)).toEqual(["table begins to 02:17", "22:31 to table ends"]);
    expect(await now()).toBe("work from 22:31");
  });

  it("is drawn with its windows before it is kept", () => {
    const picture = tidePicture(readTideTable(input(), site.project.zone), site.project.zone, NOON);
    expect(picture.windows.map(({ opens, closes }) => `${opens} to ${closes}`)).toEqual(["table begins to 02:17", "10:01 to 14:38", "22:31 to table ends"]);
    expect(picture.curve).toHaveLength(1);
    expect(Math.max(...picture.curve.flat().map(({ heightM }) => heightM))).toBeCloseTo(2, 2);
    expect(picture.finding).toContain("Thu 10:01 to Thu 14:38");
  });

  it("leaves out what it does not know, and draws no curve there", () => {
    const gap = `${DAY}\n2026-12-06 06:10,1.9,high\n2026-12-06 12:22,0.3,low`;
    const reading = readTideTable(input({ table: gap }), site.project.zone);
    expect(reading.notes).toEqual(["Rows are missing before row 6. Nothing can be told about the time between."]);
    expect(tidePicture({ ...reading }, site.project.zone, NOON + 8 * HOUR).curve).toHaveLength(1);
  });

  it.each<[string, Partial<TideInput>, string[]]>([
    ["without a word on its clock", { clock: "own" }, ["clock"]],
    ["with bare heights and no unit", { unit: null }, ["unit"]],
    ["with rows that are no waters", { table: "2026-12-03 06:10,1.9,high\nrain,0.3,low\n2026-12-03 18:35,two,high" }, ["table", "table"]],
    ["with two high waters together", { table: "2026-12-03 06:10,1.9,high\n2026-12-03 12:22,1.9,high" }, ["table", "table"]],
    ["with a repeated hour of the site's clocks", { table: "2026-11-01 01:30,1.9,high\n2026-11-01 07:45,0.3,low" }, ["clock"]],
    ["with a level without a unit", { workLevel: "0.8" }, ["workLevel"]],
    ["with an allowance below nothing", { allowance: "-0.1 m" }, ["allowance"]],
    ["without rows", { table: " \n" }, ["table"]],
    ["without its source", { source: " " }, ["source"]],
  ])("%s is refused, and nothing of it is kept", async (_what, parts, fields) => {
    const refusal = await refusedWith(keep(parts));
    expect({ code: refusal.code, fields: refusal.faults.map(({ field }) => field) }).toEqual({ code: "invalid", fields });
    expect(await tables()).toEqual([]);
  });

  it("is kept by who plans the work, not by who inspects it", async () => {
    expect(await refusedWith(keep({}, "inspector"))).toMatchObject({ code: "not-allowed" });
  });

  it("is shown with the windows that come, by day", async () => {
    await keep();
    const view = await tidesView(site.tx, site.project, NOON + MINUTE);
    expect(view).toMatchObject({
      lead: "Work to 14:38.", last: { workLevel: "0.8 m", allowance: "0 m" }, tables: [{ source: "Harbour table, sheet 12", kept: "kept by Ora crew Thu 12:00" }],
      windows: [{ day: "Thu 3 Dec", opens: "10:01", closes: "14:38", long: "4 h 36" }, { day: "Thu 3 Dec", opens: "22:31", closes: "table ends" }],
    });
  });
});
