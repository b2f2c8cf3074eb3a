import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { foldSheet, workBlocks, type PointStatus } from "#lib/domain/point/fold";
import type { PointEvent } from "#lib/domain/point/history";
import { releaseBlocks } from "#lib/domain/point/release";
import { predecessors, type PlanLine } from "#lib/domain/plan/plan";
import { H, HOUR, lineOf, linesOf, member, MINUTE, Story } from "#tests/domain/point/factory";

const PEOPLE = { inspector: member("inspector", ["inspector"]), qc: member("qc", ["QC manager"], "contractor"), engineer: member("engineer", ["engineer"], "engineer") };

/** Photos and values are other rules' business: here the only question is the order of things. */
const bare = (lines: readonly PlanLine[]): PlanLine[] => lines.map((line) => ({ ...line, photos: [], quantities: [] }));
const PLANS = { H: bare(H), T: bare(linesOf("T")) };

const Step = fc.record({
  line: fc.nat(25),
  act: fc.constantFrom("submit", "submit", "submit", "release", "release", "release", "check", "send back", "withdraw", "reject", "reopen", "wait"),
  fails: fc.boolean(),
  hours: fc.integer({ min: 0, max: 60 }),
});
type Step = { line: number; act: string; fails: boolean; hours: number };

/** Takes a step as the services would let it be taken, or leaves it. Favours the point that can go on, so that a walk gets somewhere. */
function take(story: Story, { line: pick, act, fails, hours }: Step): void {
  if (act === "wait") return void story.later(hours * HOUR);
  const folded = story.fold();
  const able = story.lines.filter((line) => canTake(story, folded, line, act));
  const line = able[pick % Math.max(1, able.length)];
  if (!line) return;
  const { line: id } = line;
  if (act === "submit") return void story.submit(id, { worst: fails && pick % 5 === 0 ? "fails" : "meets", role: line.submits[0]!, by: line.submits[0] === "QC manager" ? "qc two" : "crew" });
  if (act === "check") return void story.check(id);
  if (act === "send back") return void story.check(id, "sent back");
  if (act === "withdraw") return void story.withdraw(id);
  const role = line.release.roles[0]!;
  story.decide(id, act as "release", { by: role, role });
}

function canTake(story: Story, folded: ReadonlyMap<string, PointStatus>, line: PlanLine, act: string): boolean {
  const status = folded.get(line.line)!;
  const { trail, released, checked } = status.standing;
  switch (act) {
    case "submit":
      return status.maySend && workBlocks(story.facts(), line.line, story.now).length === 0;
    case "check":
    case "send back":
      return trail !== null && !released && !checked;
    case "withdraw":
      return trail !== null && trail.decisions.length === 0;
    case "reject":
      return trail !== null && (!released || status.state === "in doubt");
    case "reopen":
      return released;
    default: {
      const who = line.release.roles.includes("QC manager") ? PEOPLE.qc : PEOPLE.inspector;
      if (released && status.state !== "in doubt") return false;
      const worst = trail?.submission.worst ?? null;
      return releaseBlocks({ line, lines: story.lines, status, folded, outside: story.outside, worst, photos: [], questions: [], answers: [] }, who).every(({ kind }) => kind === "not checked");
    }
  }
}

/** Read from the log alone: whether the last thing decided about what stands at a point is its release. */
function lastWordIsRelease(events: readonly PointEvent[], line: string): boolean {
  const own = events.filter((event) => event.line === line && event.type === "decided");
  const last = own.at(-1);
  return last?.type === "decided" && last.outcome === "release";
}

const walk = (plan: keyof typeof PLANS, steps: readonly Step[], each: (story: Story, before: number) => void): Story => {
  const story = new Story(PLANS[plan]);
  for (const step of steps) {
    const before = story.events.length;
    take(story, step);
    each(story, before);
  }
  return story;
};
const Steps = fc.array(Step, { minLength: 40, maxLength: 110 });
const Plan = fc.constantFrom<keyof typeof PLANS>("H", "T");

