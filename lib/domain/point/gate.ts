import { shiftOf, type Shift } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { Standing, SubmissionTrail } from "#lib/domain/point/attempt";

/**
 * Whether a shift's access check stands for work that began at an instant: a released entry whose own work lies in the
 * same shift. Its lapse at the end of the shift reopens nothing.
 */
export function gateStands(gate: Standing, workBegan: Instant, zone: string, shift: Shift): boolean {
  return gateShifts(gate, zone, shift).includes(shiftOf(workBegan, zone, shift).date);
}

/** The shifts in which the access check stands, by the dates that they carry. */
export function gateShifts(gate: Standing, zone: string, shift: Shift): string[] {
  return releasedEntries(gate).map(({ submission }) => shiftOf(submission.workEnded, zone, shift).date);
}

/** The access checks that were released, of whatever shift. One of them is enough for what was built under it to go on. */
export function releasedEntries(gate: Standing): SubmissionTrail[] {
  return gate.attempts.flatMap(({ submissions }) => submissions).filter(({ withdrawn, decisions }) => !withdrawn && decisions.at(-1)?.outcome === "release");
}
