import { describe, expect, it } from "vitest";
import type { OrderVerdict } from "#lib/domain/photo/verdict";
import type { PhotoFlagCode } from "#lib/domain/photo/flag";
import { needsCheck, mayNotDecide, decidingRole, submittingRole } from "#lib/domain/point/may";
import { photoCounts, questionsOf, unanswered, type GivenAnswer, type JudgedPhoto } from "#lib/domain/point/question";
import { releaseBlocks, releaseBlockWords, type ReleaseFacts } from "#lib/domain/point/release";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import { BEFORE_COVER, H, HOUR, lineOf, member, OPEN_SITE, PROJECT_LINES, Story } from "#tests/domain/point/factory";

const INSPECTOR = member("inspector", ["inspector"]);
const DELEGATE = member("delegate", ["delegate"]);
const ENGINEER = member("engineer", ["engineer"], "engineer");
const QC = member("qc", ["QC manager"], "contractor");

let made = 0;
function photo(subject: string, order: OrderVerdict = "in order", flags: PhotoFlagCode[] = [], parts: Partial<JudgedPhoto> = {}): JudgedPhoto {
  made += 1;
  return { sha256: `${made}`.padStart(64, "0"), subject, order: { verdict: order, bySeconds: null, words: `taken: ${order}` }, flags: flags.map((code) => ({ code, measured: "m", limit: "l" })), ...parts };
}
const answer = (to: JudgedPhoto, code: string, given: GivenAnswer["answer"] = "seen"): GivenAnswer => ({ photo: to.sha256, code, answer: given });

/** Every photo that a point asks for, all in order. */
const sound = (line: string): JudgedPhoto[] => lineOf(line).photos.flatMap(({ id, count }) => Array.from({ length: count }, () => photo(id)));

interface Parts {
  worst?: ValueVerdict | null;
  photos?: JudgedPhoto[];
  answers?: GivenAnswer[];
  who?: typeof INSPECTOR;
  outside?: ReleaseFacts["outside"];
}
function blocks(story: Story, id: string, { worst = "meets", photos = sound(id), answers = [], who = INSPECTOR, outside = story.outside }: Parts = {}) {
  const folded = story.fold();
  const questions = questionsOf(photos, []);
  return releaseBlocks({ line: lineOf(id, story.lines), lines: story.lines, status: folded.get(id)!, folded, outside, worst, photos, questions, answers }, who);
}

const preparation = () => new Story().release("1", "2", "3").submit("4").check("4");

describe("a point may be released", () => {
  it("when everything about it is as it should be", () => {
    expect(blocks(preparation(), "4")).toEqual([]);
  });

  it("not when nothing stands submitted", () => {
    expect(blocks(new Story(), "1")).toEqual([{ kind: "nothing submitted" }]);
    expect(blocks(preparation().withdraw("4"), "4")).toEqual([{ kind: "nothing submitted" }]);
  });

  it("not before the QC manager has checked it, where the crew sent it and somebody else releases", () => {
    const story = new Story().release("1", "2", "3").submit("4");
    expect(blocks(story, "4")).toEqual([{ kind: "not checked" }]);
  });

  it.each<[ValueVerdict | null, boolean]>([
    ["meets", true], ["meets, inside uncertainty", true], [null, true], ["fails", false], ["cannot tell", false], ["not measured", false],
  ])("with values that are %j: %s", (worst, free) => {
    expect(blocks(preparation(), "4", { worst })).toEqual(free ? [] : [{ kind: "value", verdict: worst }]);
  });

  it("in words that say what to do", () => {
    expect([
      ...blocks(new Story(), "1"), ...blocks(new Story().release("1", "2", "3").submit("4"), "4", { worst: "fails", photos: [] }), ...blocks(preparation(), "4", { worst: "not measured" }),
    ].map(releaseBlockWords)).toEqual([
      "Nothing stands submitted at this point.", "The QC manager has not checked it yet.", "A value fails. Reject it, or leave it to whom the plan names.",
      "Close-up with scale: 0 of 4 photos count.", "Overview: 0 of 1 photos count.", "A value is not measured. Reject it and say what is missing.",
    ]);
  });
});

