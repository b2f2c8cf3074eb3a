import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { busySpans, clipped, dayLabels, hourLabels, longestPart, minuteLabels, raiseLabels, siteHours, timeScale } from "../../app/_ui/sequence-layout";

const HOUR = 3_600_000;
const at = (text: string) => Date.parse(text);
const wednesday = at("2026-11-25T10:00:00-04:00");

describe("the time axis", () => {
  it("stays whole over a night and breaks where nothing happens for longer", () => {
    expect(busySpans([wednesday, wednesday + 8 * HOUR])).toHaveLength(1);
    expect(busySpans([wednesday, wednesday + 30 * HOUR])).toHaveLength(2);
  });

  it("does not cut the cure that runs now", () => {
    const cure = { from: wednesday, to: wednesday + 40 * HOUR };
    expect(busySpans([wednesday, cure.to, wednesday + 12 * HOUR], [cure])).toHaveLength(1);
    expect(busySpans([wednesday, cure.to, wednesday + 12 * HOUR])).toHaveLength(3);
  });

  it("breaks twelve stretches at most, by joining the nearest ones", () => {
    const days = Array.from({ length: 40 }, (_, day) => wednesday + day * 24 * HOUR);
    const weeks = Array.from({ length: 5 }, (_, week) => days[0]! + week * 30 * 24 * HOUR);
    expect(busySpans(days).length).toBeLessThanOrEqual(12);
    expect(busySpans(weeks)).toHaveLength(5);
  });

  it("places every instant it was made for inside a segment and keeps their order", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 2_000 * HOUR }), { minLength: 1, maxLength: 40 }), (offsets) => {
        const instants = offsets.map((offset) => wednesday + offset).sort((a, b) => a - b);
        const scale = timeScale(busySpans(instants));
        const places = instants.map(scale.place);
        expect(places.every((place) => scale.segments.some(({ left, right }) => place > left && place < right))).toBe(true);
        expect([...places].sort((a, b) => a - b)).toEqual(places);
        expect(scale.segments.at(-1)!.right).toBeCloseTo(1, 9);
      }),
    );
  });

  it("is on one scale: an hour is as wide in every segment", () => {
    const scale = timeScale(busySpans([wednesday, wednesday + 5 * HOUR, wednesday + 100 * HOUR, wednesday + 103 * HOUR]));
    const widths = scale.segments.map(({ from, to, left, right }) => ((right - left) * HOUR) / (to - from));
    expect(widths).toHaveLength(2);
    for (const width of widths) expect(width).toBeCloseTo(scale.hour, 12);
  });

  it("puts an instant of a silent stretch into its break, and what lies beyond the chart at its edge", () => {
    const scale = timeScale(busySpans([wednesday, wednesday + 100 * HOUR]));
    const silent = scale.place(wednesday + 50 * HOUR);
    expect(silent).toBeGreaterThan(scale.breaks[0]!.left);
    expect(silent).toBeLessThan(scale.breaks[0]!.right);
    expect(scale.place(wednesday - 99 * HOUR)).toBe(0);
    expect(scale.place(wednesday + 999 * HOUR)).toBe(1);
  });

  it("draws of a band only what lies on the axis", () => {
    const scale = timeScale([{ from: wednesday, to: wednesday + 10 * HOUR }]);
    expect(clipped(scale, { from: wednesday - HOUR, to: wednesday + 5 * HOUR })).toEqual({ left: 0, width: 0.5 });
    expect(clipped(scale, { from: wednesday + 11 * HOUR, to: wednesday + 12 * HOUR })).toBeNull();
  });

  it("finds the longest stretch between breaks for a word", () => {
    const scale = timeScale([{ from: wednesday, to: wednesday + 2 * HOUR }, { from: wednesday + 20 * HOUR, to: wednesday + 26 * HOUR }]);
    const part = longestPart(scale, { from: wednesday, to: wednesday + 26 * HOUR });
    expect(part.left).toBe(scale.segments[1]!.left);
    expect(part.width).toBeCloseTo(6 * scale.hour, 9);
  });
});

