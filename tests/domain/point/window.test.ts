import { describe, expect, it } from "vitest";
import type { Instant } from "#lib/domain/instant";
import { photoWindow, startedBeforeRelease, type WindowFacts } from "#lib/domain/point/window";
import type { PlanLine } from "#lib/domain/plan/plan";
import { BEFORE_COVER, H, HOUR, lineOf, linesOf, MINUTE, OPEN_SITE, PROJECT_LINES, Story } from "#tests/domain/point/factory";

const RECEIVED = (story: Story): Instant => story.now + 5 * MINUTE;

function facts(story: Story, clockDone: Record<string, Instant> = {}): WindowFacts {
  return {
    lines: story.lines,
    standings: new Map([...story.fold()].map(([line, { standing }]) => [line, standing])),
    outside: story.outside,
    clockDoneAt: (line) => clockDone[line] ?? null,
  };
}

interface Sent {
  attempt?: number;
  beforeSeq?: number;
  clockDone?: Record<string, Instant>;
  subject?: string;
}
function windowOf(story: Story, id: string, { attempt = 1, beforeSeq = Number.POSITIVE_INFINITY, clockDone, subject }: Sent = {}) {
  const line = lineOf(id, story.lines);
  const asked = subject === undefined ? line.photos[0] : line.photos.find((one) => one.id === subject);
  return photoWindow(facts(story, clockDone), line, asked!, { attempt, beforeSeq, receivedAt: RECEIVED(story) });
}

const trail = (story: Story, line: string) => story.status(line).standing.trail!;
const endOf = (story: Story, line: string) => trail(story, line).submission.workEnded;
const beganOf = (story: Story, line: string) => trail(story, line).submission.workBegan;
const releasedAt = (story: Story, line: string) => trail(story, line).decisions.at(-1)!.at;
const seqOf = (story: Story, line: string) => trail(story, line).submission.seq;

describe("a photo's window opens", () => {
  it("with nothing before it where nothing has let the point begin", () => {
    expect(windowOf(new Story(), "1").from).toBeNull();
  });

  it("with the release of the hold point that it stands on", () => {
    const story = new Story().release("1", "2", "3", "4");
    expect(windowOf(story, "5").from).toBe(releasedAt(story, "4"));
  });

  it.each([["3", "2"], ["4", "3"]])("at point %s with the end of the work at %s, which is no hold point", (line, before) => {
    const story = new Story().release("1", "2", "3");
    expect(windowOf(story, line).from).toBe(endOf(story, before));
    expect(releasedAt(story, before)).toBeGreaterThan(endOf(story, before));
  });

  it("with the last of several that let it begin", () => {
    const story = new Story().release("1", "2", "3", "4", "5", "6", "8", "9", "7");
    expect(windowOf(story, "10").from).toBe(releasedAt(story, "7"));
  });

  it("on a timber pile passes through what does not apply", () => {
    const story = new Story(linesOf("T")).release("1", "2", "3", "4", "5").submit("8");
    expect(windowOf(story, "10").from).toBe(endOf(story, "8"));
    const unfitted = new Story(linesOf("T")).release("1", "2", "3", "4", "5");
    expect(windowOf(unfitted, "10").from).toBe(releasedAt(unfitted, "5"));
  });

  it.each([["17", "16"], ["22", "21"]])("at clock point %s with the clock's earliest instant, later than the end of the work at %s", (line, before) => {
    const story = new Story().release(...BEFORE_COVER, "11", "12", "13", "14", "15", "16", "17", "18", "19", "20", "21");
    const done = endOf(story, before) + 18 * HOUR;
    expect(windowOf(story, line, { clockDone: { [line]: done } }).from).toBe(done);
    expect(windowOf(story, line).from).toBe(endOf(story, before));
  });

  it("for specimens when work began at the first lift, and for the top when the lifts had ended", () => {
    const story = new Story().release(...BEFORE_COVER, "11", "12", "13", "14", "15", "16", "17", "18", "19", "20");
    expect(windowOf(story, "21", { subject: "specimens" }).from).toBe(beganOf(story, "19"));
    expect(windowOf(story, "21", { subject: "top" }).from).toBe(endOf(story, "20"));
  });

  it("for the last look when the work of every point that will be hidden has ended", () => {
    const story = new Story().release(...BEFORE_COVER);
    expect(windowOf(story, "11").from).toBe(endOf(story, "10"));
    // The connectors were moved after the spacers stood.
    const redone = new Story().release(...BEFORE_COVER).later(HOUR).decide("8", "reopen").submit("8");
    expect(windowOf(redone, "11").from).toBe(endOf(redone, "8"));
  });

  it("with the mock-up's second release", () => {
    const project = new Story([...PROJECT_LINES], []).release("P1").submit("P4").decide("P4").decide("P4", "release", { by: "engineer", role: "engineer" });
    const outside = OPEN_SITE.map((one) => ({ ...one, standing: project.status(one.line).standing }));
    expect(windowOf(new Story(H, outside), "1").from).toBe(releasedAt(project, "P4"));
  });
});