describe("what lies upstream of a release", () => {
  const looked = () => new Story().release(...BEFORE_COVER).submit("11", { by: "qc", role: "QC manager" });

  it("has to be decided and current, every point of it, for a hold point", () => {
    expect(blocks(looked(), "11")).toEqual([]);
    const story = looked().decide("4", "reopen").submit("4");
    expect(blocks(story, "11").map((block) => (block.kind === "upstream" ? `${block.line} ${block.state}` : block.kind))).toEqual([
      "4 submitted", "5 in doubt", "6 in doubt", "7 in doubt", "8 in doubt", "9 in doubt", "10 in doubt",
    ]);
  });

  it("includes record points that were only submitted", () => {
    const story = new Story().release("1", "2", "3", "4", "5").submit("8").release("6", "7", "9").submit("10").check("10").decide("10").submit("11", { by: "qc", role: "QC manager" });
    expect(blocks(story, "11")).toEqual([{ kind: "upstream", line: "8", state: "submitted" }]);
  });

  it("has to have let a witness or record point begin, and no more", () => {
    const story = new Story().release("1", "2", "3", "4", "5").submit("8").release("6", "7", "9").submit("10").check("10");
    expect(blocks(story, "10")).toEqual([]);
    expect(blocks(story.withdraw("8"), "10")).toEqual([{ kind: "upstream", line: "8", state: "open" }, { kind: "upstream", line: "9", state: "in doubt" }]);
  });

  it("blocks only the second point of a wait that ran out", () => {
    const story = looked().later(97 * HOUR);
    expect(blocks(story, "11")).toEqual([{ kind: "upstream", line: "4", state: "expired" }]);
    const between = new Story().release(...BEFORE_COVER.slice(0, 9)).submit("10").check("10").later(97 * HOUR);
    expect(blocks(between, "10")).toEqual([]);
    expect(blocks(between, "4", { photos: sound("4") }).filter(({ kind }) => kind === "upstream")).toEqual([]);
  });

  it("is not the register of today: what was used is judged on the day of use", () => {
    const lapsed = OPEN_SITE.map((one) => (one.register ? { ...one, state: "open" as const, letsGo: false } : one));
    expect(lapsed.filter(({ letsGo }) => !letsGo).map(({ line }) => line)).toEqual(["P2", "P3"]);
    const story = new Story(H, lapsed).release("12", ...BEFORE_COVER, "11", "13", "14", "15", "16").submit("17").check("17");
    expect(blocks(story, "17")).toEqual([]);
  });

  it("is not the access check of another shift, but a reopened one", () => {
    const story = preparation().later(20 * HOUR).submit("1", { worst: "fails" });
    expect(story.status("1").state).toBe("submitted");
    expect(blocks(story, "4")).toEqual([]);
    story.withdraw("1").decide("1", "reopen");
    expect(blocks(story, "4").map((block) => (block.kind === "upstream" ? block.line : block.kind))).toEqual(["1", "2", "3"]);
  });

  it("is the project sheet too", () => {
    const shut = OPEN_SITE.map((one) => (one.line === "P1" ? { ...one, state: "in doubt" as const, letsGo: false } : one));
    expect(blocks(preparation(), "4", { outside: shut })).toEqual([{ kind: "upstream", line: "P1", state: "in doubt" }]);
  });
});

