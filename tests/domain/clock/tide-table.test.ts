import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { siteTime } from "#lib/domain/clock/site-time";
import { tideWindows } from "#lib/domain/clock/tide";
import { readTideTable, type TideChoice } from "#lib/domain/clock/tide-table";
import { MINUTE } from "#lib/domain/instant";

const HALIFAX = "America/Halifax";
const NONE: TideChoice = { zone: null, order: null, unit: null };
const at = (iso: string) => Date.parse(iso);
const read = (text: string, choice: Partial<TideChoice> = {}) => readTideTable(text.split("\n").map((line) => line.split(";")), { ...NONE, ...choice });

const WATERS = [
  { at: at("2026-12-03T06:10-04:00"), heightM: "1.9", turn: "high" },
  { at: at("2026-12-03T12:22-04:00"), heightM: "0.3", turn: "low" },
  { at: at("2026-12-03T18:35-04:00"), heightM: "2", turn: "high" },
];

describe("a tide table", () => {
  it.each([
    ["with offsets, units and turns in its cells", "2026-12-03T06:10-04:00;1.9 m;high\n2026-12-03T12:22-04:00;0.3 m;low\n2026-12-03T18:35-04:00;2.0 m;HW", {}],
    ["with a head, and its turns worked out", "Time;Height (m)\n2026-12-03 06:10;1.9\n2026-12-03 12:22;0.3\n2026-12-03 18:35;2.0", { zone: HALIFAX }],
    ["with date and time apart, in feet", "Date;Time;High or low;Height (ft)\n2026-12-03;06:10;H;6.2335958\n2026-12-03;12:22;L;0.984252\n2026-12-03;18:35;H;6.5616798", { zone: "-04:00" }],
    ["at the offset of its head", "Time (UTC-4);Predicted (m)\n03/12/26 06:10;1,9\n03/12/26 12:22;0,3\n03/12/26 18:35;2,0", { order: "day first" }],
    ["without a head, date and time apart", "2026-12-03;06:10;1.9\n2026-12-03;12:22;0.3\n2026-12-03;18:35;2.0", { zone: HALIFAX, unit: "m" }],
  ] as const)("is read %s", (_how, text, choice) => {
    expect(read(text, choice)).toEqual({ waters: WATERS, faults: [], notes: [] });
  });

  it("gives the windows of its rows as it is read", () => {
    const { windows } = tideWindows(read("2026-12-03T06:10-04:00;1.9 m\n2026-12-03T12:22-04:00;0.3 m\n2026-12-03T18:35-04:00;2.0 m").waters, { workLevelM: "0.8", allowanceM: "0" }, { from: at("2026-12-03T04:00Z"), to: at("2026-12-04T04:00Z") });
    expect(windows).toHaveLength(1);
    expect(Math.abs((windows[0]?.from ?? 0) - at("2026-12-03T10:01:31-04:00"))).toBeLessThan(500);
  });

  it("is kept where days are missing in it, and that is said", () => {
    const { waters, notes } = read("2026-12-03T06:10Z;1.9 m\n2026-12-03T12:22Z;0.3 m\n2026-12-05T18:35Z;2.0 m");
    expect(waters).toHaveLength(3);
    expect(notes).toMatchObject([{ row: 3 }]);
  });

  it.each([
    ["a bare height without a unit", "2026-12-03T06:10Z;1.9\n2026-12-03T12:22Z;0.3", {}, [{ row: 1, column: 1, message: "1.9 what? Give m or ft.", asks: "unit" }]],
    ["a unit that is not the one of its head", "Time;Height (ft)\n2026-12-03T06:10Z;6\n2026-12-03T12:22Z;1", { unit: "m" }, [{ row: 1, asks: "unit" }]],
    ["local times without a zone", "2026-12-03 06:10;1.9 m\n2026-12-03 12:22;0.3 m", {}, [{ row: 1, column: 0, asks: "zone" }]],
    ["a time that comes twice", "2026-11-01 01:12;1.9 m\n2026-11-01 07:30;0.3 m", { zone: HALIFAX }, [{ row: 1, asks: "zone" }]],
    ["a time that is skipped", "2027-03-14 02:12;1.9 m\n2027-03-14 08:30;0.3 m", { zone: HALIFAX }, [{ row: 1, asks: "zone" }]],
    ["a height that is none", "2026-12-03T06:10Z;1e400 m\n2026-12-03T12:22Z;60 m", {}, [{ row: 1, column: 1 }, { row: 2, column: 1 }]],
    ["rows out of order", "2026-12-03T12:22Z;0.3 m\n2026-12-03T06:10Z;1.9 m", {}, [{ row: 2, column: 0 }]],
    ["a row missing between two high waters", "2026-12-03T06:10Z;1.9 m;high\n2026-12-03T18:35Z;2.0 m;high", {}, [{ row: 1, column: 2 }]],
    ["a row that is neither high nor low", "2026-12-03T06:10Z;1.9 m\n2026-12-03T12:22Z;1.1 m\n2026-12-03T18:35Z;0.3 m", {}, [{ row: 2, column: 1 }]],
    ["a turn that its height contradicts", "2026-12-03T06:10Z;1.9 m;low\n2026-12-03T12:22Z;0.3 m;low", {}, [{ row: 1, column: 2, message: "Row 1 says low, and its height is the higher one. Check the row." }]],
    ["a word that is no turn", "2026-12-03T06:10Z;1.9 m;slack\n2026-12-03T12:22Z;0.3 m;low", {}, [{ row: 1, column: 2 }]],
    ["one row", "2026-12-03T06:10Z;1.9 m", {}, [{ row: null }]],
    ["a head that says nothing", "When;What\n2026-12-03T06:10Z;1.9 m", {}, [{ row: 1, asks: "columns" }]],
    ["nothing", "", {}, [{ row: null, asks: "columns" }]],
  ] as const)("is not read with %s", (_what, text, choice, faults) => {
    const table = read(text, choice);
    expect(table.waters).toEqual([]);
    expect(table.faults).toMatchObject(faults);
    expect(table.faults).toHaveLength(faults.length);
  });

  it("is the inverse of writing it", () => {
    const rows = fc.array(fc.tuple(fc.integer({ min: 60, max: 1000 }), fc.integer({ min: 1, max: 900 })), { minLength: 2, maxLength: 40 });
    fc.assert(fc.property(rows, fc.boolean(), (steps, says) => {
      let when = at("2026-10-01T00:00Z");
      const waters = steps.map(([minutes, cm], i) => ({ at: (when += minutes * MINUTE), heightM: String((i % 2 ? -cm : cm) / 100), turn: i % 2 ? "low" : "high" }));
      const written = waters.map((one) => [siteTime(one.at, HALIFAX).iso, `${one.heightM} m`, ...(says ? [one.turn] : [])]);
      expect(readTideTable(written, NONE)).toEqual({ waters, faults: [], notes: [] });
    }));
  });
});
