import { describe, expect, it } from "vitest";
import { currentAttempt, releasedSince, standing } from "#lib/domain/point/attempt";
import { foldSheet, workBlocks } from "#lib/domain/point/fold";
import { buildPlan, requirementSet } from "#lib/domain/plan/plan";
import { writeRevision } from "#seed/specification";
import { BEFORE_COVER, H, HOUR, lineOf, linesOf, MINUTE, PROJECT_LINES, SHUT_SITE, Story } from "#tests/domain/point/factory";

describe("a point of a new pile", () => {
  it("is open when what it stands on lets it begin, and not open otherwise, with every reason", () => {
    const story = new Story();
    expect(story.states(["1", "2", "12"])).toEqual(["open", "not open", "open"]);
    expect(story.status("2").blocks).toEqual([{ code: "predecessor", line: "1", state: "open" }]);
    expect(story.status("10").blocks.map(({ line }) => line)).toEqual(["7", "9", "8"]);
    expect(story.status("1")).toMatchObject({ mayBegin: true, maySend: true, attempt: 1, letsGo: false, doubtSeq: 0 });
  });

  it("waits for the project sheet", () => {
    expect(new Story(H, SHUT_SITE).status("1")).toMatchObject({ state: "not open", blocks: [{ line: "P1" }, { line: "P4" }] });
  });

  it("that does not apply lets the next go and asks for nothing", () => {
    const story = new Story(linesOf("T"));
    expect(story.status("7")).toMatchObject({ state: "not applicable", letsGo: true, mayBegin: false, maySend: false, blocks: [] });
    story.release("1", "2", "3", "4", "5").submit("8");
    expect(story.status("10").mayBegin).toBe(true);
  });
});

describe("what lets the next point begin", () => {
  it("is the release of a hold point and nothing less", () => {
    const story = new Story().release("1", "2", "3").submit("4").check("4");
    expect(story.status("4").state).toBe("QC checked");
    expect(story.status("5").state).toBe("not open");
    expect(story.decide("4").status("5").state).toBe("open");
  });

  it("is the release of a witness point", () => {
    const story = new Story().release("1", "2").submit("3");
    expect(story.status("4").state).toBe("not open");
    expect(story.decide("3").status("4").state).toBe("open");
  });

  it.each([
    ["meets", "open"],
    ["meets, inside uncertainty", "open"],
    ["cannot tell", "open"],
    ["not measured", "open"],
    [null, "open"],
    ["fails", "not open"],
  ] as const)("is the sending of a record point with no value that fails: %s leaves the next %s", (worst, state) => {
    expect(new Story().release("1").submit("2", { worst }).status("3").state).toBe(state);
  });

  it("is a release by the system where the plan says so: what does not meet stays submitted and blocks", () => {
    const story = new Story().submit("1", { worst: "not measured" });
    expect(story.states(["1", "2"])).toEqual(["submitted", "not open"]);
    expect(new Story().submit("1").decide("1", "release", { by: null, role: null }).status("2").state).toBe("open");
  });

  it.each([
    ["meets", "open"],
    ["fails", "not open"],
  ] as const)("inside one resin batch is the sending of a witness point: %s leaves the next %s", (worst, state) => {
    const story = new Story().release(...BEFORE_COVER, "11", "12").submit("13", { worst });
    expect(story.status("14").state).toBe(state);
    if (state === "open") expect(story.submit("14").submit("15").submit("16").states(["13", "16", "17"])).toEqual(["submitted", "submitted", "not open"]);
  });
});

describe("an attempt", () => {
  it("goes on after a withdrawal or a return, and the next submission belongs to it", () => {
    for (const story of [new Story().submit("1").withdraw("1"), new Story().submit("1").check("1", "sent back")]) {
      expect(story.status("1")).toMatchObject({ state: "open", attempt: 1, mayBegin: true });
      expect(story.submit("1").status("1")).toMatchObject({ state: "submitted", attempt: 1 });
      expect(story.status("1").standing.attempts.map(({ submissions }) => submissions.length)).toEqual([2]);
    }
  });

  it("ends with a rejection: the point is rejected until a second one is sent", () => {
    const story = new Story().release("1", "2", "3").submit("4").decide("4", "reject");
    const rejectedAt = story.now;
    expect(story.status("4")).toMatchObject({ state: "rejected", attempt: 2, mayBegin: true, letsGo: false });
    expect(story.submit("4").status("4")).toMatchObject({ state: "submitted", attempt: 2 });
    expect(story.status("4").standing.attempts[1]).toMatchObject({ number: 2, beganAfter: rejectedAt });
    expect(story.decide("4").status("4")).toMatchObject({ state: "released", attempt: 2 });
  });

  it("is not decided by a word about a submission that does not stand any more", () => {
    const story = new Story().submit("1").withdraw("1");
    const gone = story.last("1");
    story.submit("1");
    const stale = { type: "decided" as const, seq: 90, at: story.now, line: "1", decisionId: "x", submissionId: gone, by: "qc", role: "QC manager" as const, outcome: "release" as const };
    expect(standing(lineOf("1"), [...story.events, stale]).released).toBe(false);
  });
});

