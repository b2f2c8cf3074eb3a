import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { timeScale } from "../../app/_ui/sequence-layout";
import { detailSpans, isDrawn, isSeen, viewSpans, wordPlace } from "../../app/_ui/sequence-span";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const noon = Date.parse("2026-12-02T12:00:00-04:00");

describe("a view of the time axis", () => {
  const week = { from: noon - 84 * HOUR, to: noon + 84 * HOUR };

  it("is drawn whole when it is short, whatever happens in it", () => {
    const day = { from: noon - 12 * HOUR, to: noon + 12 * HOUR };
    expect(viewSpans([noon - 11 * HOUR, noon + 11 * HOUR], day)).toEqual([day]);
  });

  it("is drawn whole when nothing happens in it", () => {
    expect(viewSpans([noon - 900 * HOUR], week)).toEqual([week]);
  });

  it("is cut where nothing happens for long, and nowhere inside a cure that runs", () => {
    const instants = [noon - 80 * HOUR, noon, noon + 30 * HOUR];
    expect(viewSpans(instants, week)).toHaveLength(3);
    expect(viewSpans(instants, week, [{ from: noon, to: noon + 30 * HOUR }])).toHaveLength(2);
  });

  it("draws nothing outside what was asked for", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -400, max: 400 }), { maxLength: 30 }), fc.integer({ min: 1, max: 300 }), (hours, long) => {
        const view = { from: noon, to: noon + long * HOUR };
        const spans = viewSpans(hours.map((hour) => noon + hour * HOUR), view);
        expect(spans.every(({ from, to }) => from >= view.from && to <= view.to && from < to)).toBe(true);
        expect([...spans].sort((a, b) => a.from - b.from)).toEqual(spans);
      }),
    );
  });
});

describe("the axis of a detail", () => {
  it("cuts out the silence between a window that opened long before and the photos in it", () => {
    const photos = [0, 4, 9, 15].map((minutes) => noon + minutes * MINUTE);
    const spans = detailSpans([noon - 20 * HOUR, ...photos]);
    expect(spans).toHaveLength(2);
    expect(photos.every((at) => at > spans[1]!.from && at < spans[1]!.to)).toBe(true);
  });

  it("stays whole where the photos are spread over the window", () => {
    expect(detailSpans([0, 10, 20, 30].map((minutes) => noon + minutes * MINUTE))).toHaveLength(1);
  });

  it("has room around a single instant", () => {
    const [only] = detailSpans([noon]);
    expect(only!.to - only!.from).toBeGreaterThan(MINUTE);
  });

  it("draws every instant that it was made for, with three breaks at most", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 9_000 * MINUTE }), { minLength: 1, maxLength: 30 }), (offsets) => {
        const instants = offsets.map((offset) => noon + offset);
        const scale = timeScale(detailSpans(instants));
        expect(instants.every((at) => isDrawn(scale, at))).toBe(true);
        expect(scale.breaks.length).toBeLessThanOrEqual(3);
      }),
    );
  });
});

describe("what lies in a break", () => {
  const scale = timeScale([{ from: noon, to: noon + HOUR }, { from: noon + 50 * HOUR, to: noon + 51 * HOUR }]);

  it("is not drawn, and neither is what lies beyond the ends", () => {
    expect([-1, 0.5, 25, 50.5, 60].map((hours) => isDrawn(scale, noon + hours * HOUR))).toEqual([false, true, false, true, false]);
  });

  it("is seen as far as it reaches into a stretch that is drawn", () => {
    expect(isSeen(scale, { from: noon + 2 * HOUR, to: noon + 49 * HOUR })).toBe(false);
    expect(isSeen(scale, { from: noon + 2 * HOUR, to: noon + 50.1 * HOUR })).toBe(true);
    expect(isSeen(scale, { from: noon - 99 * HOUR, to: noon + 99 * HOUR })).toBe(true);
  });
});

describe("a word about a mark", () => {
  const scale = timeScale([{ from: noon, to: noon + 10 * HOUR }]);

  it.each([
    { what: "after it", at: 0.2, marks: [], place: { left: 0.2, shift: 8, anchor: "start" } },
    { what: "before it at the right edge", at: 0.98, marks: [], place: { left: 0.98, shift: -8, anchor: "end" } },
    { what: "before it where the next mark is near", at: 0.5, marks: [0.52], place: { left: 0.5, shift: -8, anchor: "end" } },
    { what: "nowhere between two near marks", at: 0.5, marks: [0.47, 0.52], place: null },
  ])("stands $what", ({ at, marks, place }) => {
    expect(wordPlace(scale, at, marks, 60, 820)).toEqual(place);
  });
});
