import { Temporal } from "temporal-polyfill";
import { fromSite } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";

export type EntryTime = { ok: true; instant: Instant | null } | { ok: false; message: string };

const WITH_OFFSET = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:[0-5]\d(\.\d{1,3})?)?(Z|[+-]\d{2}:\d{2})$/;

/**
 * Reads a time as typed: with an offset it is an instant; without one it is the site's clock. A time that the clocks
 * repeat or skip is asked for again, never guessed. Empty text is no time.
 */
export function readEntryTime(text: string, zone: string): EntryTime {
  const typed = text.trim().replace(/[−–]/g, "-");
  if (typed === "") return { ok: true, instant: null };
  if (WITH_OFFSET.test(typed)) {
    const instant = instantOf(typed);
    return instant === null ? { ok: false, message: `${text} is not a date and time.` } : { ok: true, instant };
  }
  const { instants, offsets, problem } = fromSite(typed, zone);
  const [first] = instants;
  if (problem === "ambiguous") {
    return { ok: false, message: `${typed.replace("T", " ")} comes twice on this day. Write which one: ${offsets.map((offset) => `${typed}${offset}`).join(" or ")}.` };
  }
  if (problem === "nonexistent") return { ok: false, message: `${typed.replace("T", " ")} is skipped on this day, because the clocks go forward.` };
  if (problem || first === undefined) return { ok: false, message: `${text.slice(0, 40)} is not a date and time.` };
  return { ok: true, instant: first };
}

/** Date.parse would read 30 February as 2 March. */
function instantOf(text: string): Instant | null {
  try {
    return Temporal.Instant.from(text).epochMilliseconds;
  } catch {
    return null;
  }
}