describe("two releases", () => {
  const needed = () => new Story([...PROJECT_LINES], []).submit("P1", { role: "QC manager" }).decide("P1", "release", { role: "engineer" });

  it("are needed where the plan names two roles", () => {
    const story = needed().submit("P4", { role: "QC manager" }).decide("P4");
    expect(story.status("P4")).toMatchObject({ state: "submitted", letsGo: false, standing: { released: false, releasedBy: ["inspector"] } });
    expect(story.decide("P4").status("P4").state).toBe("submitted");
    expect(story.decide("P4", "release", { by: "engineer", role: "engineer" }).status("P4")).toMatchObject({ state: "released", letsGo: true });
  });

  it("are needed again after a doubt: one of them does not end it", () => {
    const story = needed().submit("P4", { role: "QC manager" }).decide("P4").decide("P4", "release", { by: "engineer", role: "engineer" });
    story.decide("P1", "reopen", { role: "engineer" }).submit("P1", { role: "QC manager" }).decide("P1", "release", { role: "engineer" });
    expect(story.status("P4")).toMatchObject({ state: "in doubt", standing: { releasedBy: [] } });
    expect(story.decide("P4").status("P4")).toMatchObject({ state: "in doubt", letsGo: false, standing: { releasedBy: ["inspector"] } });
    expect(story.decide("P4", "release", { by: "engineer", role: "engineer" }).status("P4")).toMatchObject({ state: "released", letsGo: true });
    expect(releasedSince(story.status("P4").standing, story.status("P4").doubtSeq)).toEqual(["inspector", "engineer"]);
  });
});

describe("something taken back upstream", () => {
  const covered = () => new Story().release(...BEFORE_COVER, "11");

  it("puts everything that stands on it in doubt, and nothing beside it", () => {
    const story = covered().submit("12").decide("4", "reopen");
    expect(story.states(["3", "4", "5", "6", "7", "8", "9", "10", "11", "12"])).toEqual(["released", "open", ...Array<string>(7).fill("in doubt"), "submitted"]);
    expect(story.status("4")).toMatchObject({ attempt: 2, mayBegin: true, standing: { refusal: { outcome: "reopen" } } });
    expect(story.status("13")).toMatchObject({ state: "not open", blocks: [{ line: "11", state: "in doubt" }] });
    expect(story.status("5").mayBegin).toBe(false);
  });

  it("is decided again one by one, and a point behind another stays in doubt until its own turn", () => {
    const story = covered().decide("4", "reopen").release("4");
    expect(story.states(["4", "5", "6", "7"])).toEqual(["released", "in doubt", "in doubt", "in doubt"]);
    story.decide("5");
    expect(story.states(["5", "6", "7"])).toEqual(["released", "in doubt", "in doubt"]);
    for (const line of ["6", "7", "8", "9", "10", "11"]) story.decide(line);
    expect(story.states(["4", "5", "6", "7", "8", "9", "10", "11"]).every((state) => state === "released")).toBe(true);
    expect(story.status("12").state).toBe("open");
    expect(story.status("13").state).toBe("open");
  });

  it("is settled by a new submission made after it", () => {
    const story = covered().decide("4", "reopen").release("4").decide("5", "reject").submit("5");
    expect(story.states(["5", "6"])).toEqual(["submitted", "in doubt"]);
  });

  it("reaches the pile from the project sheet", () => {
    const project = new Story([...PROJECT_LINES], []).submit("P1", { role: "QC manager" }).decide("P1", "release", { role: "engineer" });
    const outside = (seqOffset: number) => [...foldSheet(project.facts())].map(([line, status]) => {
      const found = lineOf(line);
      return { ...status, line, kind: found.kind, register: found.register !== null, letsGo: true, standing: { ...status.standing, brokenSeq: status.standing.brokenSeq ? seqOffset : 0 } };
    });
    const pile = new Story(H, outside(0)).submit("1").decide("1", "release", { by: null, role: null });
    expect(pile.status("1").state).toBe("released");
    project.decide("P1", "reopen", { role: "engineer" });
    expect(foldSheet({ ...pile.facts(), outside: outside(99) }).get("1")?.state).toBe("in doubt");
  });

  it("inside a batch is a withdrawal too, because the batch went on", () => {
    const story = covered().submit("12").submit("13").submit("14").withdraw("13");
    expect(story.states(["13", "14"])).toEqual(["open", "in doubt"]);
  });

  it.each(["withdraw", "sent back"])("is nothing where the submission had let nobody begin: %s of one at a hold point", (act) => {
    const story = covered().decide("5", "reopen").submit("5");
    const before = story.status("5").standing.brokenSeq;
    if (act === "withdraw") story.withdraw("5");
    else story.check("5", "sent back");
    expect(story.status("5").standing.brokenSeq).toBe(before);
  });
});