describe("in any order that the rules allow", () => {
  it("no hold point lets anything go whose last word is not a release, and none goes by without one", () => {
    let farthest = 0;
    fc.assert(
      fc.property(Plan, Steps, (plan, steps) => {
        walk(plan, steps, (story, before) => {
          for (const status of story.fold().values()) {
            const line = lineOf(status.line, story.lines);
            if (line.kind === "H" && !line.notApplicable && status.letsGo) expect(lastWordIsRelease(story.events, status.line)).toBe(true);
          }
          const sent = story.events[before];
          if (sent?.type !== "submitted") return;
          for (const id of predecessors(story.lines, lineOf(sent.line, story.lines))) {
            const line = story.lines.find((one) => one.line === id);
            if (line?.kind === "H") expect(lastWordIsRelease(story.events.slice(0, before), id)).toBe(true);
          }
          farthest = Math.max(farthest, Number(sent.line));
        });
      }),
      { numRuns: 30, seed: 20_261_020 },
    );
    expect(farthest).toBeGreaterThan(10); // the walks get past the last look
  });

  it("what was true before an event stays true after it", () => {
    fc.assert(
      fc.property(Plan, Steps, (plan, steps) => {
        const then: { events: number; at: number; folded: string }[] = [];
        const show = (story: Story, events: number, at: number): string => JSON.stringify([...foldSheet({ ...story.facts(at), events: story.events.slice(0, events) })]);
        const story = walk(plan, steps, (one) => then.push({ events: one.events.length, at: one.now, folded: show(one, one.events.length, one.now) }));
        for (const { events, at, folded } of then) expect(show(story, events, at)).toBe(folded);
      }),
      { numRuns: 8, seed: 20_261_020 },
    );
  });

  it("attempts are numbered without a gap, and every submission lies in one of them", () => {
    fc.assert(
      fc.property(Plan, Steps, (plan, steps) => {
        const story = walk(plan, steps, () => undefined);
        for (const { line, standing } of story.fold().values()) {
          expect(standing.attempts.map(({ number }) => number)).toEqual(standing.attempts.map((_, index) => index + 1));
          const sent = story.events.filter((event) => event.line === line && event.type === "submitted").map((event) => event.type === "submitted" && event.submissionId);
          expect(standing.attempts.flatMap(({ submissions }) => submissions.map(({ submission }) => submission.submissionId))).toEqual(sent);
        }
      }),
      { numRuns: 20, seed: 20_261_020 },
    );
  });

  it("a state holds until the instant that is said", () => {
    fc.assert(
      fc.property(Plan, Steps, fc.integer({ min: 0, max: 40 * 24 * 60 }), (plan, steps, minutes) => {
        const story = walk(plan, steps, () => undefined);
        const [now, later] = [story.fold(), story.fold(story.now + minutes * MINUTE)];
        for (const { line, state, mayBegin, holdsUntil } of now.values()) {
          if (holdsUntil !== null && story.now + minutes * MINUTE > holdsUntil) continue;
          if (holdsUntil === story.now + minutes * MINUTE) continue;
          expect([line, later.get(line)!.state, later.get(line)!.mayBegin]).toEqual([line, state, mayBegin]);
        }
      }),
      { numRuns: 30, seed: 20_261_020 },
    );
  });

  it("a doubt is nowhere without something taken back behind it", () => {
    fc.assert(
      fc.property(Plan, Steps, (plan, steps) => {
        const story = walk(plan, steps, () => undefined);
        const folded = story.fold();
        for (const { line, state, doubtSeq } of folded.values()) {
          if (state !== "in doubt") continue;
          expect(doubtSeq).toBeGreaterThan(0);
          const breaker = story.events.find(({ seq }) => seq === doubtSeq);
          expect(breaker?.type === "decided" ? breaker.outcome : breaker?.type).toMatch(/^(reject|reopen|withdrawn|checked)$/);
          expect(line).not.toBe(breaker?.line);
        }
      }),
      { numRuns: 20, seed: 20_261_020 },
    );
  });
});
