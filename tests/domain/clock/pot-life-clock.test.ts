import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { potLifeClock, potLifeVerdict, type MixedBatch } from "#lib/domain/clock/pot-life-clock";
import { potLifeMinutes } from "#lib/domain/estimate/pot-life";
import { MINUTE, SECOND } from "#lib/domain/instant";

const MIXED = Date.parse("2026-12-03T13:04:00Z");
const halving = (celsius: number) => potLifeMinutes({ kind: "doubling", referenceC: "25", minutes: "30", factor: "2" }, celsius);
const batch: MixedBatch = { mixedAt: MIXED, temperaturesC: [15], life: halving };
const wrap = (minutes: number | null, line = "15") => ({ line, endedAt: minutes === null ? null : MIXED + minutes * MINUTE });

describe("the pot life of a batch", () => {
  it("ends 60 min after mixing at 15 °C where it is 30 min at 25 °C and doubles for each 10 °C less", () => {
    expect(potLifeClock(batch)).toEqual({ latest: MIXED + 60 * MINUTE, minutes: 60, because: null });
  });

  it("is the one of the warmest reading", () => {
    expect(potLifeClock({ ...batch, temperaturesC: [15, 25, 20] }).latest).toBe(MIXED + 30 * MINUTE);
  });

  it("is a plain number of minutes where the caller gives one, whatever was read", () => {
    expect(potLifeClock({ mixedAt: MIXED, temperaturesC: [], life: 42.3 }).latest).toBe(MIXED + 42.3 * MINUTE);
  });

  it.each([
    ["nobody wrote when it was mixed", { ...batch, mixedAt: null }, "nobody wrote when the mixing ended"],
    ["nobody read its temperature", { ...batch, temperaturesC: [] }, "no temperature of the batch was read"],
    ["the data sheet does not reach so far", { ...batch, life: () => null }, "the data sheet says no pot life at 15 °C"],
  ])("cannot be told where %s", (_why, unclear, because) => {
    expect(potLifeClock(unclear)).toEqual({ latest: null, minutes: null, because });
    expect(potLifeVerdict(unclear, [wrap(10)])).toEqual({ verdict: "cannot tell", because });
  });

  it.each([0, -5, Number.POSITIVE_INFINITY, Number.NaN])("is refused as %d minutes", (life) => {
    expect(() => potLifeClock({ ...batch, life })).toThrow(RangeError);
  });

  it("is never longer for a warmer reading more", () => {
    fc.assert(fc.property(fc.array(fc.integer({ min: 0, max: 45 }), { minLength: 1, maxLength: 6 }), fc.integer({ min: 0, max: 45 }), (temperaturesC, more) => {
      const [before, after] = [temperaturesC, [...temperaturesC, more]].map((all) => potLifeClock({ ...batch, temperaturesC: all }).latest ?? Number.NaN);
      expect(after).toBeLessThanOrEqual(before ?? Number.NaN);
    }));
  });
});

describe("the work with a batch", () => {
  it("is in time up to the very end of the pot life, over wrap and ties together", () => {
    expect(potLifeVerdict(batch, [wrap(48), wrap(60, "16")])).toEqual({ verdict: "in time", leftMinutes: 0 });
  });

  it("is past the pot life by 9.5 min where the ties were set 69.5 min after mixing, though the wrap was in time", () => {
    expect(potLifeVerdict(batch, [wrap(48), wrap(69.5, "16")])).toEqual({ verdict: "past pot life", overMinutes: 9.5, line: "16" });
  });

  it("is past it by a second, and never rounded to the limit", () => {
    expect(potLifeVerdict(batch, [{ line: "15", endedAt: MIXED + 60 * MINUTE + SECOND }])).toMatchObject({ verdict: "past pot life", overMinutes: 1 / 60 });
  });

  it.each([
    ["one of its ends is missing", [wrap(48), wrap(null, "16")], "point 16 has no time for the end of its work"],
    ["it ended before the batch was mixed", [wrap(-1)], "the work at point 15 ended before the batch was mixed"],
    ["there is none", [], "no work with the batch is on record"],
  ])("cannot be told where %s", (_why, work, because) => {
    expect(potLifeVerdict(batch, work)).toEqual({ verdict: "cannot tell", because });
  });

  it("is past it where one end is past, also when another is missing", () => {
    expect(potLifeVerdict(batch, [wrap(null), wrap(61, "16")])).toMatchObject({ verdict: "past pot life", line: "16" });
  });
});