describe("a maximum wait", () => {
  // From the end of the preparation to the release of the last look: 96 h.
  const prepared = () => new Story().release(...BEFORE_COVER);
  const endOf = (story: Story, line: string) => story.status(line).standing.trail!.submission.workEnded;

  it("shows its first point expired once it ran out, blocks its second alone, and leaves those between", () => {
    const story = prepared();
    const until = endOf(story, "4") + 96 * HOUR;
    expect(story.states(["4", "11"], until)).toEqual(["released", "open"]);
    expect(story.states([...BEFORE_COVER, "11", "12"], until + 1)).toEqual(["released", "released", "released", "expired", ...Array<string>(6).fill("released"), "not open", "open"]);
    expect(story.status("11", until + 1)).toMatchObject({ mayBegin: false, maySend: false, blocks: [{ code: "expired", line: "4", ranOutAt: until }] });
    expect(story.status("4", until + 1)).toMatchObject({ mayBegin: true, letsGo: true, attempt: 2 });
  });

  it("says until when the state of both its points holds", () => {
    const story = prepared();
    const until = endOf(story, "4") + 96 * HOUR;
    expect(story.status("4").holdsUntil).toBe(until);
    expect(story.status("11").holdsUntil).toBe(until);
    expect(story.status("4").runningWaits).toMatchObject([{ at: "11", until, over: false }]);
  });

  it("runs from the end of the work, never from the release", () => {
    const story = new Story().release("1", "2", "3").submit("4").later(50 * HOUR).decide("4");
    expect(story.status("4").holdsUntil).toBe(endOf(story, "4") + 96 * HOUR);
  });

  it("ends with the release of its second point and never comes back", () => {
    const story = prepared().release("11").later(1_000 * HOUR);
    expect(story.states(["4", "11"])).toEqual(["released", "released"]);
    expect(story.status("4").runningWaits).toEqual([]);
  });

  it("shows a preparation expired that was never decided in time, and lets it be checked again", () => {
    const story = new Story().release("1", "2", "3").submit("4").later(97 * HOUR);
    expect(story.status("4")).toMatchObject({ state: "expired", mayBegin: true, attempt: 2, standing: { released: false } });
    expect(story.submit("4").status("4")).toMatchObject({ state: "submitted", attempt: 2 });
  });

  it("is renewed by a re-check, with nothing between in doubt", () => {
    const story = prepared().later(97 * HOUR).submit("4");
    expect(story.states(["4", "5", "10", "11"])).toEqual(["submitted", "released", "released", "not open"]);
    story.decide("4");
    expect(story.states(["4", "5", "10", "11"])).toEqual(["released", "released", "released", "open"]);
    expect(story.status("4")).toMatchObject({ attempt: 2, holdsUntil: endOf(story, "4") + 96 * HOUR });
  });

  it.each(["withdraw", "sent back"])("stays run out when the re-check is taken back, with nothing in doubt: %s", (act) => {
    const story = prepared().later(97 * HOUR).submit("4");
    if (act === "withdraw") story.withdraw("4");
    else story.check("4", "sent back");
    expect(story.states(["4", "5", "10", "11"])).toEqual(["expired", "released", "released", "not open"]);
    expect(story.status("4")).toMatchObject({ attempt: 2, mayBegin: true });
    expect(story.submit("4").decide("4").status("4")).toMatchObject({ state: "released", attempt: 2 });
    expect(currentAttempt(story.status("4").standing)).toBe(3);
  });

  it("puts downstream in doubt when the re-check is refused", () => {
    expect(prepared().later(97 * HOUR).submit("4").decide("4", "reject").states(["4", "5"])).toEqual(["rejected", "in doubt"]);
  });
});

