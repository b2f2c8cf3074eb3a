import fc from "fast-check";
import { describe, expect, it } from "vitest";

import { clockCode, readClockCode } from "#lib/domain/photo/clock-code";
import { pileCode, readPileCode, tagVerdict } from "#lib/domain/photo/tag";

const MARKS: Record<string, string> = { "w2-05-A": "05-A", "w2-06-D": "06-D" };
const project = { pileId: "w2-05-A", markOf: (id: string) => MARKS[id] ?? null };
const own = pileCode("w2-05-A");
const next = pileCode("w2-06-D");
const elsewhere = pileCode("0b3e4a34-3b5b-4b7e-9c5e-3f9a6a4a9b11");

describe("the code on a pile's tag", () => {
  const id = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._:-]{0,63}$/);

  it("gives the pile's id back", () => {
    fc.assert(fc.property(id, (pileId) => readPileCode(pileCode(pileId)) === pileId));
  });

  it.each([
    ["", null],
    ["lastlook:pile:", null],
    ["lastlook:pile:w2 05-A", null],
    ["lastlook:pile:../w2", null],
    ["lastlook:pile:-05", null],
    [`lastlook:pile:${"a".repeat(65)}`, null],
    [" lastlook:pile:w2-05-A", null],
    ["lastlook:pile:w2-05-A\n", null],
    ["Lastlook:pile:w2-05-A", null],
    ["https://elsewhere.example/lastlook:pile:w2-05-A", null],
    [clockCode(0), null],
    ["lastlook:pile:w2-05-A", "w2-05-A"],
  ])("is read from %j as %j", (text, pileId) => {
    expect(readPileCode(text)).toBe(pileId);
  });
});

describe("the code on the clock page", () => {
  it("gives the instant back to the millisecond", () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 4_102_444_800_000 }), (at) => readClockCode(clockCode(at)) === at)); // until 2100
  });

  it.each(["lastlook:clock:2026-02-30T10:00:00.000Z", "lastlook:clock:2026-12-03T25:00:00.000Z", "lastlook:clock:2026-12-03T10:00:00Z", "lastlook:clock:2026-12-03T10:00:00.000+01:00", own, ""])("names no instant: %j", (text) => {
    expect(readClockCode(text)).toBeNull();
  });
});

describe("the tag verdict", () => {
  it.each([
    ["not looked for", null, "no tag read", null, "not looked for yet"],
    ["no code at all", [], "no tag read", null, "no code of a tag in the picture, or none sharp enough"],
    ["the clock page", [clockCode(0)], "no tag read", null, "no code of a tag in the picture, or none sharp enough"],
    ["this pile", [own], "this pile's tag read", "05-A", "05-A"],
    ["the next pile", [next], "another pile's tag", "06-D", "tag of pile 06-D"],
    ["this pile before the next one", [own, next], "this pile's tag read", "05-A", "05-A"],
    ["this pile behind the next one", [next, own], "this pile's tag read", "05-A", "05-A"],
    ["a pile of another project", [elsewhere], "another pile's tag", null, "a tag of another project"],
    ["a pile of another project, then the next one", [elsewhere, next], "another pile's tag", null, "a tag of another project"],
  ])("of %s", (_case, codes, verdict, mark, words) => {
    expect(tagVerdict(codes, project)).toEqual({ verdict, mark, words });
  });

  it("on the project sheet is another pile's for every pile", () => {
    expect(tagVerdict([own], { ...project, pileId: null })).toMatchObject({ verdict: "another pile's tag", mark: "05-A" });
  });

  it("never says this pile unless its own code was read", () => {
    const codes = fc.array(fc.oneof(fc.constantFrom(next, elsewhere, clockCode(1)), fc.string()), { maxLength: 6 });
    fc.assert(fc.property(codes, (list) => tagVerdict(list.filter((code) => code !== own), project).verdict !== "this pile's tag read"));
  });
});
