/** Where a pulled dolly let go; it is part of the verdict. */
export const FAILURE_MODES = ["in the substrate", "at the bond", "in the coat", "in the glue"] as const;
export type FailureMode = (typeof FAILURE_MODES)[number];

const GUARD = 1e-9;

/**
 * Stress of a pull-off test, MPa: F over the area of the dolly.
 * @throws RangeError for a force that is negative, or a dolly that is not more than zero.
 */
export function pullOffMpa(forceN: number, dollyMm: number): number {
  if (!(forceN >= 0 && Number.isFinite(forceN))) throw new RangeError("A force is zero or more.");
  if (!(dollyMm > 0 && Number.isFinite(dollyMm))) throw new RangeError("A dolly is wider than nothing.");
  const stressMpa = forceN / ((Math.PI / 4) * dollyMm ** 2);
  if (!Number.isFinite(stressMpa)) throw new RangeError("A stress has to be a finite number.");
  return stressMpa;
}

/**
 * Holds a pull-off test against a least stress. Where the glue of the dolly let go, nothing can be told: the bond held at least so much, and nobody saw
 * where it would have parted. A failure at the bond or in the coat at a sufficient stress is as the requirement says: it meets the stress alone, and fails
 * where a failure in the substrate is asked for as well.
 *
 * @param leastMpa  Least stress, MPa, zero or more.
 * @param inSubstrate  Whether the failure has to lie in the substrate.
 * @throws RangeError as `pullOffMpa` does, and for a least stress that is not finite or negative.
 * @source ACI 440.2R and ASTM D7522 ask for 200 psi and failure in the substrate, from memory; the requirement decides.
 */
export function pullOffFinding(
  { forceN, dollyMm, mode }: { forceN: number; dollyMm: number; mode: FailureMode },
  { leastMpa, inSubstrate }: { leastMpa: number; inSubstrate: boolean },
): { stressMpa: number; verdict: "meets" | "fails" | "cannot tell"; because: string } {
  if (!(leastMpa >= 0 && Number.isFinite(leastMpa))) throw new RangeError("A least stress is zero or more.");
  const stressMpa = pullOffMpa(forceN, dollyMm);
  const reached = stressMpa >= leastMpa * (1 - GUARD);
  if (mode === "in the glue") {
    return { stressMpa, verdict: "cannot tell", because: reached ? "the glue of the dolly let go, so that nobody saw where the bond would have parted" : "the glue of the dolly let go before the least stress was reached" };
  }
  if (!reached) return { stressMpa, verdict: "fails", because: "the least stress was not reached" };
  if (inSubstrate && mode !== "in the substrate") return { stressMpa, verdict: "fails", because: `it let go ${mode}, and the substrate is asked for` };
  return { stressMpa, verdict: "meets", because: "" };
}
