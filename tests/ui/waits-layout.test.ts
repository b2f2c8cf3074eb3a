import { describe, expect, it } from "vitest";
import { writeRevision } from "#seed/specification";
import { waitsAround } from "../../app/p/[project]/requirements/waits-layout";

const lines = (letter: "B" | "C") => writeRevision(letter).sets[0]!.lines;
const words = (id: string) => waitsAround(lines("C"), lines("B"), id).spans.map(({ from, to, words: said }) => `${from} to ${to}: ${said}`);

describe("the waits around a point", () => {
  it("are those that begin, end or reach over it, with the clocks of its quantities", () => {
    expect(words("15")).toEqual(expect.arrayContaining(["13 to 15: pot life", "13 to 16: pot life", "16 to 17: at least 20 h at 20 °C"]));
    expect(words("11")).toEqual(expect.arrayContaining(["4 to 11: at most 96 h", "3 to 11: at most 168 h"]));
  });

  it("are drawn once where a quantity repeats a wait of the point", () => {
    expect(words("11").filter((one) => one.startsWith("4 to 11"))).toHaveLength(1);
  });

  it("say what they were in the revision before", () => {
    const spans = waitsAround(lines("C"), lines("B"), "17").spans;
    expect(spans.find(({ to }) => to === "17")?.was).toBe("at least 18 h at 20 °C");
    expect(spans.filter(({ to }) => to !== "17").every(({ was }) => was === null)).toBe(true);
  });

  it("leave out what does not apply, and say what the work of a point hides", () => {
    const { points } = waitsAround(lines("C"), [], "15");
    expect(points.map(({ line }) => line)).toContain("15");
    expect(points.find(({ line }) => line === "15")).toMatchObject({ open: true, hides: "3–5, 7–10" });
    expect(waitsAround(writeRevision("C").sets[1]!.lines, [], "9").points).toEqual([]); // no clamp bolts on a concrete pile
  });

  it("never lie over one another in a lane", () => {
    for (const { line } of lines("C")) {
      const { points, spans } = waitsAround(lines("C"), [], line);
      const place = (id: string): number => points.findIndex((one) => one.line === id);
      for (const a of spans) for (const b of spans) if (a !== b && a.lane === b.lane) expect(place(a.to) <= place(b.from) || place(b.to) <= place(a.from)).toBe(true);
    }
  });
});
