import { describe, expect, it } from "vitest";
import { HOUR } from "#lib/domain/instant";
import { atLeast, atMost, each, INSPECTOR, line, photo, quantity, recorded, stated, wait } from "#lib/domain/plan/line-part";
import { buildPlan, type Override, type PlanLine } from "#lib/domain/plan/plan";
import type { Entry } from "#lib/domain/point/value";
import { parseMeasured } from "#lib/domain/quantity/measured";
import { impactOf, type SignedPoint } from "#lib/domain/requirement/impact";
import type { PointFacts } from "#lib/domain/requirement/judge-point";
import type { PlanLineSpec, Quantity } from "#lib/domain/requirement/set";

const T0 = Date.parse("2026-11-10T12:00:00Z");

function inches(id: string, text: string, item: number | null = null): Entry {
  const parsed = parseMeasured(text, { dimension: "length" });
  if (!parsed.ok) throw new Error(text);
  return { kind: "measured", quantity: id, item, measured: parsed.measured, instrumentId: null };
}
const signed = (entries: Entry[] = [], parts: Partial<SignedPoint> = {}): SignedPoint => ({ entries, photos: [], documents: [], lots: [], releasedAt: T0 + HOUR, ...parts });
const facts: PointFacts = { workBegan: T0, workEnded: T0, day: "2026-11-10", instruments: new Map(), workAt: (at) => (at === "16" ? T0 - 19 * HOUR : null), entriesAt: () => [], readings: [{ at: T0 - 19 * HOUR, celsius: 20 }, { at: T0, celsius: 20 }] };
const point = (parts: Partial<PlanLineSpec> = {}, overrides: Override[] = []): PlanLine =>
  buildPlan({ lines: [line({ line: "15", name: "Wrap", kind: "H", after: [], release: INSPECTOR, ...parts })] }, { mark: "07-A", overrides }).lines[0]!;
const overlap = (limit: string): Quantity => quantity("overlap", "Overlap", atLeast(limit, "in"));
const cure = (hours: string): Quantity => quantity("cure", "Cure", { form: "cure", from: "16", hours, referenceC: "20", minimumC: "8", underMinimum: "pause" }, { derived: { formula: "cure", from: [] } });
const of = (was: Partial<PlanLineSpec>, now: Partial<PlanLineSpec>, point_: SignedPoint, overrides: Override[] = []) => impactOf({ was: point(was, overrides), now: point(now, overrides) }, point_, facts);

describe("a signed value under a limit that moved", () => {
  it.each([
    ["8.4 in", "would fail", "8.4 in, needs at least 9.0 in: 0.6 in short"],
    ["9.2 in", "still meets", "9.2 in, needs at least 9.0 in: 0.2 in to spare"],
    ["9 in", "still meets", "9 in, needs at least 9 in"],
    ["228.6 mm", "still meets", "9 in, needs at least 9 in"],
    ["228.5 mm", "would fail", "8.996 in, needs at least 9.0 in: 0.004 in short"],
  ] as const)("of %s %s", (typed, finding, margin) => {
    const { finding: found, values } = of({ quantities: [overlap("8")] }, { quantities: [overlap("9")] }, signed([inches("overlap", typed)]));
    expect([found, values.map((one) => one.margin)]).toEqual([finding, [margin]]);
  });

  it("of a clock is worked out again from its readings, at the end of its own work", () => {
    expect(of({ quantities: [cure("18")] }, { quantities: [cure("20")] }, signed())).toMatchObject({ finding: "would fail", values: [{ measured: "19 h" }] });
    expect(of({ quantities: [cure("18")] }, { quantities: [cure("19")] }, signed()).finding).toBe("still meets");
    const unread = impactOf({ was: point({ quantities: [cure("18")] }), now: point({ quantities: [cure("20")] }) }, signed(), { ...facts, readings: [] });
    expect(unread).toMatchObject({ finding: "needs a value", values: [{ verdict: "cannot tell", margin: "no temperature has been read" }] });
  });

  it("of several bars would fail when one does, unless a sample accepts it", () => {
    const sample = (limit: string, accept: number): Quantity => quantity("overlap", "Overlap", { ...(each("lap", 4, atLeast(limit, "in")) as Extract<Quantity["rule"], { form: "each" }>), sample: accept > 0 ? { n: 3, accept } : null });
    const laps = ["9.5 in", "9.4 in", "8.6 in"].map((text, index) => inches("overlap", text, index + 1));
    expect(of({ quantities: [sample("8", 1)] }, { quantities: [sample("9", 1)] }, signed(laps)).finding).toBe("still meets");
    expect(of({ quantities: [sample("8", 0)] }, { quantities: [sample("9", 0)] }, signed([...laps, inches("overlap", "9.4 in", 4)])).finding).toBe("would fail");
  });

  it("that is the pile's own by a drawing is not touched", () => {
    const own: Override = { line: "15", drawing: "S-9", words: "Narrow.", change: { kind: "quantity", quantity: "overlap", rule: atLeast("6", "in") } };
    expect(of({ quantities: [overlap("8")] }, { quantities: [overlap("9")] }, signed([inches("overlap", "6.5 in")]), [own])).toEqual({ finding: "still meets", values: [], words: [] });
  });
});

