import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { nextTideWindow, tideHeight, tideWindows, type Water } from "#lib/domain/clock/tide";
import { HOUR, MINUTE, SECOND } from "#lib/domain/instant";

const at = (iso: string) => Date.parse(`${iso}-04:00`);
const water = (iso: string, heightM: string, turn: Water["turn"]): Water => ({ at: at(iso), heightM, turn });
const high1 = water("2026-12-03T06:10", "1.9", "high");
const low = water("2026-12-03T12:22", "0.3", "low");
const high2 = water("2026-12-03T18:35", "2.0", "high");
const table = [high1, low, high2];
const level = { workLevelM: "0.8", allowanceM: "0" };
const day = { from: at("2026-12-03T00:00"), to: at("2026-12-04T00:00") };

describe("the height of the water", () => {
  it("is what the table says at its rows, and the mean half way between them", () => {
    expect(tideHeight(table, high1.at)).toEqual({ heightM: 1.9, because: null });
    expect(tideHeight(table, low.at).heightM).toBeCloseTo(0.3, 12);
    expect(tideHeight(table, (high1.at + low.at) / 2).heightM).toBeCloseTo(1.1, 12);
  });

  it("follows the cosine between rows: a quarter of the way down it has fallen by 14.6 % of the range", () => {
    expect(tideHeight(table, high1.at + (low.at - high1.at) / 4).heightM).toBeCloseTo(1.9 - 1.6 * (1 - Math.SQRT1_2) / 2, 12);
  });

  it.each([
    ["before the table", table, at("2026-12-03T06:09"), "the tide table begins later"],
    ["after it", table, at("2026-12-03T18:36"), "the tide table ends before"],
    ["in a table of one row", [low], low.at, "the tide table has fewer than two rows"],
    ["where a low water is missing", [high1, high2], low.at, "the tide table has two high waters one after the other"],
    ["where days are missing", [high1, { ...low, at: low.at + 24 * HOUR }], low.at, "rows are missing in the tide table"],
    ["where a high water is the lower one", [{ ...high1, heightM: "0.1" }, low], low.at - HOUR, "a high water of the tide table is lower than the low water beside it"],
    ["where two rows share an instant", [{ ...low, at: low.at, turn: "high" as const }, low], low.at, "the tide table says two things for one instant"],
  ])("cannot be told %s", (_where, waters, when, because) => {
    expect(tideHeight(waters, when)).toEqual({ heightM: null, because });
  });

  it("is known across two tables that share a row", () => {
    expect(tideHeight([...table, low], low.at + HOUR)).toEqual(tideHeight(table, low.at + HOUR));
  });

  it("refuses a height that is no number", () => {
    expect(() => tideHeight([{ ...high1, heightM: "1e400" }, { ...low, heightM: Number.NaN }], low.at)).toThrow(RangeError);
  });
});

