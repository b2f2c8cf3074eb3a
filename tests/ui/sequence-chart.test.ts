import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { SequenceChart, type SequenceChartProps, type SequencePhoto, type SequenceRow } from "../../app/_ui/sequence-chart";
import { PhotoWindowDetail, type WindowPhoto } from "../../app/_ui/photo-window";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const from = Date.parse("2026-12-03T10:00:00-04:00");

const photo = (parts: Partial<SequencePhoto> = {}): SequencePhoto => ({ label: "ring 1", readings: [from + MINUTE], uncertaintyMs: 2_000, verdict: "in order", ...parts });

const row = (parts: Partial<SequenceRow> = {}): SequenceRow => ({
  line: "10", kind: "W", name: "Spacers", state: "released", applicable: true, note: null, bars: [{ from, to: from + HOUR, type: "work" }],
  windows: [{ from: from - 10 * MINUTE, to: from + 2 * HOUR }], releases: [{ at: from + 90 * MINUTE, kind: "released" }], photos: [photo()], early: [], ...parts,
});

function chart(parts: Partial<SequenceChartProps> = {}): string {
  return renderToStaticMarkup(createElement(SequenceChart, {
    rows: [row()], bands: [], now: from + 3 * HOUR, coverUpAt: null, limits: [], zone: "America/Halifax", finding: "One photo of point 10 is too early.", ...parts,
  }));
}

/** The drawing alone, without the table that says the same in words. */
const drawing = (html: string): string => /<svg class="drawing fluid sequence-field".*?<\/svg>(?=<ol class="sequence-ends"|<\/div><details)/s.exec(html)![0];