describe("the window of a later attempt", () => {
  it.each(["reject", "reopen"] as const)("opens no earlier than the %s before it", (outcome) => {
    const story = new Story().release("1", "2", "3").submit("4");
    if (outcome === "reopen") story.decide("4");
    story.later(3 * HOUR).decide("4", outcome);
    expect(windowOf(story, "4", { attempt: 2 }).from).toBe(story.now);
    expect(windowOf(story, "4", { attempt: 1 }).from).toBe(endOf(story, "3"));
  });

  it("of a re-check opens when the wait ran out, not when it was sent", () => {
    const story = new Story().release("1", "2", "3", "4");
    const ranOut = endOf(story, "4") + 96 * HOUR;
    story.later(97 * HOUR);
    expect(windowOf(story, "4", { attempt: story.status("4").attempt }).from).toBe(ranOut); // while it is being written
    story.submit("4", { took: 20 });
    expect(windowOf(story, "4", { attempt: 2, beforeSeq: seqOf(story, "4") }).from).toBe(ranOut);
    expect(ranOut).toBeLessThan(beganOf(story, "4"));
  });

  it("of a re-check sent after one was taken back opens there too", () => {
    const story = new Story().release("1", "2", "3", "4");
    const ranOut = endOf(story, "4") + 96 * HOUR;
    story.later(97 * HOUR).submit("4").withdraw("4").submit("4");
    expect(windowOf(story, "4", { attempt: 2 }).from).toBe(ranOut);
  });

  it("of a re-check after a refused one opens with the refusal", () => {
    const story = new Story().release("1", "2", "3", "4").later(97 * HOUR).submit("4").decide("4", "reject");
    expect(windowOf(story, "4", { attempt: 3 }).from).toBe(story.now);
  });
});

describe("what happens later moves no window", () => {
  it("when a point it stands on is confirmed after a doubt", () => {
    const story = new Story().release("1", "2", "3", "4", "5").submit("6");
    const from = windowOf(story, "6", { beforeSeq: seqOf(story, "6") }).from;
    story.decide("4", "reopen").release("4").decide("5");
    expect(windowOf(story, "6", { beforeSeq: seqOf(story, "6") }).from).toBe(from);
    // Nor for photos that were taken between, and are sent after it.
    expect(windowOf(story, "6").from).toBe(from);
  });

  it("when a point it stands on is reopened and released anew after it was sent", () => {
    const story = new Story().release("1", "2", "3", "4").submit("5");
    const sent = { beforeSeq: seqOf(story, "5") };
    const from = releasedAt(story, "4");
    expect(windowOf(story, "5", sent).from).toBe(from);
    story.decide("4", "reopen").release("4");
    expect(windowOf(story, "5", sent).from).toBe(from);
  });

  it("when a point it stands on is renewed by a re-check", () => {
    const story = new Story().release("1", "2", "3", "4");
    const from = releasedAt(story, "4");
    story.later(97 * HOUR).submit("4");
    expect(windowOf(story, "5").from).toBe(from);
    expect(windowOf(story.decide("4"), "5").from).toBe(from);
  });

  it("but a release after a refusal does", () => {
    const story = new Story().release("1", "2", "3", "4").decide("4", "reopen").release("4");
    expect(windowOf(story, "5").from).toBe(releasedAt(story, "4"));
  });

  it("and a submission taken back opens nothing", () => {
    const story = new Story().release("1").submit("2");
    const first = endOf(story, "2");
    story.check("2", "sent back").submit("2");
    expect(windowOf(story, "3").from).toBe(endOf(story, "2"));
    expect(endOf(story, "2")).toBeGreaterThan(first);
  });
});

describe("a photo's window closes", () => {
  it("when it reached the server, as long as nothing hides it", () => {
    const story = new Story().release("1", "2", "3");
    expect(windowOf(story, "4").to).toBe(RECEIVED(story));
    expect(windowOf(story, "2").to).toBe(RECEIVED(story));
  });

  it.each([["6", "7"], ["4", "15"], ["5", "15"], ["7", "15"], ["8", "15"], ["9", "15"], ["10", "15"], ["13", "14"], ["18", "19"], ["11", "13"]])(
    "at point %s when work began at %s, which hides it", (line, hider) => {
      const story = new Story();
      for (const one of H.map(({ line: id }) => id).slice(0, H.findIndex(({ line: id }) => id === hider) + 1)) story.release(one);
      expect(windowOf(story, line).to).toBe(beganOf(story, hider));
    });

  it("only while the submission of what hides it stands", () => {
    const story = new Story().release("1", "2", "3", "4", "5", "6").submit("7");
    expect(windowOf(story, "6").to).toBe(beganOf(story, "7"));
    expect(windowOf(story.withdraw("7"), "6").to).toBe(RECEIVED(story));
    story.submit("7").decide("7", "reject");
    expect(windowOf(story, "6").to).toBe(RECEIVED(story));
  });

  it("never by a point that does not apply", () => {
    const story = new Story(linesOf("C"));
    for (const id of ["1", "2", "3", "4", "5", "6"]) story.release(id);
    expect(lineOf("6", story.lines).hiddenBy).toEqual(["7"]);
    expect(windowOf(story, "6").to).toBe(RECEIVED(story));
  });
});

describe("work that began before what it stands on was released", () => {
  const begun = (story: Story, id: string, minutesBefore: number) => {
    const line: PlanLine = lineOf(id, story.lines);
    return startedBeforeRelease(facts(story), line, { workBegan: releasedAt(story, "4") - minutesBefore * MINUTE, beforeSeq: Number.POSITIVE_INFINITY });
  };

  it("is stated with the point and its release", () => {
    const story = new Story().release("1", "2", "3", "4");
    expect(begun(story, "5", 1)).toEqual([{ line: "4", releasedAt: releasedAt(story, "4") }]);
    expect(begun(story, "5", 0)).toEqual([]);
  });

  it("is nothing where it stands on no hold point", () => {
    const story = new Story().release("1", "2", "3", "4");
    expect(begun(story, "4", 600)).toEqual([]);
  });
});
