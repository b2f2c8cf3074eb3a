/** How far this screen's clock is from the project's, and how well that is known. */
export interface MeasuredClock {
  /** To be added to this device's clock, milliseconds. */
  offsetMs: number;
  /** ± milliseconds: half the exchange. */
  uncertaintyMs: number;
  /** When it was measured, by the device's clock and by its counter: when the two part, the clock was set or the device slept. */
  wallMs: number;
  counterMs: number;
}

const TRIES = 5;
/** An exchange that took longer says too little about a second. Milliseconds; common practice, no source. */
export const MOST_UNCERTAINTY_MS = 500;
/** A clock is measured anew after this, and not trusted after the second. Milliseconds; common practice, no source. */
export const RENEW_MS = 60_000;
export const TOO_OLD_MS = 300_000;
/** The two clocks of a device run apart by less than this between two measurements. Milliseconds; common practice, no source. */
const JUMP_MS = 200;

/** Measures the quickest of a few exchanges with the server. Rejects when it cannot be reached. */
export async function measureClock(project: string): Promise<MeasuredClock> {
  let best: MeasuredClock | undefined;
  for (let turn = 0; turn < TRIES; turn += 1) {
    const sentAt = performance.now();
    const answer = await fetch(`/p/${project}/now`, { cache: "no-store" });
    const counterMs = performance.now();
    const wallMs = Date.now();
    if (!answer.ok) throw new Error(`The server answered ${answer.status}.`);
    const { now } = (await answer.json()) as { now: string };
    const uncertaintyMs = (counterMs - sentAt) / 2;
    if (best && best.uncertaintyMs <= uncertaintyMs) continue;
    best = { offsetMs: Date.parse(now) + uncertaintyMs - wallMs, uncertaintyMs, wallMs, counterMs };
  }
  if (!best) throw new Error("The clock was not measured.");
  return best;
}

/** Whether a measurement still holds: not too old, and this device's clock not set meanwhile. */
export function stillHolds({ wallMs, counterMs }: MeasuredClock, wallNow: number, counterNow: number): boolean {
  const passed = counterNow - counterMs;
  return passed <= TOO_OLD_MS && Math.abs(wallNow - wallMs - passed) <= JUMP_MS;
}