describe("a wait that ends when work begins", () => {
  // From cleaned holes to resin: 4 h.
  const cleaned = () => new Story().release("1", "2", "3", "4", "5", "6");
  const cleanedAt = (story: Story) => story.status("6").standing.trail!.submission.workEnded;

  it("is met by work that began in time, however long it took and whenever it was sent", () => {
    const story = cleaned();
    const ended = cleanedAt(story);
    story.now = ended + 6 * HOUR;
    expect(story.states(["6", "7"])).toEqual(["expired", "not open"]);
    expect(story.status("7")).toMatchObject({ mayBegin: false, maySend: true });
    expect(workBlocks(story.facts(), "7", ended + 4 * HOUR)).toEqual([]);
    expect(workBlocks(story.facts(), "7", ended + 4 * HOUR + 1)).toMatchObject([{ code: "expired", line: "6" }]);
    story.submit("7", { took: 180, ended: ended + 6 * HOUR });
    expect(story.states(["6", "7"])).toEqual(["released", "submitted"]);
  });

  it("is met to the instant", () => {
    const until = (story: Story) => cleanedAt(story) + 4 * HOUR;
    const inTime = cleaned();
    expect(inTime.submit("7", { took: 60, ended: until(inTime) + HOUR }).later(9 * HOUR).states(["6"])).toEqual(["released"]);
    const late = cleaned();
    expect(late.submit("7", { took: 60, ended: until(late) + HOUR + 1 }).later(9 * HOUR).states(["6"])).toEqual(["expired"]);
  });

  it("begins anew for the attempt after a refusal", () => {
    const story = cleaned().submit("7").decide("7", "reject").later(5 * HOUR);
    expect(story.states(["6", "7"])).toEqual(["expired", "rejected"]);
    expect(story.status("7").mayBegin).toBe(false);
    expect(workBlocks(story.facts(), "7", story.now)).toMatchObject([{ code: "expired", line: "6" }]);
  });
});

describe("a minimum wait", () => {
  it("keeps a point shut until it is over, and is held against when its work began", () => {
    const story = new Story().release(...BEFORE_COVER, "11", "12", "13", "14", "15", "16", "17", "18", "19", "20", "21");
    const until = story.status("21").standing.trail!.submission.workEnded + 672 * HOUR;
    expect(story.status("25", until - 1)).toMatchObject({ state: "not open", maySend: false, holdsUntil: until, blocks: [{ code: "too soon", line: "21", notBefore: until }] });
    expect(story.status("25", until)).toMatchObject({ state: "open", blocks: [] });
    expect(workBlocks(story.facts(until + HOUR), "25", until - MINUTE)).toMatchObject([{ code: "too soon" }]);
    expect(workBlocks(story.facts(until + HOUR), "25", until)).toEqual([]);
  });
});

describe("the access check of every shift", () => {
  const begun = () => new Story().release("1", "2", "3");

  it("may be entered anew as long as work that needs it is left", () => {
    const story = begun();
    expect(story.status("1")).toMatchObject({ state: "released", mayBegin: true });
    expect(story.status("2").mayBegin).toBe(false);
    expect(story.submit("1").status("1")).toMatchObject({ state: "submitted", attempt: 2 });
  });

  it.each(["withdraw", "sent back", "reject"])("that is taken back or refused puts nothing in doubt: %s", (act) => {
    const story = begun().later(20 * HOUR).submit("1", { worst: "fails" });
    if (act === "withdraw") story.withdraw("1");
    else if (act === "reject") story.decide("1", "reject", { by: "qc", role: "QC manager" });
    else story.check("1", "sent back");
    expect(story.states(["1", "2", "3", "4"])).toEqual(["released", "released", "released", "open"]);
    expect(story.submit("1").decide("1").status("1").state).toBe("released");
  });

  it("that was refused before any was released leaves the point rejected", () => {
    expect(new Story().submit("1").decide("1", "reject").status("1").state).toBe("rejected");
  });

  it("that is reopened puts what was built under it in doubt", () => {
    expect(begun().decide("1", "reopen").states(["1", "2", "3"])).toEqual(["open", "in doubt", "in doubt"]);
  });
});

describe("a register point", () => {
  it("is released while its register holds what it has to, and open otherwise", () => {
    const story = new Story([...PROJECT_LINES], []);
    expect(story.states(["P2", "P3"])).toEqual(["released", "released"]);
    const empty = foldSheet({ ...story.facts(), registers: { instruments: false, lots: true } });
    expect(empty.get("P2")).toMatchObject({ state: "open", letsGo: false, mayBegin: false, maySend: false });
    expect(empty.get("P4")?.blocks.map(({ line }) => line)).toEqual(["P1", "P2"]);
  });
});

describe("an override of a wait", () => {
  it("takes the place of the type's", () => {
    const override = { line: "11", drawing: "S-9", words: "Salt air.", change: { kind: "wait" as const, from: "4", hours: "24" } };
    const { lines } = buildPlan(requirementSet(writeRevision("B"), "H")!, { mark: "02-A", overrides: [override] });
    const story = new Story(lines).release(...BEFORE_COVER);
    expect(story.status("4").holdsUntil).toBe(story.status("4").standing.trail!.submission.workEnded + 24 * HOUR);
  });
});