describe("who decides", () => {
  const decides = (story: Story, id: string, who: typeof INSPECTOR, worst: ValueVerdict | null = "meets") => mayNotDecide(lineOf(id, story.lines), story.status(id).standing, who, worst) === null;

  it("is never who sent it or entered a value, whatever roles they hold", () => {
    const both = member("two hats", ["crew lead", "inspector"]);
    expect(decides(preparation(), "4", both)).toBe(true);
    const sent = new Story().release("1", "2", "3").submit("4", { by: "two hats" });
    expect(decides(sent, "4", both)).toBe(false);
    const entered = new Story().release("1", "2", "3").submit("4", { enteredBy: ["crew", "two hats"] });
    expect(decides(entered, "4", both)).toBe(false);
    const withdrawn = new Story().release("1", "2", "3").submit("4", { by: "two hats" }).withdraw("4").submit("4");
    expect(decides(withdrawn, "4", both)).toBe(false); // the same attempt
    const nextAttempt = new Story().release("1", "2", "3").submit("4", { by: "two hats" }).decide("4", "reject").submit("4");
    expect(decides(nextAttempt, "4", both)).toBe(true);
    expect(blocks(sent, "4", { who: both })[0]).toMatchObject({ kind: "person", words: expect.stringContaining("somebody else has to decide") });
  });

  it("of a hold point is independent of the contractor, whatever role the member holds", () => {
    expect(decides(preparation(), "4", member("x", ["inspector"], "contractor"))).toBe(false);
    expect(decides(preparation(), "4", INSPECTOR)).toBe(true);
  });

  it.each([
    ["4", [INSPECTOR, DELEGATE], [QC, ENGINEER]],
    ["6", [INSPECTOR], [DELEGATE, QC, ENGINEER]],
    ["8", [QC], [INSPECTOR, DELEGATE, ENGINEER]],
  ] as const)("of point %s is the role that the plan names", (id, may, mayNot) => {
    const story = new Story().release("1", "2", "3", "4", "5").submit(id === "4" ? "4" : id);
    expect(may.map((who) => decides(story, id, who))).toEqual(may.map(() => true));
    expect(mayNot.map((who) => decides(story, id, who))).toEqual(mayNot.map(() => false));
  });

  it("of a failing survey is the engineer, who alone may release it; the inspector may still refuse", () => {
    const story = new Story().release("1", "2", "3", "4").submit("5", { worst: "fails" }).check("5");
    expect(decides(story, "5", ENGINEER, "meets")).toBe(false);
    expect(decides(story, "5", ENGINEER, "fails")).toBe(true);
    expect(blocks(story, "5", { worst: "fails", who: ENGINEER })).toEqual([]);
    expect(blocks(story, "5", { worst: "fails", who: INSPECTOR })).toEqual([{ kind: "value", verdict: "fails" }]);
    expect(decidingRole(lineOf("5"), ENGINEER, "fails")).toBe("engineer");
    expect(decidingRole(lineOf("5"), INSPECTOR, "fails")).toBe("inspector");
    expect(decidingRole(lineOf("5"), ENGINEER, "meets")).toBeNull();
  });

  it("of low strength is the engineer", () => {
    const story = new Story().release(...BEFORE_COVER, "11", "12", "13", "14", "15", "16", "17", "18", "19", "20", "21").submit("25", { by: "qc", role: "QC manager", worst: "fails" });
    expect(blocks(story, "25", { worst: "fails", who: ENGINEER })).toEqual([]);
    expect(blocks(story, "25", { worst: "fails", who: member("qc two", ["QC manager"], "contractor") })).toEqual([{ kind: "value", verdict: "fails" }]);
  });

  it("of what the QC manager sent and decides is another QC manager or the inspector", () => {
    const both = member("qc", ["crew lead", "QC manager"], "contractor");
    expect(submittingRole(lineOf("8"), both)).toBe("QC manager");
    const story = new Story().release("1", "2", "3", "4", "5").submit("8", { by: "qc", role: submittingRole(lineOf("8"), both)! });
    expect(decides(story, "8", both)).toBe(false);
    expect(decides(story, "8", member("qc two", ["QC manager"], "contractor"))).toBe(true);
    expect(decides(story, "8", INSPECTOR)).toBe(true);
    expect(decides(story, "8", ENGINEER)).toBe(false);
    expect(decides(new Story().release("1", "2", "3", "4", "5").submit("8"), "8", INSPECTOR)).toBe(false); // the crew sent it: the QC manager is there
  });

  it("needs no check by the QC manager of what the QC manager sent, decides, or what stands before any pile", () => {
    const standingOf = (id: string, role: "crew lead" | "QC manager") => new Story([...PROJECT_LINES, ...H]).submit(id, { role }).status(id).standing;
    expect(needsCheck(lineOf("4"), standingOf("4", "crew lead"))).toBe(true);
    expect(needsCheck(lineOf("4"), standingOf("4", "QC manager"))).toBe(false);
    expect(needsCheck(lineOf("8"), standingOf("8", "crew lead"))).toBe(false);
    expect(needsCheck(lineOf("P1"), standingOf("P1", "QC manager"))).toBe(false);
  });

  it("submits only in a role that the plan names", () => {
    expect(submittingRole(lineOf("4"), member("c", ["crew lead"], "contractor"))).toBe("crew lead");
    expect(submittingRole(lineOf("11"), member("c", ["crew lead"], "contractor"))).toBeNull();
    expect(submittingRole(lineOf("4"), member("c", ["crew member"], "contractor"))).toBeNull();
    expect(submittingRole(lineOf("4"), INSPECTOR)).toBeNull();
  });
});