describe("the sequence chart", () => {
  it("tells its finding as its name and its rows again as a table, with the same times", () => {
    const html = chart({ rows: [row({ photos: [photo({ verdict: "too early" })], bars: [{ from, to: from + HOUR, type: "work" }, { from: from + HOUR, to: from + 25 * HOUR, type: "max-wait", label: "to cover-up, at most 24 h" }] })] });
    expect(html).toContain('role="img" aria-label="One photo of point 10 is too early."');
    for (const words of [
      "began Thu 3 Dec 2026, 10:00 −04:00, ended 11:00",
      "released Thu 3 Dec 2026, 11:30 −04:00",
      "Thu 3 Dec 2026, 09:50 −04:00 to 12:00",
      "ring 1: Thu 3 Dec 2026, 10:01:00 −04:00 ± 2 s, too early",
      "to cover-up, at most 24 h, Thu 3 Dec 2026, 11:00 −04:00 to Fri 4 Dec 2026, 11:00 −04:00",
    ]) expect(html).toContain(words);
  });

  it.each([
    ["too early", "v-early"], ["too late", "v-late"], ["cannot tell", "v-tell"], ["clock in doubt", "v-clock-doubt"],
  ] as const)("draws a photo that is %s by its own shape and says its word", (verdict, symbol) => {
    const html = drawing(chart({ rows: [row({ photos: [photo({ verdict })] })] }));
    expect(html).toContain(`href="#${symbol}"`);
    expect(html).toMatch(new RegExp(`<text class="halo photo-word[^>]*>${verdict}</text>`));
  });

  it("draws a photo in order as a tick, without a word", () => {
    const html = drawing(chart());
    expect(html).not.toContain("#v-");
    expect(html.match(/class="tick hand-ink"/g)).toHaveLength(1);
  });

  it("draws the whisker of a photo where it is wide enough to be seen", () => {
    const whisker = (uncertaintyMs: number) => /<g class="tick hand-ink">.*?<\/g>/s.exec(drawing(chart({ rows: [row({ photos: [photo({ uncertaintyMs })] })] })))![0].match(/<line/g)!.length;
    expect(whisker(1_000)).toBe(1);
    expect(whisker(10 * MINUTE)).toBe(2);
  });

  it("draws a photo of which several times are possible as a broken span over all of them", () => {
    const readings = [from + 30 * MINUTE, from + 90 * MINUTE];
    const html = chart({ rows: [row({ photos: [photo({ readings, verdict: "cannot tell" })] })] });
    expect(drawing(html)).toMatch(/<g class="tick hand-doubt"><line class="dash"/);
    expect(html).toContain("10:30:00 −04:00 or Thu 3 Dec 2026, 11:30:00 −04:00 ± 2 s, cannot tell");
  });

  it("lists a photo without a time at the end of its row and in the table", () => {
    const html = chart({ rows: [row({ photos: [photo({ readings: [], verdict: "no time" })] }), row({ line: "11" })] });
    expect(html).toMatch(/<ol class="sequence-ends".*#v-no-time.*1 no time/s);
    expect(html).toContain("ring 1: no time, no time");
  });

  it("marks a step that leans back, in the drawing and in the table", () => {
    const leaning = row({ line: "11", early: [{ began: from, line: "10", releasedAt: from + 90 * MINUTE }] });
    const html = chart({ rows: [row(), leaning] });
    expect(drawing(html)).toContain("s-bad");
    expect(html).toContain("began before 10 was released, Thu 3 Dec 2026, 11:30 −04:00");
    expect(drawing(chart())).not.toContain("s-bad");
  });

  it("leaves a window open at an end that nothing bounds", () => {
    const edges = (window: SequenceRow["windows"][number]) => drawing(chart({ rows: [row({ windows: [window] })] })).match(/<line class="s-held"/g)?.length ?? 0;
    expect(edges({ from, to: from + HOUR })).toBe(2);
    expect(edges({ from, to: null })).toBe(1);
    expect(edges({ from: null, to: null })).toBe(0);
  });

  it("draws of a view only what lies in it, and says nothing in place of now", () => {
    const html = chart({ view: { from, to: from + HOUR }, rows: [row(), row({ line: "11", bars: [], windows: [], releases: [], photos: [photo({ readings: [from + 5 * HOUR], verdict: "too late" })] })] });
    expect(drawing(html)).not.toContain("#v-late");
    expect(html).not.toContain("now 13:00");
    expect(html).toContain("ring 1: Thu 3 Dec 2026, 15:00:00 −04:00 ± 2 s, too late");
  });

  it("leads from a point's name to wherever the sheet sends it, and names the one that is enlarged", () => {
    const html = chart({ pointHref: (line) => `?point=${line}`, detail: { line: "10", letter: "A", span: { from, to: from + HOUR } } });
    expect(html).toContain('<a href="?point=10" aria-current="true">Spacers</a>');
    expect(drawing(html)).toMatch(/>A<\/text>/);
  });

  it("draws a whole pile with 200 photos in far less than a tenth of a second", () => {
    const rows = Array.from({ length: 26 }, (_, n) => row({ line: String(n + 1), photos: Array.from({ length: 8 }, (_, p) => photo({ label: `photo ${p}`, readings: [from + n * 20 * HOUR + p * MINUTE], verdict: p === 0 ? "too late" : "in order" })) }));
    chart({ rows }); // once for the compiler
    const began = performance.now();
    chart({ rows });
    expect(performance.now() - began).toBeLessThan(100);
  });
});

describe("the detail of a window", () => {
  const taken = (parts: Partial<WindowPhoto> = {}): WindowPhoto => ({ label: "N face", at: from + 5 * MINUTE, uncertaintyMs: 8_000, verdict: "in order", ...parts });
  const detail = (photos: WindowPhoto[]): string => renderToStaticMarkup(createElement(PhotoWindowDetail, {
    title: "Photos", from: { at: from, label: "window opens" }, to: { at: from + HOUR, label: "covered" }, now: from + 2 * HOUR, photos, zone: "America/Halifax",
    formatTime: (at: number) => new Date(at).toISOString().slice(11, 19),
  }));

  it("says how many photos lie in order, the window, and every other verdict", () => {
    expect(detail([taken(), taken({ label: "S face", verdict: "cannot tell" })])).toContain('aria-label="1 of 2 photos in order, window 14:00:00 to 15:00:00; S face: cannot tell"');
  });

  it("draws an arrow from what a corrected camera said to where the photo belongs", () => {
    const html = detail([taken({ cameraAt: from + 65 * MINUTE })]);
    expect(html).toContain("#g-arrow-left");
    expect(html.replace(/<\/?tspan[^>]*>/g, "")).toContain("camera said 15:05:00, 1 h ahead");
    expect(detail([taken()])).not.toContain("#g-arrow");
  });

  it("leads from a photo's name to the photo, outside the drawing that is one image to a reader", () => {
    const html = detail([taken({ href: "/p/pier/photos/one" })]);
    expect(html).toMatch(/<ol aria-label="Photos"><li[^>]*><a href="\/p\/pier\/photos\/one">N face<\/a>/);
    expect(/<svg[^>]*role="img".*?<\/svg>/s.exec(html)![0]).not.toContain("<a ");
  });

  it("names a photo without a time where it has no place", () => {
    const html = detail([taken({ at: null, verdict: "no time" })]);
    expect(html).toContain("#v-no-time");
    expect(html).toContain("<td>no time</td>");
  });

  it("writes every reading of a photo that may have been taken at several times", () => {
    expect(detail([taken({ at: null, readings: [from, from + HOUR], verdict: "cannot tell" })])).toContain("14:00:00 or 15:00:00 ± 8 s");
  });
});