describe("the windows of a tide", () => {
  it("run from 10:01:31 to 14:38:07 for high 1.9, low 0.3, high 2.0 and a working level of 0.8 m", () => {
    const { windows } = tideWindows(table, level, day);

    expect(windows).toHaveLength(1);
    const toTheSecond = windows.map(({ from, to }) => [from, to].map((instant) => Math.round(instant / SECOND) * SECOND));
    expect(toTheSecond).toEqual([[at("2026-12-03T10:01:31"), at("2026-12-03T14:38:07")]]);
    expect(windows[0]).toMatchObject({ opens: "tide", closes: "tide" });
    expect(((windows[0]?.to ?? 0) - (windows[0]?.from ?? 0)) / HOUR).toBeCloseTo(4 + 36.6 / 60, 3);
  });

  it("are shorter by an allowance, as if the working level were that much lower", () => {
    const lowered = tideWindows(table, { workLevelM: "0.8", allowanceM: "0.2" }, day).windows;
    expect(lowered).toEqual(tideWindows(table, { workLevelM: 0.6, allowanceM: 0 }, day).windows);
    expect(lowered[0]?.from).toBeGreaterThan(at("2026-12-03T10:01:31"));
  });

  it("name the table where it ends while the water is low, and say what is not known", () => {
    const { windows, unknown } = tideWindows([high1, low], level, day);
    expect(windows).toMatchObject([{ to: low.at, opens: "tide", closes: "table" }]);
    expect(unknown).toEqual([
      { from: day.from, to: high1.at, because: "the tide table begins later" },
      { from: low.at, to: day.to, because: "the tide table ends before" },
    ]);
  });

  it("end at a hole in the table and begin again after it", () => {
    const later = [water("2026-12-04T12:50", "0.2", "low"), water("2026-12-04T19:05", "1.9", "high")];
    const { windows, unknown } = tideWindows([high1, low, ...later], level, { from: day.from, to: at("2026-12-04T19:05") });
    expect(windows).toMatchObject([{ to: low.at, closes: "table" }, { from: later[0]?.at, opens: "table", closes: "tide" }]);
    expect(unknown.at(-1)).toMatchObject({ from: low.at, to: later[0]?.at });
  });

  it("are one all day where even high water is under the level, and none where low water is over it", () => {
    expect(tideWindows(table, { workLevelM: 2, allowanceM: 0 }, day).windows).toMatchObject([{ from: high1.at, to: high2.at, opens: "table", closes: "table" }]);
    expect(tideWindows(table, { workLevelM: "0.3", allowanceM: 0 }, day).windows).toEqual([]);
  });

  it("refuse an allowance under nothing and a level that is no number", () => {
    expect(() => tideWindows(table, { workLevelM: 1, allowanceM: "-0.1" }, day)).toThrow(RangeError);
    expect(() => tideWindows(table, { workLevelM: Number.POSITIVE_INFINITY, allowanceM: 0 }, day)).toThrow(RangeError);
  });

  const tides = fc.array(fc.tuple(fc.integer({ min: 60, max: 600 }), fc.integer({ min: 0, max: 300 })), { minLength: 2, maxLength: 30 }).map((steps) => {
    let when = at("2026-12-01T00:00");
    return steps.map(([minutes, cm], i): Water => ({ at: (when += minutes * MINUTE), heightM: i % 2 ? -cm / 100 : cm / 100, turn: i % 2 ? "low" : "high" }));
  });

  it("are apart and ascending, and hold exactly the instants at which the water is low enough", () => {
    fc.assert(fc.property(tides, fc.integer({ min: -250, max: 250 }), fc.double({ min: 0, max: 1, noNaN: true }), (waters, cm, share) => {
      const span = { from: waters[0]?.at ?? 0, to: waters.at(-1)?.at ?? 0 };
      const { windows, unknown } = tideWindows(waters, { workLevelM: cm / 100, allowanceM: 0 }, span);
      expect(unknown).toEqual([]);
      windows.forEach((window, i) => {
        expect(window.from).toBeGreaterThan(windows[i - 1]?.to ?? Number.NEGATIVE_INFINITY);
        expect(window.to).toBeGreaterThan(window.from);
      });
      const when = Math.round(span.from + share * (span.to - span.from));
      const heightM = tideHeight(waters, when).heightM ?? Number.NaN;
      if (Math.abs(heightM - cm / 100) > 1e-6) expect(windows.some(({ from, to }) => from <= when && when <= to)).toBe(heightM < cm / 100);
    }));
  });
});

describe("the next window", () => {
  it("is the one an instant lies in, else the one after it", () => {
    const [only] = tideWindows(table, level, day).windows;
    for (const when of [high1.at, low.at, (only?.to ?? 0) - 1]) expect(nextTideWindow(table, level, when)).toEqual({ window: only, because: null });
  });

  it("cannot be told where the table ends, has not begun, or has a hole on the way", () => {
    const later = [water("2026-12-05T12:50", "0.2", "low"), water("2026-12-05T19:05", "1.9", "high")];
    expect(nextTideWindow(table, level, high2.at - HOUR)).toEqual({ window: null, because: "the tide table ends before" });
    expect(nextTideWindow(table, level, high1.at - 1)).toEqual({ window: null, because: "the tide table begins later" });
    expect(nextTideWindow([...table, ...later], level, high2.at - HOUR)).toEqual({ window: null, because: "rows are missing in the tide table" });
    expect(nextTideWindow([...table, ...later], level, low.at).window?.closes).toBe("tide");
    expect(nextTideWindow([], level, low.at)).toEqual({ window: null, because: "the tide table has fewer than two rows" });
  });
});