describe("photos", () => {
  it("count once by their digest, under the first subject they were sent with", () => {
    const photos = sound("4");
    const same = { ...photos[0]!, subject: "overview" };
    const four = photos.filter(({ subject }) => subject === "close-up");
    expect(blocks(preparation(), "4", { photos: [...four, same] })).toEqual([{ kind: "photos", subject: "Overview", counted: 0, needed: 1 }]);
    expect(blocks(preparation(), "4", { photos: [...four.slice(0, 3), four[0]!, photo("overview")] })).toEqual([{ kind: "photos", subject: "Close-up with scale", counted: 3, needed: 4 }]);
  });

  it.each<[OrderVerdict, string | null, GivenAnswer["answer"] | null, boolean, boolean]>([
    // verdict, answered flag, answer, counts at a hold point, counts elsewhere
    ["in order", null, null, true, true],
    ["too late", "ORDER_TOO_LATE", "explained", false, false],
    ["too early", "ORDER_TOO_EARLY", "seen", false, false],
    ["clock in doubt", "ORDER_CLOCK_IN_DOUBT", "explained", false, false],
    ["cannot tell", null, null, false, false],
    ["cannot tell", "ORDER_CANNOT_TELL", "seen", true, true],
    ["cannot tell", "ORDER_CANNOT_TELL", "explained", true, true],
    ["cannot tell", "ORDER_CANNOT_TELL", "rejected", false, false],
    ["cannot tell", "GPS_FAR", "seen", false, false],
    ["no time", null, null, false, false],
    ["no time", "TIME_MISSING", "explained", false, true],
    ["no time", "NO_CAMERA_METADATA", "seen", false, true],
    ["no time", "TIME_MISSING", "rejected", false, false],
    ["in order", "GPS_FAR", "rejected", false, false],
    ["in order", "GPS_FAR", "seen", true, true],
  ])("that are %s, %s answered %s: hold point %s, other %s", (order, code, given, hold, other) => {
    const one = photo("s", order);
    const answers = code && given ? [answer(one, code, given)] : [];
    expect([photoCounts(one, answers, true), photoCounts(one, answers, false)]).toEqual([hold, other]);
  });

  it("do not count by an answer given to another photo", () => {
    const [one, two] = [photo("s", "cannot tell"), photo("s", "cannot tell")];
    expect(photoCounts(two, [answer(one, "ORDER_CANNOT_TELL")], true)).toBe(false);
  });

  it("that an editor saved, or that say they were generated, count at no hold point, whatever is answered", () => {
    for (const code of ["SOFTWARE_EDITED", "SYNTHETIC_DECLARED"] as const) {
      const one = photo("s", "in order", [code]);
      expect([photoCounts(one, [answer(one, code)], true), photoCounts(one, [answer(one, code)], false)]).toEqual([false, true]);
    }
  });

  it("whose file stands at another point count nowhere, whatever is answered", () => {
    const one = photo("s", "in order", ["DUP_EXACT"], { elsewhere: true });
    expect(photoCounts(one, [answer(one, "DUP_EXACT", "explained")], false)).toBe(false);
  });
});

describe("questions", () => {
  it("are every flag that is one and every photo that is not in order, but no notes", () => {
    const photos = [photo("a", "in order", ["GPS_MISSING", "NAME_SANITISED", "TIME_ZONE_INFERRED"]), photo("b", "too late", ["GPS_FAR"]), photo("c", "cannot tell", ["TIME_ZONE_ASSUMED_SITE"]), photo("d", "in order", ["TIME_ZONE_ASSUMED_SITE"]), photo("e", "no time", ["TIME_MISSING"])];
    expect(questionsOf(photos, []).map(({ photo: sha256, code }) => [photos.find((one) => one.sha256 === sha256)!.subject, code])).toEqual([
      ["b", "ORDER_TOO_LATE"], ["b", "GPS_FAR"], ["c", "ORDER_CANNOT_TELL"], ["c", "TIME_ZONE_ASSUMED_SITE"], ["e", "TIME_MISSING"],
    ]);
  });

  it("are asked once of each instrument mark of a quantity, and of a lot with its own limit", () => {
    const mark = { quantity: "Torque", instrument: "TW-2", mark: "instrument overdue" };
    const questions = questionsOf([], [mark, mark, { ...mark, quantity: "Gap" }, { quantity: "Resin part A", instrument: "lot A-771", mark: "lot expired", limit: "used before 2026-10-01" }]);
    expect(questions.map(({ title, measured, limit }) => [title, measured, limit])).toEqual([
      ["Torque: instrument overdue", "TW-2", "calibrated on the day of use, and in range"], ["Gap: instrument overdue", "TW-2", "calibrated on the day of use, and in range"],
      ["Resin part A: lot expired", "lot A-771", "used before 2026-10-01"],
    ]);
  });

  it("block until each has an answer of its own", () => {
    const photos = [...sound("4").slice(0, 4), photo("overview", "in order", ["GPS_FAR"])];
    const open = blocks(preparation(), "4", { photos });
    expect(open).toMatchObject([{ kind: "questions", open: [{ code: "GPS_FAR" }] }]);
    expect(releaseBlockWords(open[0]!)).toBe("1 flag is not answered.");
    expect(blocks(preparation(), "4", { photos, answers: [answer(photos[4]!, "GPS_FAR")] })).toEqual([]);
    expect(blocks(preparation(), "4", { photos, answers: [answer(photos[0]!, "GPS_FAR")] })).toMatchObject([{ kind: "questions" }]);
    expect(unanswered(questionsOf(photos, []), [answer(photos[4]!, "GPS_FAR")])).toEqual([]);
  });
});
