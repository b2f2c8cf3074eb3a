import { describe, expect, it } from "vitest";
import { pileState } from "#lib/domain/point/pile-state";
import { downstream } from "#lib/domain/plan/plan";
import { BEFORE_COVER, H, lineOf, Story } from "#tests/domain/point/factory";

const AFTER_4 = ["5", "6", "7", "8"];
const upTo8 = (): Story => new Story().release("1", "2", "3", "4", "5", "6", "7", "8");

describe("a revision that reaches back to a signed point", () => {
  it("puts the point and every signed point that stands on it in doubt, and no other", () => {
    const story = upTo8().reachBack("4");
    const doubtful = H.map(({ line }) => line).filter((line) => story.status(line).state === "in doubt");
    expect(doubtful).toEqual(["4", ...downstream(H, lineOf("4")).filter((line) => AFTER_4.includes(line))]);
    expect(story.states(["1", "2", "3"])).toEqual(["released", "released", "released"]);
    expect(story.status("9").state).toBe("not open");
  });

  it.each(["would fail", "needs a value"] as const)("does so where it %s", (finding) => {
    expect(upTo8().reachBack("8", finding).status("8").state).toBe("in doubt");
  });

  it("is answered by deciding the point again; what stands on it is decided after it, one by one", () => {
    const story = upTo8().reachBack("5").decide("5");
    expect(story.states(["4", "5", "6", "7", "8"])).toEqual(["released", "released", "in doubt", "in doubt", "in doubt"]);
    expect(story.decide("6").decide("7").decide("8").states(["5", "6", "7", "8"])).toEqual(["released", "released", "released", "released"]);
    expect(story.status("9").state).toBe("open");
  });

  it("is not answered by a decision that came before it", () => {
    expect(new Story().release("1", "2", "3").submit("4").decide("4").decide("4").reachBack("4").status("4").state).toBe("in doubt");
  });

  it("leaves a refused point open to its next attempt, and what stands on it in doubt until it is decided again", () => {
    const story = upTo8().reachBack("4").decide("4", "reject");
    expect(story.status("4")).toMatchObject({ state: "rejected", attempt: 2, mayBegin: true });
    story.submit("4").decide("4");
    expect(story.states(["4", "5"])).toEqual(["released", "in doubt"]);
  });

  it("asks all of them to decide again where all are needed", () => {
    const both = H.map((line) => (line.line === "4" ? { ...line, release: { ...line.release, roles: ["inspector" as const, "engineer" as const], all: true } } : line));
    const engineer = { by: "engineer", role: "engineer" as const };
    const story = new Story(both).release("1", "2", "3").submit("4").decide("4").decide("4", "release", engineer).reachBack("4").decide("4");
    expect(story.status("4")).toMatchObject({ state: "in doubt", standing: { releasedBy: ["inspector"] } });
    expect(story.decide("4", "release", engineer).status("4").state).toBe("released");
  });

  it("says nothing at a point where nothing stands", () => {
    const story = new Story().release("1", "2", "3").reachBack("4");
    expect(story.status("4")).toMatchObject({ state: "open", doubtSeq: 0 });
    expect(story.submit("4").decide("4").status("4").state).toBe("released");
    const withdrawn = new Story().release("1", "2", "3").submit("4").withdraw("4").reachBack("4");
    expect(withdrawn.status("4").state).toBe("open");
  });

  it("keeps a submission that is not decided yet from letting others begin until it is", () => {
    const story = new Story().release(...BEFORE_COVER, "11").submit("12").reachBack("12");
    expect(story.status("12")).toMatchObject({ state: "in doubt", letsGo: false });
    expect(story.decide("12", "release", { by: "qc two", role: "QC manager" }).status("12")).toMatchObject({ state: "released", letsGo: true });
  });

  it("puts an accepted pile in doubt until its points are decided again and it is accepted again", () => {
    const story = upTo8();
    const accepted = story.events.length + 1;
    const state = (since: number): string => pileState([...story.fold().values()], since);
    expect(state(accepted)).toBe("accepted");
    story.reachBack("8").reachBack("8");
    expect(state(accepted)).toBe("in doubt");
    story.decide("8");
    expect(state(accepted)).toBe("in doubt");
    expect(state(story.events.length + 1)).toBe("accepted");
  });
});
