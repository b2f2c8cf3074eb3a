import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Water } from "#lib/domain/clock/tide";
import type { NextActionFacts, PointClock } from "#lib/domain/plan/bound";
import { nextActions } from "#lib/domain/plan/next-action";
import { runningBounds } from "#lib/domain/plan/running-bound";
import { BEFORE_COVER, H, HOUR, MINUTE, SHUT_SITE, Story } from "#tests/domain/point/factory";

const BATCH = ["11", "12", "13", "14", "15", "16"] as const;
const factsOf = (story: Story, change: Partial<NextActionFacts> = {}): NextActionFacts => {
  const at = change.at ?? story.now;
  return { lines: story.lines, folded: story.fold(at), outside: story.outside, clocks: new Map(), potLives: new Map(), notices: new Map(), tide: null, at, ...change };
};
const actionAt = (line: string, facts: NextActionFacts) => nextActions(facts).find((action) => action.line === line);
const linesOf = (facts: NextActionFacts) => nextActions(facts).map(({ line }) => line);
const endedAt = (story: Story, line: string) => story.status(line).standing.trail?.submission.workEnded ?? Number.NaN;

/** High and low by turns, every six hours: low from an hour and a half after each high water to as long before the next. */
const tideFrom = (firstHigh: number, rows = 60): NonNullable<NextActionFacts["tide"]> => ({
  waters: Array.from({ length: rows }, (_, i): Water => ({ at: firstHigh + i * 6 * HOUR, heightM: i % 2 ? 0 : 2, turn: i % 2 ? "low" : "high" })), workLevelM: "1", allowanceM: "0",
});