describe("what a change leaves as it was", () => {
  it("is not judged again, although it failed when it was released", () => {
    const was = { quantities: [overlap("8"), quantity("gap", "Gap", atLeast("2", "in"))] };
    const now = { quantities: [overlap("9"), quantity("gap", "Gap, smallest", atLeast("2", "in"), { hint: "At the top." })] };
    const result = of(was, now, signed([inches("overlap", "9.5 in"), inches("gap", "1.5 in")]));
    expect([result.finding, result.values.map(({ quantity: { id } }) => id)]).toEqual(["still meets", ["overlap"]]);
  });

  it("asks nothing where only names, roles or a removed quantity changed", () => {
    const was = { quantities: [overlap("8"), quantity("gap", "Gap", atLeast("2", "in"))], photos: [photo("edge", "Edge", 2)] };
    const now = { name: "Wrap and press", submits: ["QC manager" as const], quantities: [overlap("8")], photos: [photo("edge", "Edge", 1)] };
    expect(of(was, now, signed())).toEqual({ finding: "still meets", values: [], words: [] });
  });
});

describe("what was never taken", () => {
  it.each<[string, Partial<PlanLineSpec>, Partial<PlanLineSpec>, Partial<SignedPoint>, string[]]>([
    ["a new value", {}, { quantities: [quantity("salt", "Salt", atMost("5", "µg/cm²"))] }, {}, []],
    ["a new value without a limit", {}, { quantities: [quantity("salt", "Salt", recorded("µg/cm²"))] }, {}, []],
    ["a new statement", {}, { quantities: [quantity("clean", "Clean", stated())] }, {}, []],
    ["another photo", { photos: [photo("edge", "Edge", 1)] }, { photos: [photo("edge", "Edge", 2)] }, { photos: ["edge"] }, ["Edge: 1 of 2 photos"]],
    ["a document", {}, { documents: [{ id: "report", name: "Report", required: true }] }, {}, ["Report is not on file"]],
    ["a lot", {}, { lots: [{ id: "grout", name: "Grout", kind: "grout" }] }, {}, ["Grout: no lot is named"]],
    ["a written release", { kind: "R" }, { kind: "H" }, { releasedAt: null }, ["it has no written release"]],
    ["a release that a wait asks about", {}, { waits: [wait("at most", "16", "24", "released", "ties to release")] }, { releasedAt: null }, ["ties to release: it is not released"]],
    ["the time of a point that a wait runs from", {}, { waits: [wait("at least", "12", "2", "began", "cut to wrap")] }, {}, ["cut to wrap: point 12 has no time for its work"]],
  ])("%s is needed", (_what, was, now, parts, words) => {
    expect(of(was, now, signed([], parts))).toMatchObject({ finding: "needs a value", words });
  });

  it("goes behind what would fail", () => {
    const now = { quantities: [overlap("9"), quantity("clean", "Clean", stated())] };
    expect(of({ quantities: [overlap("8")] }, now, signed([inches("overlap", "8.4 in")])).finding).toBe("would fail");
  });

  it("is there where enough was sent beyond what was asked", () => {
    const now = { photos: [photo("edge", "Edge", 2)], documents: [{ id: "report", name: "Report", required: true }], lots: [{ id: "grout", name: "Grout", kind: "grout" }] };
    expect(of({ photos: [photo("edge", "Edge", 1)] }, now, signed([], { photos: ["edge", "edge"], documents: ["report"], lots: ["grout"] })).finding).toBe("still meets");
  });
});

describe("a wait that moved", () => {
  const ties = (kind: "at least" | "at most", hours: string, until: "began" | "released" = "began") => ({ waits: [wait(kind, "16", hours, until, "ties to wrap")] });

  it.each([
    ["at most", "19", "began", "still meets", []],
    ["at most", "18.5", "began", "would fail", ["ties to wrap: 19 h, needs at most 18.5 h"]],
    ["at most", "19.5", "released", "would fail", ["ties to wrap: 20 h, needs at most 19.5 h"]],
    ["at least", "19", "began", "still meets", []],
    ["at least", "24", "began", "would fail", ["ties to wrap: 19 h, needs at least 24 h"]],
  ] as const)("to %s %s h until it %s: %s", (kind, hours, until, finding, words) => {
    expect(of(ties(kind, "1"), ties(kind, hours, until), signed())).toEqual({ finding, values: [], words });
  });
});
