import { describe, expect, it } from "vitest";
import { shiftOf, siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE } from "#lib/domain/instant";
import { predecessors, type PlanLine } from "#lib/domain/plan/plan";
import { RevisionSchema } from "#lib/domain/requirement/set";
import { onSite, SHIFT, STANDS_AT, tideStart, waterM, ZONE } from "#seed/calendar";
import { PILES } from "#seed/facts/all";
import { randFrom } from "#seed/photo/random";
import { linesOf, typeOf } from "#seed/pile-act";
import { timeGates, timeSteps, type TimedStep } from "#seed/schedule";
import { writeRevision } from "#seed/specification";

const B = writeRevision("B");
const C = writeRevision("C");
const applies = (lines: readonly PlanLine[]): PlanLine[] => lines.filter(({ notApplicable }) => notApplicable === null);
const timed = PILES.map((pile) => ({ pile, lines: linesOf(pile, B), steps: timeSteps(pile, linesOf(pile, B), randFrom(`times of ${pile.mark}`)) }));

describe("the facts of the demonstration", () => {
  it.each([["H", 8, 26], ["C", 12, 24], ["T", 5, 23]] as const)("has piles of type %s: %i with %i points each", (type, piles, points) => {
    const found = PILES.filter(({ mark }) => typeOf(mark) === type);
    expect(found).toHaveLength(piles);
    for (const pile of found) expect(applies(linesOf(pile, B)), pile.mark).toHaveLength(points);
  });

  it("plans 588 points besides 07-D, which a change order takes out", () => {
    // 26 × 8 + 24 × 12 + 23 × 4
    expect(PILES.filter(({ mark }) => mark !== "07-D").flatMap((pile) => applies(linesOf(pile, B)))).toHaveLength(588);
  });

  it.each([B, C])("has a revision $letter that can be issued", (revision) => {
    expect(RevisionSchema.parse(revision)).toEqual(revision);
  });

  it("changes from B to C the timber jacket's overlap and length, and every jacket's cure, and nothing else", () => {
    const changed = B.sets.flatMap((set, s) =>
      set.lines.flatMap(({ line, quantities }, l) => quantities.filter((quantity, q) => JSON.stringify(quantity) !== JSON.stringify(C.sets[s]?.lines[l]?.quantities[q])).map(({ id }) => `${set.type} ${line} ${id}`)),
    );
    expect(changed).toEqual(["H 17 cure", "C 17 cure", "T 12 length", "T 14 share", "T 15 overlap", "T 17 cure"]);
  });

  it("works within shifts, save for the evening before the clocks went back", () => {
    const outside = timed.flatMap(({ pile, steps }) =>
      steps
        .filter(({ began, ended }) => [began, ended].some((at) => at > shiftOf(at, ZONE, SHIFT).to))
        .map(({ began, line }) => `${pile.mark} ${siteTime(began, ZONE).date} ${line.line}`),
    );
    expect(outside).toEqual(["03-A 2026-10-31 13", "03-A 2026-10-31 14", "03-A 2026-10-31 15", "03-A 2026-10-31 16"]);
  });

  it("sends no point before what it stands on was let go", () => {
    for (const { pile, lines, steps } of timed) {
      for (const step of steps) {
        for (const before of predecessors(lines, step.line)) {
          const stood = steps.filter((one) => one.line.line === before && one.sent < step.sent && (one.fact.ending ?? "released") === "released").at(-1);
          const known = lines.some(({ line }) => line === before) && before !== "1";
          if (known) expect(stood && letGo(stood, step.line), `${pile.mark} ${step.line.line} after ${before}`).toBeLessThan(step.sent);
        }
      }
    }
  });

  it("resins bars within 4 h of cleaning, covers up within the waits, and tests cubes at 28 days", () => {
    const ended = (steps: readonly TimedStep[], line: string) => steps.findLast((one) => one.line.line === line);
    for (const { pile, steps } of timed) {
      const [growth, preparation, bars, cover, topped, tested] = ["3", "4", "7", "11", "21", "25"].map((line) => ended(steps, line));
      const holes = steps.find(({ line }) => line.line === "6");
      if (holes && bars) expect(bars.began - holes.ended, pile.mark).toBeLessThanOrEqual(4 * HOUR);
      if (growth && cover) expect(cover.decided - growth.ended, pile.mark).toBeLessThanOrEqual(168 * HOUR);
      if (preparation && cover) expect(cover.decided - preparation.ended, pile.mark).toBeLessThanOrEqual(96 * HOUR);
      if (topped && tested) expect(tested.began - topped.ended, pile.mark).toBeGreaterThanOrEqual(28 * 24 * HOUR);
    }
  });

  it("does the access check of a crew once a day, before anything else", () => {
    const gates = timeGates(PILES, (pile) => linesOf(pile, B));
    for (const { pile, steps } of timed) {
      for (const { began, line } of steps) {
        if (line.gate !== "under the gate") continue;
        const gate = gates.get(`${pile.crew} ${siteTime(began, ZONE).date}`);
        expect(gate && gate.sent + MINUTE, `${pile.mark} ${line.line}`).toBeLessThan(began);
      }
    }
  });

  it("ends before noon of the last day", () => {
    for (const { pile, steps } of timed) for (const { sent, fact, decided } of steps) expect((fact.ending ?? "released") === "released" ? decided : sent, pile.mark).toBeLessThan(STANDS_AT);
  });

  // High water 06:10 at 1.9 m, low water 0.3 m half a period later.
  it("has the tide of 3 December", () => {
    expect(waterM(onSite("2026-12-03 06:10"))).toBeCloseTo(1.9, 9);
    expect(waterM(onSite("2026-12-03 12:22"))).toBeCloseTo(0.3, 2);
    expect(siteTime(tideStart("2026-12-03"), ZONE).time).toBe("09:55");
  });
});

/** When a step lets another begin: record points and those of the same batch when they are sent. */
function letGo({ line, sent, decided }: TimedStep, next: PlanLine): number {
  return line.kind === "R" || (line.batch !== null && line.batch === next.batch) ? sent : decided;
}
