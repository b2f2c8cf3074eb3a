import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { MINUTE } from "#lib/domain/instant";
import { proposeCard, proposeSubjects, type CardPhoto, type OpenPoint } from "#lib/domain/photo/card";

const NOON = Date.parse("2026-12-03T16:00:00Z");
const at = (minutes: number): number => NOON + minutes * MINUTE;
let made = 0;
const photo = (minutes: number, more: Partial<CardPhoto> = {}): CardPhoto => ({ id: `photo-${(made += 1)}`, pile: null, hypotheses: [at(minutes)], uncertaintySeconds: 2, camera: "one", place: "at site", ...more });
const point = (sheet: string, line: string, from: number | null, to: number, more: Partial<OpenPoint> = {}): OpenPoint => ({
  sheet, mark: sheet.toUpperCase(), line, name: `Point ${line}`, from: from === null ? null : at(from), to: at(to), gate: false, subjects: [{ id: "face", name: "Face", count: 4, have: 0 }], ...more,
});
const marks = new Map([["p1", "P1"], ["p2", "P2"]]);
const propose = (photos: readonly CardPhoto[], open: readonly OpenPoint[]) => proposeCard(photos, open, (pile) => marks.get(pile) ?? null);

describe("a card of photos", () => {
  it("is put into groups at a pause, at another tag and at another camera", () => {
    const groups = propose([photo(0), photo(5), photo(30), photo(31, { pile: "p1" }), photo(32), photo(33, { pile: "p2" }), photo(1, { camera: "two" })], []);
    expect(groups.map(({ photos }) => photos.length)).toEqual([2, 1, 3, 1]);
  });

  it("goes where tag and time agree, also the photos between that show no tag", () => {
    const [group] = propose([photo(0, { pile: "p1" }), photo(2), photo(4)], [point("p1", "10", -60, 60), point("p2", "10", -60, 60)]);
    expect([group?.certainty, group?.proposal?.sheet, group?.reasons.map(({ words }) => words)]).toEqual([
      "tag and time agree", "p1", ["tag P1 read in 1 of 3", "inside the open window of 10", "4 photos asked still, 3 here"],
    ]);
  });

  it.each<[string, CardPhoto[], OpenPoint[], string, string | null]>([
    ["by time alone where one point fits", [photo(0)], [point("p1", "13", -60, 60), point("p2", "13", 5, 60)], "time only, one point fits", "13"],
    ["not by time alone where two fit", [photo(0)], [point("p1", "13", -60, 60), point("p2", "13", -60, 60)], "cannot tell", null],
    ["not to a point where the pile has two", [photo(0, { pile: "p1" })], [point("p1", "3", -60, 60), point("p1", "4", -60, 60)], "pile sure, point not", null],
    ["nowhere with the tag of a pile that takes no photos", [photo(0, { pile: "p2" })], [point("p1", "13", -60, 60)], "for no point", null],
    ["nowhere with the tag of another project", [photo(0, { pile: "elsewhere" })], [point("p1", "13", -60, 60)], "for no point", null],
    ["nowhere outside every window", [photo(90)], [point("p1", "13", -60, 60)], "for no point", null],
    ["nowhere at the edge of a window", [photo(60)], [point("p1", "13", -60, 60)], "for no point", null],
    ["nowhere without a time", [photo(0, { hypotheses: [] })], [point("p1", "13", -60, 60)], "cannot tell", null],
    ["nowhere where one reading of its time lies outside", [photo(0, { hypotheses: [at(0), at(90)] })], [point("p1", "13", -60, 60)], "cannot tell", null],
    ["where all readings of its time agree", [photo(0, { hypotheses: [at(0), at(30)], pile: "p1" })], [point("p1", "13", -60, 60)], "tag and time agree", "13"],
    ["never to the access check", [photo(0)], [point("p1", "1", -60, 60, { gate: true }), point("p2", "13", -60, 60)], "time only, one point fits", "13"],
  ])("goes %s", (_, photos, open, certainty, line) => {
    const [group] = propose(photos, open);
    expect([group?.certainty, group?.proposal?.line ?? null]).toEqual([certainty, line]);
  });

  it("is put to the subjects of the point in their order, the rest to the last", () => {
    const subjects = [{ id: "scale", name: "Scale", count: 2, have: 1 }, { id: "mix", name: "Mix", count: 1, have: 0 }];
    const photos = [photo(0), photo(1), photo(2)];
    expect([...proposeSubjects(photos, point("p1", "13", null, 9, { subjects })).values()]).toEqual(["scale", "mix", "mix"]);
    expect(proposeSubjects(photos, point("p1", "13", null, 9, { subjects: [] })).size).toBe(0);
  });
});

const minute = fc.integer({ min: -300, max: 300 });
const anyPhoto = fc.record({ minutes: fc.array(minute, { maxLength: 3 }), pile: fc.constantFrom(null, "p1", "p2", "elsewhere"), u: fc.integer({ min: 0, max: 600 }), camera: fc.constantFrom("one", "two") })
  .map(({ minutes, pile, u, camera }) => photo(0, { hypotheses: minutes.map(at), pile, uncertaintySeconds: u, camera }));
const anyPoint = fc.record({ sheet: fc.constantFrom("p1", "p2"), line: fc.constantFrom("3", "4", "13"), from: fc.option(minute), to: minute, gate: fc.boolean() })
  .map(({ sheet, line, from, to, gate }) => point(sheet, line, from, to, { gate }));

it("never goes outside a window, never to another pile than its tag's, and the order of its photos plays no part", () => {
  fc.assert(
    fc.property(fc.array(anyPhoto, { maxLength: 12 }), fc.array(anyPoint, { maxLength: 6 }), (photos, open) => {
      const groups = propose(photos, open);
      expect(groups.flatMap((group) => group.photos.map(({ id }) => id)).sort()).toEqual(photos.map(({ id }) => id).sort());
      for (const { proposal, photos: own } of groups) {
        if (proposal === null) continue;
        for (const { hypotheses, pile } of own) {
          expect(hypotheses.length).toBeGreaterThan(0);
          expect(hypotheses.every((one) => one <= proposal.to && (proposal.from === null || one >= proposal.from))).toBe(true);
          expect(pile === null || pile === proposal.sheet).toBe(true);
        }
      }
      const say = (list: typeof groups) => list.map((group) => [group.certainty, group.proposal?.sheet, group.proposal?.line, group.photos.map(({ id }) => id)]);
      expect(say(propose([...photos].reverse(), open))).toEqual(say(groups));
    }),
  );
});
