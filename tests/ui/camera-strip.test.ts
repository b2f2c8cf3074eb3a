import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { HOUR, SECOND, type Instant } from "#lib/domain/instant";
import type { CameraStrip, StripRun } from "#lib/services/camera-strip";
import { CameraStripDrawing } from "../../app/p/[project]/cameras/camera-strip";
import { heightScale, stripScale } from "../../app/p/[project]/cameras/strip-layout";

const ZONE = "America/Halifax";
const FROM = Date.parse("2026-12-01T12:00:00Z");

function run(rests: readonly number[], from: Instant = FROM): StripRun {
  const marks = rests.map((restSeconds, turn) => ({ at: from + turn * HOUR, restSeconds, goodToSeconds: 2, source: "GPS time" as const }));
  return { from, to: from + (rests.length - 1) * HOUR, zone: "−03:00", onSiteTime: false, firm: true, medianSeconds: rests[0] ?? 0, drift: null, marks };
}
const strip = (parts: Partial<CameraStrip>): CameraStrip => ({ from: FROM, to: FROM + 48 * HOUR, runs: [run([50, 51, 49])], dropped: [], confirmedAt: null, ...parts });
const drawn = (parts: Partial<CameraStrip>) => renderToStaticMarkup(createElement(CameraStripDrawing, { strip: strip(parts), finding: "ran 50 s fast", zone: ZONE }));

describe("the strip of a camera", () => {
  it("is named by its finding, and says how far the clock was off and that its zone is not the site's", () => {
    const html = drawn({});
    expect(html).toContain('role="img" aria-label="ran 50 s fast"');
    expect(html).toContain(">50 s fast</text>");
    expect(html).toContain("set to −03:00, not the site&#x27;s");
  });

  it("keeps what was dropped on the paper, struck, with the reason of the first two", () => {
    const off = (restSeconds: number) => ({ at: FROM + HOUR, restSeconds, goodToSeconds: 0, source: "GPS time" as const, why: "540 s off the median of its neighbours, camera less true time -10200 s" });
    const html = drawn({ dropped: [off(540), off(-540), off(600)] });
    expect(html.match(/#g-slash-bold/g)).toHaveLength(3);
    expect(html.match(/dropped: 540 s off the median of its neighbours</g)).toHaveLength(2);
    expect(html).not.toMatch(/NaN|Infinity/);
  });

  it("draws a stroke for GPS time, a foot for the clock page and a ring for a phone", () => {
    const [gps, page, phone] = run([50, 50, 50]).marks;
    const html = drawn({ runs: [{ ...run([50]), marks: [gps!, { ...page!, source: "clock page" }, { ...phone!, source: "phone clock" }] }] });
    expect([html.includes("M0 -6V6"), html.includes("M0 -11V9M-5 9H5"), html.includes("<circle")]).toEqual([true, true, true]);
  });
});

describe("the axes of the strip", () => {
  it("always hold on time and every reference, whatever the clock", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -450, max: 450, noNaN: true }), { minLength: 1, maxLength: 40 }), (rests) => {
        const { low, high, lines } = heightScale({ runs: [run(rests)] });
        expect(low).toBeLessThan(Math.min(0, ...rests));
        expect(high).toBeGreaterThan(Math.max(0, ...rests));
        expect(lines).toContain(0);
        expect(lines.length).toBeLessThanOrEqual(6);
        expect(lines.every((line) => line >= low && line <= high)).toBe(true);
      }),
    );
  });

  it("run from left to right with few labels, over a minute as over two years", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2 * 365 * 24 * 3600 }), (seconds) => {
        const { place, ticks } = stripScale({ from: FROM, to: FROM + seconds * SECOND }, ZONE);
        expect(place(FROM)).toBeLessThanOrEqual(place(FROM + seconds * SECOND));
        expect(place(FROM + seconds * SECOND)).toBeLessThan(0.955);
        expect(ticks.length).toBeGreaterThan(0);
        expect(ticks.length).toBeLessThanOrEqual(8);
        expect(new Set(ticks.map(({ text }) => text)).size).toBe(ticks.length);
      }),
    );
  });

  it("names days of the site, also when its clocks change between them", () => {
    expect(stripScale({ from: Date.parse("2026-10-30T15:00:00Z"), to: Date.parse("2026-11-03T15:00:00Z") }, ZONE).ticks.map(({ text }) => text)).toEqual(["31 Oct", "1 Nov", "2 Nov", "3 Nov"]);
  });
});
