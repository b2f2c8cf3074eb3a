import { describe, expect, it } from "vitest";
import { HOUR, MINUTE, SECOND, type Instant } from "#lib/domain/instant";
import { cameraClock, type CameraReference } from "#lib/domain/photo/camera-clock";
import { clockFinding, restWords, tooFewWords } from "#lib/services/camera-words";

const ZONE = "America/Halifax";
const day = (text: string): Instant => Date.parse(text);

/** References by GPS, an hour apart, of a clock that is ahead of UTC by so much. */
function references(from: Instant, aheadMs: number, count = 3, stepMs = HOUR): CameraReference[] {
  return Array.from({ length: count }, (_, turn) => {
    const at = from + turn * stepMs;
    return { source: "GPS time", photo: `photo-${from}-${turn}`, wall: new Date(at + aheadMs).toISOString().slice(0, -1), at };
  });
}

const finding = (...all: CameraReference[]): string => clockFinding(cameraClock(all)!, ZONE);

describe("the finding of a camera", () => {
  it.each([
    ["on summer time after the clocks went back", references(day("2026-12-01T12:00:00Z"), -3 * HOUR + 50 * SECOND), "50 s fast and is still on summer time, 1 h ahead of the site: 3 of 3 references agree"],
    ["on standard time after the clocks went forward", references(day("2026-04-01T12:00:00Z"), -4 * HOUR - 12 * SECOND), "12 s slow and is still on standard time, 1 h behind the site: 3 of 3 references agree"],
    ["right", references(day("2026-12-01T12:00:00Z"), -4 * HOUR), "on time and on the site's time: 3 of 3 references agree"],
    ["in another zone", references(day("2026-12-01T12:00:00Z"), 5.5 * HOUR + 2 * SECOND), "2 s fast and is set to +05:30, where the site is at −04:00: 3 of 3 references agree"],
    ["of a phone that follows the site", [...references(day("2026-10-28T12:00:00Z"), -3 * HOUR), ...references(day("2026-11-03T12:00:00Z"), -4 * HOUR)], "on time and on the site's time, also when the site's clocks changed: 6 of 6 references agree"],
    ["that was put right late", [...references(day("2026-11-03T12:00:00Z"), -3 * HOUR), ...references(day("2026-11-09T12:00:00Z"), -4 * HOUR)], "on time and on the site's time since it was set: 6 of 6 references agree"],
    ["that gains", references(day("2026-12-01T12:00:00Z"), -4 * HOUR, 5, 24 * HOUR).map((one, turn) => ({ ...one, wall: new Date(one.at - 4 * HOUR + turn * 2 * SECOND).toISOString().slice(0, -1) })), "4 s fast and on the site's time, gaining 2.0 s a day: 5 of 5 references agree"],
  ])("%s is said", (_, all, words) => {
    expect(finding(...all)).toBe(words);
  });

  it("counts those that do not agree", () => {
    const off = references(day("2026-12-01T14:30:00Z"), -4 * HOUR + 7 * MINUTE, 1);
    expect(finding(...references(day("2026-12-01T12:00:00Z"), -4 * HOUR, 6), ...off)).toBe("on time and on the site's time: 6 of 7 references agree");
  });
});

it.each([[0.4, "on time"], [-0.6, "1 s slow"], [119.4, "119 s fast"], [125, "2 min 5 s fast"], [-439.6, "7 min 20 s slow"]])("%s s off is written %j", (seconds, words) => {
  expect(restWords(seconds)).toBe(words);
});

it("says how many are needed where too few are there", () => {
  const [one, two] = references(day("2026-12-01T12:00:00Z"), -4 * HOUR) as [CameraReference, CameraReference];
  expect([[], [one], [one, two]].map(tooFewWords)).toEqual([
    "Nothing tells how its clock runs: no photo of it carries GPS time, and none shows the clock page",
    "1 reference, and three are needed, or one photo of the clock page",
    "2 references, and three are needed, or one photo of the clock page",
  ]);
});
