import type { PointStatus } from "#lib/domain/point/fold";
import type { PileState } from "#lib/domain/point/state";

/**
 * What a pile is, from its points and the owner's acceptance.
 *
 * A pile accepted by the owner becomes in doubt when something it stands on is taken back later. It awaits results when
 * everything but the strength results and the final inspection is released. Taken out of scope, it stays so.
 *
 * @param acceptedSeq log place of the last acceptance by the owner; 0 for none.
 */
export function pileState(points: readonly PointStatus[], acceptedSeq: number): PileState {
  if (points.some(({ state }) => state === "out of scope")) return "out of scope";
  if (points.some(({ state }) => state === "in doubt")) return "in doubt";
  const takenBackSince = points.some(({ standing }) => standing.brokenSeq > acceptedSeq);
  if (acceptedSeq > 0) return takenBackSince ? "in doubt" : "accepted";
  const begun = points.some(({ standing }) => standing.attempts.some(({ submissions }) => submissions.length > 0));
  if (!begun) return "not started";
  const results = points.find(({ line }) => line === "25");
  const others = points.filter(({ line }) => line !== "25" && line !== "26");
  const done = others.every(({ state }) => state === "released" || state === "not applicable");
  return done && results && results.state !== "released" ? "awaiting results" : "in work";
}