describe("the next action on a pile", () => {
  it("is the access check where nothing was done, at once", () => {
    const story = new Story();
    expect(nextActions(factsOf(story))).toMatchObject([{ line: "1", state: "may begin", latest: null, deadEnd: null }, { line: "12", state: "may begin" }]);
  });

  it("waits for the project sheet where that is not released", () => {
    const [first] = nextActions(factsOf(new Story(H, SHUT_SITE)));
    expect(first).toMatchObject({ line: "1", state: "waits", earliest: null });
    expect(first?.earliestBounds).toContainEqual(expect.objectContaining({ kind: "predecessor", from: "P1", unknown: "not done" }));
  });

  it("waits for a hold point that was sent and not released, and may begin from its release on", () => {
    const story = new Story().release("1", "2", "3").submit("4");
    expect(actionAt("5", factsOf(story))).toMatchObject({ state: "waits", earliest: null, earliestBounds: [{ kind: "predecessor", from: "4", unknown: "not released" }] });
    story.decide("4");
    expect(actionAt("5", factsOf(story))).toMatchObject({ state: "may begin", earliest: story.now, earliestBounds: [{ kind: "predecessor", from: "4", at: story.now, unknown: null }] });
  });

  it("begins when the notice of a witness point before it has run out", () => {
    const story = new Story().release("1", "2").submit("3");
    const notices = new Map([["3", { hours: 24, validSince: story.now - HOUR }]]);
    expect(actionAt("4", factsOf(story, { notices }))).toMatchObject({ state: "later", earliest: story.now + 23 * HOUR, earliestBounds: [{ kind: "notice", from: "3" }] });
    expect(actionAt("4", factsOf(story, { notices: new Map([["3", { hours: 24, validSince: null }]]) }))).toMatchObject({ state: "waits" });
    // A hold point is never passed by a notice.
    story.decide("3").submit("4");
    expect(actionAt("5", factsOf(story, { notices: new Map([["4", { hours: 24, validSince: story.now }]]) }))).toMatchObject({ state: "waits" });
  });

  it("has the soonest of the maximum waits that it leads to as its latest instant", () => {
    const story = new Story().release("1", "2", "3", "4", "5", "6");
    const facts = factsOf(story);
    const [seven, eight] = [actionAt("7", facts), actionAt("8", facts)];
    expect(seven).toMatchObject({ state: "may begin", latest: endedAt(story, "6") + 4 * HOUR });
    expect(seven?.latestBounds.map(({ from, line }) => [from, line])).toEqual([["6", "7"], ["3", "11"], ["4", "11"]]);
    expect(eight).toMatchObject({ latest: endedAt(story, "4") + 96 * HOUR });
  });

  it("cannot be met once a maximum wait ran out, names the step to redo and since when", () => {
    const story = new Story().release("1", "2", "3", "4", "5", "6");
    const until = endedAt(story, "6") + 4 * HOUR;
    story.later(5 * HOUR);
    const facts = factsOf(story);
    expect(actionAt("7", facts)).toMatchObject({ state: "cannot be met", earliest: null, latest: until, deadEnd: { redo: "6", since: until, bound: { kind: "maximum wait", from: "6", line: "7" } } });
    expect(actionAt("6", facts)).toMatchObject({ state: "may begin", deadEnd: null });
  });

  it("cannot be met as soon as the water comes too late for a wait that still runs", () => {
    const story = new Story().release("1", "2", "3", "4", "5", "6");
    const until = endedAt(story, "6") + 4 * HOUR;
    const late = tideFrom(story.now + 3 * HOUR, 40);
    late.waters = [{ at: story.now - 3 * HOUR, heightM: 0, turn: "low" }, ...late.waters];
    const seven = actionAt("7", factsOf(story, { tide: late }));
    expect(seven).toMatchObject({ state: "cannot be met", latest: until, notBefore: story.now + 6 * HOUR, deadEnd: { redo: "6", since: null } });
  });

  it("names a dead end further on while the points before it are still to do", () => {
    const story = new Story().release("1", "2", "3", "4", "5").later(95 * HOUR).release("6");
    const facts = factsOf(story, { tide: tideFrom(story.now - MINUTE) });
    const eleven = actionAt("11", facts);
    expect(eleven).toMatchObject({ state: "cannot be met", deadEnd: { redo: "4" } });
    expect(eleven?.earliestBounds).toContainEqual(expect.objectContaining({ kind: "predecessor", from: "10", unknown: "not done" }));
    expect(actionAt("7", facts)?.deadEnd).toMatchObject({ redo: "4", bound: { line: "11" } });
  });

  it("begins in the window of the tide, where it needs the water low", () => {
    const story = new Story().release("1", "2");
    const tide = tideFrom(story.now - HOUR);
    expect(actionAt("3", factsOf(story, { tide }))).toMatchObject({ state: "later", earliest: story.now + 2 * HOUR, window: { from: story.now + 2 * HOUR, to: story.now + 8 * HOUR } });
    expect(actionAt("3", factsOf(story, { tide, at: story.now + 4 * HOUR }))).toMatchObject({ state: "may begin" });
    expect(actionAt("12", factsOf(story, { tide }))).toMatchObject({ state: "may begin", window: null });
  });

  it("cannot be told where the tide table ends", () => {
    const story = new Story().release("1", "2");
    expect(actionAt("3", factsOf(story, { tide: tideFrom(story.now - 30 * HOUR, 3) }))).toMatchObject({ state: "cannot tell", earliest: null, earliestBounds: [{ kind: "predecessor" }, { kind: "tide", at: null, unknown: "tide table" }] });
  });

  const cured = (story: Story, change: Partial<PointClock>): ReadonlyMap<string, PointClock> => new Map([["17", { form: "cure", from: "16", since: endedAt(story, "16"), state: "running", earliest: story.now + 20 * HOUR, ...change }]]);
  const wrapped = () => new Story().release(...BEFORE_COVER, ...BATCH);

  it("is the cure's end where it waits for the cure", () => {
    const story = wrapped();
    expect(actionAt("17", factsOf(story, { clocks: cured(story, {}) }))).toMatchObject({ state: "later", earliest: story.now + 20 * HOUR });
    expect(actionAt("17", factsOf(story, { clocks: cured(story, { state: "done", earliest: story.now - HOUR }) }))).toMatchObject({ state: "may begin" });
  });

  it.each(["paused", "no readings"] as const)("cannot be told while the cure is: %s", (state) => {
    const story = wrapped();
    expect(actionAt("17", factsOf(story, { clocks: cured(story, { state, earliest: null }) }))).toMatchObject({ state: "cannot tell", earliest: null, deadEnd: null });
  });

  it("cannot be met after a cure that the cold made void: the work is to be redone", () => {
    const story = wrapped();
    expect(actionAt("17", factsOf(story, { clocks: cured(story, { state: "void", earliest: null }) }))).toMatchObject({ state: "cannot be met", deadEnd: { redo: "16", bound: { kind: "cure", unknown: "void" } } });
  });

  it("waits for a least wait from work that is done, and cannot be told from work that is not", () => {
    const story = wrapped().release("17", "18", "19", "20", "21");
    const wait = endedAt(story, "21") + 672 * HOUR;
    expect(actionAt("25", factsOf(story))).toMatchObject({ state: "later", earliest: wait, earliestBounds: [{ kind: "predecessor" }, { kind: "least wait", from: "21", at: wait }] });
  });

  it("has to wrap before the pot life of its batch ends", () => {
    const story = new Story().release(...BEFORE_COVER, "11", "12", "13").submit("14");
    const batch = { from: "13", since: story.now - 10 * MINUTE, latest: story.now + 20 * MINUTE };
    const at = (minutes: number, latest: number | null = batch.latest) => actionAt("15", factsOf(story, { potLives: new Map([["15", { ...batch, latest }]]), at: story.now + minutes * MINUTE }));
    expect(at(0)).toMatchObject({ state: "may begin", latest: batch.latest });
    expect(at(20)).toMatchObject({ state: "may begin" });
    expect(at(21)).toMatchObject({ state: "cannot be met", deadEnd: { redo: "13", since: batch.latest } });
    expect(at(21, null)).toMatchObject({ state: "may begin", latest: null, latestBounds: [{ kind: "pot life", unknown: "pot life" }] });
  });

  it("never stands before a bound of its own, nor past a limit unless it cannot be met", () => {
    const points = [...BEFORE_COVER, ...BATCH];
    fc.assert(fc.property(fc.nat(points.length), fc.nat(120), fc.integer({ min: -12, max: 12 }), (done, hours, tideHour) => {
      const story = new Story();
      for (const line of points.slice(0, done)) story.release(line);
      story.later(hours * HOUR);
      const facts = factsOf(story, { tide: { ...tideFrom(story.now + (tideHour - 12) * HOUR) } });
      for (const { earliest, notBefore, latest, earliestBounds, state, deadEnd, line } of nextActions(facts)) {
        for (const { at } of earliestBounds) expect(earliest ?? Infinity).toBeGreaterThanOrEqual(at ?? -Infinity);
        if (state === "may begin") expect(facts.folded.get(line)?.mayBegin).toBe(true);
        expect(notBefore).toBeGreaterThanOrEqual(facts.at);
        expect(deadEnd !== null).toBe(latest !== null && notBefore > latest);
        expect(state === "cannot be met").toBe(deadEnd !== null);
      }
    }), { numRuns: 40 });
  });

  it("names every point at which work may begin now, when nothing but the order of points bounds it", () => {
    fc.assert(fc.property(fc.nat(16), (done) => {
      const story = new Story();
      for (const line of [...BEFORE_COVER, ...BATCH].slice(0, done)) story.release(line);
      const open = story.lines.filter(({ line }) => line !== "1" && story.status(line).mayBegin).map(({ line }) => line);
      expect(linesOf(factsOf(story)).filter((line) => line !== "1")).toEqual(open);
    }), { numRuns: 17 });
  });
});

