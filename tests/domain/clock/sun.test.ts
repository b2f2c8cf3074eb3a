import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { HOUR, MINUTE } from "#lib/domain/instant";
import { nightSpans } from "#lib/domain/clock/sun";

// Sunrise and sunset as published. The first three: NREL/TP-560-34302 (Reda and Andreas, 2008), to the second, UTC; the others: tables
// of the US Naval Observatory, printed to the minute, at −07:00.
const PUBLISHED = [
  { place: { latitude: -35, longitude: 0 }, sunrise: "1996-07-05T07:08:15Z", sunset: "1996-07-05T17:01:04Z" },
  { place: { latitude: -35, longitude: 0 }, sunrise: "2004-12-04T04:38:57Z", sunset: "2004-12-04T19:02:02Z" },
  { place: { latitude: 35, longitude: 0 }, sunrise: "1994-01-02T07:08:12Z", sunset: "1994-01-02T16:59:55Z" },
  { place: { latitude: 39, longitude: -105 }, sunrise: "2015-01-02T07:19:00-07:00", sunset: "2015-01-02T16:49:00-07:00" },
  { place: { latitude: 39, longitude: -105 }, sunrise: "2015-04-02T05:43:00-07:00", sunset: "2015-04-02T18:24:00-07:00" },
  { place: { latitude: 39, longitude: -105 }, sunrise: "2015-08-02T05:01:00-07:00", sunset: "2015-08-02T19:10:00-07:00" },
  { place: { latitude: 39, longitude: -105 }, sunrise: "2015-12-02T07:01:00-07:00", sunset: "2015-12-02T16:38:00-07:00" },
];
const DAY = 24 * HOUR;
const site = { latitude: 44, longitude: -63.5 };
const at = (text: string): number => Date.parse(text);

describe("nights", () => {
  it.each(PUBLISHED)("end and begin within a minute of the published times: $sunrise", ({ place, sunrise, sunset }) => {
    const noon = (at(sunrise) + at(sunset)) / 2;
    const [before, after] = nightSpans(noon - DAY / 2, noon + DAY / 2, place);
    expect(Math.abs(before!.to - at(sunrise))).toBeLessThanOrEqual(MINUTE); // tables are rounded to the minute
    expect(Math.abs(after!.from - at(sunset))).toBeLessThanOrEqual(MINUTE);
  });

  it("are cut to the span that was asked for", () => {
    const [from, to] = [at("2026-12-02T22:00:00-04:00"), at("2026-12-03T03:00:00-04:00")];
    expect(nightSpans(from, to, site)).toEqual([{ from, to }]);
    expect(nightSpans(at("2026-12-03T10:00:00-04:00"), at("2026-12-03T14:00:00-04:00"), site)).toEqual([]);
    expect(nightSpans(from, from, site)).toEqual([]);
  });

  it("number one a day, past a change of clocks too", () => {
    expect(nightSpans(at("2026-10-30T12:00:00-03:00"), at("2026-11-03T12:00:00-04:00"), site)).toHaveLength(4);
  });

  it.each([
    { what: "last as long as the span where the sun does not rise", latitude: 78, month: "12", nights: 1 },
    { what: "are none where the sun does not set", latitude: 78, month: "06", nights: 0 },
    { what: "last half a year at the pole", latitude: 90, month: "12", nights: 1 },
    { what: "are none for half a year at the pole", latitude: -90, month: "12", nights: 0 },
  ])("$what", ({ latitude, month, nights }) => {
    const span = { from: at(`2026-${month}-10T00:00:00Z`), to: at(`2026-${month}-20T00:00:00Z`) };
    expect(nightSpans(span.from, span.to, { latitude, longitude: 15 })).toEqual(nights === 1 ? [span] : []);
  });

  it("begin once, in autumn, where the sun sets for the winter", () => {
    const spans = nightSpans(at("2026-10-01T00:00:00Z"), at("2026-12-20T00:00:00Z"), { latitude: 78, longitude: 15 });
    const last = spans.at(-1)!;
    expect(last.to).toBe(at("2026-12-20T00:00:00Z"));
    expect((last.to - last.from) / DAY).toBeGreaterThan(40);
    expect((last.to - last.from) / DAY).toBeLessThan(65);
  });

  it("stand apart, in order and inside the span, anywhere on the globe", () => {
    const span = fc.record({ from: fc.integer({ min: at("2020-01-01T00:00:00Z"), max: at("2035-01-01T00:00:00Z") }), hours: fc.integer({ min: 0, max: 100 }) });
    fc.assert(
      fc.property(span, fc.double({ min: -90, max: 90, noNaN: true }), fc.double({ min: -180, max: 180, noNaN: true }), ({ from, hours }, latitude, longitude) => {
        const to = from + hours * HOUR;
        const edges = nightSpans(from, to, { latitude, longitude }).flatMap((night) => [night.from, night.to]);
        expect(edges).toEqual([...edges].sort((a, b) => a - b));
        expect(edges.every((edge) => edge >= from && edge <= to)).toBe(true);
      }),
      { numRuns: 40 },
    );
  });

  it("refuse a place off the globe and a time that is none", () => {
    expect(() => nightSpans(0, 1, { latitude: 91, longitude: 0 })).toThrow(RangeError);
    expect(() => nightSpans(0, 1, { latitude: 0, longitude: Number.NaN })).toThrow(RangeError);
    expect(() => nightSpans(0, Number.NaN, site)).toThrow(RangeError);
    expect(() => nightSpans(1, 0, site)).toThrow(RangeError);
  });
});
