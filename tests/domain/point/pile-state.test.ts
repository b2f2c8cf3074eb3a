import { describe, expect, it } from "vitest";
import { gateStands, releasedEntries } from "#lib/domain/point/gate";
import { pileState } from "#lib/domain/point/pile-state";
import { H, HOUR, SHIFT, Story, ZONE } from "#tests/domain/point/factory";

const ALL = H.map(({ line }) => line);
const upTo = (last: string): Story => ALL.slice(0, ALL.indexOf(last) + 1).reduce((story, line) => story.release(line), new Story());
const stateOf = (story: Story, acceptedSeq = 0) => pileState([...story.fold().values()], acceptedSeq);

describe("a pile", () => {
  it("is not started before the first submission, and in work after it", () => {
    expect(stateOf(new Story())).toBe("not started");
    expect(stateOf(new Story().submit("1"))).toBe("in work");
    expect(stateOf(new Story().submit("1").withdraw("1"))).toBe("in work");
  });

  it("awaits results when all but the strength and the final inspection is released", () => {
    expect(stateOf(upTo("23"))).toBe("in work");
    expect(stateOf(upTo("24"))).toBe("awaiting results");
    expect(stateOf(upTo("25"))).toBe("in work");
  });

  it("is accepted by the owner's word alone", () => {
    const story = upTo("26");
    expect(stateOf(story)).toBe("in work");
    expect(stateOf(story, 900)).toBe("accepted");
  });

  it("is in doubt when a point is, and after acceptance until it is accepted again", () => {
    const story = upTo("26");
    const acceptedSeq = story.events.length;
    story.decide("9", "reopen");
    expect(stateOf(story, acceptedSeq)).toBe("in doubt");
    story.release("9");
    for (const line of ["10", "11", ...ALL.slice(12)]) story.decide(line);
    expect(story.states(ALL).every((state) => state === "released")).toBe(true);
    expect(stateOf(story, acceptedSeq)).toBe("in doubt");
    expect(stateOf(story, story.events.length + 1)).toBe("accepted");
  });
});

describe("the access check", () => {
  const at = (text: string) => Date.parse(`2026-10-20T${text}:00-03:00`);
  const entered = () => {
    const story = new Story();
    story.now = at("07:10");
    return story.submit("1", { ended: at("07:05") });
  };

  it("stands for work that began in its own shift, once released", () => {
    const story = entered();
    const stands = (began: number) => gateStands(story.status("1").standing, began, ZONE, SHIFT);
    expect(stands(at("08:00"))).toBe(false);
    story.decide("1", "release", { by: null, role: null });
    expect([stands(at("06:00")), stands(at("08:00")), stands(at("19:59")), stands(at("05:59")), stands(at("08:00") + 24 * HOUR)]).toEqual([true, true, true, false, false]);
  });

  it("stands no longer when it was reopened", () => {
    const story = entered().decide("1").decide("1", "reopen");
    expect(gateStands(story.status("1").standing, at("08:00"), ZONE, SHIFT)).toBe(false);
    expect(releasedEntries(story.status("1").standing)).toEqual([]);
  });
});
