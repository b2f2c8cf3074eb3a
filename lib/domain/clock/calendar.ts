import type { TideWindow } from "#lib/domain/clock/tide";
import type { Instant } from "#lib/domain/instant";
import type { RunningBound } from "#lib/domain/plan/running-bound";
import { CLOCK_CAUTION } from "#lib/domain/plan/caution";

/** A clock of a pile, with what a calendar needs besides. */
export interface CalendarClock extends RunningBound {
  /** The pile's own id, which a new mark does not change. */
  sheet: string;
  mark: string;
  /** What it is about, in the words of the plan: the point's name, or the wait's. */
  what: string;
  /** When the record came that it follows from. */
  changedAt: Instant;
}

/** A working window of the tide, with the record of the table that it follows from. */
export interface CalendarTide extends TideWindow {
  project: string;
  changedAt: Instant;
}

/** What a calendar shows: an instant, or with `end` a stretch of time. */
export interface CalendarEntry {
  /** The same as long as the clock runs, however its instant moves. */
  uid: string;
  start: Instant;
  end: Instant | null;
  summary: string;
  description: string;
  changedAt: Instant;
}

const LATEST_WORDS = "Latest: what comes after it does not meet the requirement.";
const TIDE_WORDS = "Worked out from a tide table for planning: not for navigation nor for divers.";

/**
 * The entries of a calendar for clocks and windows of the tide. What names no instant, because it stands still or cannot be told,
 * has no entry. The tide as a clock is left out: its windows are whole entries.
 * @returns ascending by start. The same records give the same entries.
 */
export function calendarEntries(clocks: readonly CalendarClock[], tides: readonly CalendarTide[]): CalendarEntry[] {
  const entries = [...clocks.flatMap(clockEntry), ...tides.map(tideEntry)];
  return entries.sort((a, b) => a.start - b.start || (a.uid < b.uid ? -1 : 1));
}

function clockEntry(clock: CalendarClock): CalendarEntry[] {
  const { kind, line, from, since, at, bound, state, sheet, mark, what, changedAt } = clock;
  if (at === null || line === null) return [];
  const uid = uidOf(kind, line, from, since, sheet);
  const end = state === "cannot be met" ? "cannot be met" : bound;
  const redo = state === "cannot be met" && from !== null ? ` It cannot be met by going on: point ${from} has to be redone.` : "";
  return [{ uid, start: at, end: null, summary: `${mark}, point ${line}: ${what}, ${end}`, description: `${bound === "earliest" ? CLOCK_CAUTION : LATEST_WORDS}${redo}`, changedAt }];
}

function tideEntry({ project, from, to, opens, closes, changedAt }: CalendarTide): CalendarEntry {
  const open = opens === "table" || closes === "table" ? " The table ends here, and the window may be longer." : "";
  return { uid: uidOf("tide", from, project), start: from, end: to, summary: "Water under the working level", description: `${CLOCK_CAUTION} ${TIDE_WORDS}${open}`, changedAt };
}

/** A point may be done again: the instant that it runs from tells one attempt from the next. */
function uidOf(...parts: readonly (string | number | null)[]): string {
  return `${parts.map((part) => String(part ?? "none").replace(/[^A-Za-z0-9-]+/g, "-")).join("_")}@lastlook`;
}
