import type { Instant } from "#lib/domain/instant";
import { SECOND } from "#lib/domain/instant";
import type { DerivedInstant } from "#lib/domain/photo/derived-instant";
import type { OrderVerdict } from "#lib/domain/photo/verdict";

/** When a photo has to have been taken. `from` is null where nothing has to come before it. */
export interface PhotoWindow {
  readonly from: Instant | null;
  readonly to: Instant;
}

type FormatTime = (instant: Instant) => string;

export interface OrderFinding {
  readonly verdict: OrderVerdict;
  /**
   * How far the nearest reading lies outside the bound it misses, seconds, without its uncertainty; null where it misses
   * none for certain.
   */
  readonly bySeconds: number | null;
  /** The finding as a sentence of facts. */
  readonly words: string;
}

/**
 * Judges a photo against its window [from, to]. With instant t and uncertainty u: *in order* when t − u ≥ from and t + u ≤
 * to; *too early* when t + u < from; *too late* when
 * t − u > to; else *cannot tell*. Where several readings are possible the verdict stands only if it is the same for each.
 * A photo later than its receipt plus u is *clock in doubt*, and
 * so is one whose readings differ because the phone's clock was found wrong or the camera's is not as it was confirmed.
 *
 * @param receivedAt  When the submission with the photo reached the server.
 * @param formatTime  Writes an instant for the reader, in the site's zone.
 */
export function orderVerdict(
  derived: Pick<DerivedInstant, "hypotheses" | "uncertaintySeconds" | "flags">,
  window: PhotoWindow,
  receivedAt: Instant,
  formatTime: FormatTime,
): OrderFinding {
  const u = derived.uncertaintySeconds;
  if (derived.hypotheses.length === 0 || u === null) return { verdict: "no time", bySeconds: null, words: "no usable time: no time" };

  const uMs = u * SECOND;
  const possible = derived.hypotheses.filter((t) => t <= receivedAt + uMs);
  const taken = (readings: readonly Instant[]) => `taken ${readings.map(formatTime).join(" or ")} ± ${roundSeconds(u)} s`;
  if (possible.length === 0) {
    const bySeconds = (Math.min(...derived.hypotheses) - receivedAt) / SECOND;
    return { verdict: "clock in doubt", bySeconds, words: `${taken(derived.hypotheses)}, received ${formatTime(receivedAt)}: clock in doubt` };
  }

  const verdicts = new Set(possible.map((t) => oneVerdict(t, uMs, window)));
  const [agreed = "cannot tell"] = verdicts;
  const verdict = verdicts.size === 1 ? agreed : clockFoundWrong(derived) ? "clock in doubt" : "cannot tell";
  const words = `${taken(possible)}, ${windowWords(verdict, possible, uMs, window, formatTime)}: ${verdict}`;
  return { verdict, bySeconds: missedBySeconds(verdict, possible, window), words };
}

function oneVerdict(t: Instant, uMs: number, { from, to }: PhotoWindow): "in order" | "too early" | "too late" | "cannot tell" {
  // Of a second attempt the window can close before it opens, because the work was hidden meanwhile: then nothing is in order.
  if (t - uMs > to) return "too late";
  if (from !== null && t + uMs < from) return "too early";
  return (from === null || t - uMs >= from) && t + uMs <= to ? "in order" : "cannot tell";
}

function clockFoundWrong(derived: Pick<DerivedInstant, "flags">): boolean {
  return derived.flags.some(({ code }) => code === "METADATA_CONFLICT");
}

function missedBySeconds(verdict: OrderVerdict, readings: readonly Instant[], { from, to }: PhotoWindow): number | null {
  if (verdict === "too early" && from !== null) return (from - Math.max(...readings)) / SECOND;
  if (verdict === "too late") return (Math.min(...readings) - to) / SECOND;
  return null;
}

/** Names the bound that decides, or both when neither or more than one does. */
function windowWords(
  verdict: OrderVerdict,
  readings: readonly Instant[],
  uMs: number,
  { from, to }: PhotoWindow,
  formatTime: FormatTime,
): string {
  const opens = from === null ? null : `window opens ${formatTime(from)}`;
  const closes = `window closes ${formatTime(to)}`;
  if (opens === null || from === null || verdict === "too late") return closes;
  if (verdict === "too early") return opens;

  const reachesOpening = readings.some((t) => t - uMs < from);
  const reachesClosing = readings.some((t) => t + uMs > to);
  if (reachesOpening === reachesClosing) return `window ${formatTime(from)} to ${formatTime(to)}`;
  return reachesOpening ? opens : closes;
}

function roundSeconds(seconds: number): number {
  return Math.round(seconds * 10) / 10;
}