describe("the labels of the axis", () => {
  it("names the hours of the site's wall clock, wherever the machine stands", () => {
    const hours = siteHours(timeScale([{ from: wednesday, to: wednesday + 3 * HOUR }]), "America/Halifax");
    expect(hours.map(({ hour }) => hour)).toEqual([10, 11, 12, 13]);
    expect(hours[0]).toMatchObject({ weekday: "Wed", day: "25", month: "Nov", opensSegment: true });
  });

  it("repeats the hour that a clock change repeats and skips the one it skips", () => {
    const over = (from: string, hours: number) => siteHours(timeScale([{ from: at(from), to: at(from) + hours * HOUR }]), "America/Halifax").map(({ hour }) => hour);
    expect(over("2026-11-01T00:00:00-03:00", 4)).toEqual([0, 1, 1, 2, 3]);
    expect(over("2027-03-14T00:00:00-04:00", 3)).toEqual([0, 1, 3, 4]);
  });

  it("finds the full hours of a zone that is not a whole number of hours from UTC", () => {
    const from = at("2026-11-25T10:20:00+05:45");
    expect(siteHours(timeScale([{ from, to: from + 2 * HOUR }]), "Asia/Kathmandu").map((hour) => hour.at - from)).toEqual([40 * 60_000, 100 * 60_000]);
  });

  it.each([360, 820, 1400])("keeps hours and days clear of each other at %i px", (width) => {
    const scale = timeScale(busySpans(Array.from({ length: 9 }, (_, day) => wednesday + day * 31 * HOUR)));
    const hours = siteHours(scale, "America/Halifax");
    const gaps = (labels: { left: number }[]) => labels.slice(1).map(({ left }, position) => (left - labels[position]!.left) * width);
    expect(Math.min(...gaps(hourLabels(hours, scale, width)))).toBeGreaterThanOrEqual(30);
    const days = dayLabels(hours, width);
    expect(days.length).toBeGreaterThan(3);
    gaps(days).forEach((gap, position) => expect(gap).toBeGreaterThanOrEqual(days[position]!.text.length * 6.6));
  });

  it("labels a short scale at full steps of the wall clock", () => {
    const from = at("2026-12-03T11:31:20-04:00");
    const labels = minuteLabels(timeScale([{ from, to: from + 32 * 60_000 }]), "America/Halifax", 300);
    expect(labels.map(({ text }) => text)).toEqual(["11:40", "11:50", "12:00"]);
  });

  it("raises a label that would run into another, the one at the edge above the one it would cover", () => {
    const raised = raiseLabels([{ left: 0.9, text: "now 12:00" }, { left: 0.99, text: "strip from 23:20" }, { left: 0.3, text: "cover-up 09:05" }], 820);
    expect(raised.map(({ text, tier, anchor }) => [text, tier, anchor])).toEqual([
      ["cover-up 09:05", 0, "middle"],
      ["now 12:00", 0, "middle"],
      ["strip from 23:20", 1, "end"],
    ]);
  });

  it("puts a label above every line that would strike it through", () => {
    const raised = raiseLabels([{ left: 0.88, text: "11 by 15:35" }, { left: 0.97, text: "11 by Mon 7 09:05" }], 820);
    expect(raised.map(({ text, tier }) => [text, tier])).toEqual([["11 by 15:35", 0], ["11 by Mon 7 09:05", 1]]);
  });

  it("labels both sides of a break, each at full steps of the wall clock", () => {
    const from = at("2026-12-03T09:00:00-04:00");
    const scale = timeScale([{ from, to: from + HOUR }, { from: from + 30 * HOUR, to: from + 31 * HOUR }]);
    expect(minuteLabels(scale, "America/Halifax", 400).map(({ text }) => text)).toEqual(["09:30", "10:00", "15:30"]);
  });
});