describe("the clocks that run on a pile", () => {
  it("are in order of their ends, what stands still first", () => {
    const story = new Story().release("1", "2", "3", "4", "5", "6");
    const facts = factsOf(story, {
      clocks: new Map([["17", { form: "cure", from: "16", since: story.now - HOUR, state: "paused", earliest: null }]]),
      potLives: new Map([["15", { from: "13", since: story.now, latest: story.now + 30 * MINUTE }]]),
      notices: new Map([["7", { hours: 24, validSince: story.now - HOUR }], ["6", { hours: 24, validSince: story.now }], ["8", { hours: 24, validSince: null }]]),
      tide: tideFrom(story.now - HOUR),
    });
    expect(runningBounds(facts).map(({ kind, line, from, at, bound, state }) => [kind, line, from, at === null ? null : (at - story.now) / MINUTE, bound, state])).toEqual([
      ["cure", "17", "16", null, "earliest", "stopped"],
      ["pot life", "15", "13", 30, "latest", "cannot be met"], // two hours until the water is low enough to go on
      ["tide", null, null, 120, "earliest", "runs"],
      ["maximum wait", "7", "6", (endedAt(story, "6") + 4 * HOUR - story.now) / MINUTE, "latest", "runs"],
      ["notice", "7", "7", 23 * 60, "earliest", "runs"],
      ["maximum wait", "11", "4", (endedAt(story, "4") + 96 * HOUR - story.now) / MINUTE, "latest", "runs"],
      ["maximum wait", "11", "3", (endedAt(story, "3") + 168 * HOUR - story.now) / MINUTE, "latest", "runs"],
    ]);
  });

  it("name the end of a window that is open, and stand still where the table says nothing", () => {
    const story = new Story();
    const [open] = runningBounds(factsOf(story, { tide: tideFrom(story.now - 5 * HOUR) }));
    expect(open).toMatchObject({ kind: "tide", at: story.now + 4 * HOUR, bound: "latest", state: "runs" });
    expect(runningBounds(factsOf(story, { tide: tideFrom(story.now + HOUR) }))).toMatchObject([{ kind: "tide", at: null, state: "stopped" }]);
  });

  it("say what cannot be met, ahead of time too", () => {
    const story = new Story().release("1", "2", "3", "4", "5", "6").later(5 * HOUR);
    const [over] = runningBounds(factsOf(story));
    expect(over).toMatchObject({ kind: "maximum wait", line: "7", from: "6", state: "cannot be met" });
  });

  it("hold a least wait until it is over, and no clock that is done", () => {
    const story = new Story().release(...BEFORE_COVER, ...BATCH, "17", "18", "19", "20", "21");
    const clocks = new Map([["22", { form: "maturity" as const, from: "21", since: endedAt(story, "21"), state: "done" as const, earliest: story.now }]]);
    const kinds = (at: number) => runningBounds(factsOf(story, { clocks, at })).map(({ kind, line }) => [kind, line]);
    expect(kinds(story.now)).toEqual([["least wait", "25"]]);
    expect(kinds(story.now + 700 * HOUR)).toEqual([]);
  });
});
