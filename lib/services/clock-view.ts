import { formatWhen, siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { CLOCK_CAUTION } from "#lib/domain/plan/caution";
import type { PlanLine } from "#lib/domain/plan/plan";
import { itemRule } from "#lib/domain/requirement/rule";
import { isClockRule, type ClockRule, type RunningClock } from "#lib/domain/requirement/judge-point";
import type { ReadingOnFile } from "#lib/db/evidence";
import { clockOf, type Sheet } from "#lib/services/sheet";

/** A cure or maturity clock as it is drawn. */
export interface ClockView {
  line: string;
  title: string;
  amount: string;
  headline: string;
  note: string;
  paused: boolean;
  startedAt: Instant;
  earliest: Instant | null;
  readings: { at: Instant; temperature: number; assumed: boolean }[];
  minimum: number | null;
  progress: number;
  required: number;
  unit: string;
  stopped: { from: Instant; to: Instant }[];
}

const DONE_WORDS: Record<RunningClock["state"], string> = {
  running: "",
  done: "Reached",
  paused: "Cannot tell yet",
  void: "Cannot tell",
  "no readings": "Cannot tell yet",
};

const CLOCK_TITLES: Record<ClockRule["form"], string> = { cure: "Cure clock", maturity: "Maturity clock", "equivalent age": "Age clock" };

/** The clock of a point that has one and that runs or has run; null where it has not begun. */
export function clockView(sheet: Sheet, line: PlanLine): ClockView | null {
  const clock = clockOf(sheet, line);
  const rule = line.quantities.map(({ rule: one }) => itemRule(one)).find(isClockRule);
  if (!clock || !rule) return null;
  const { zone } = sheet.project;
  const unit = rule.form === "maturity" ? "°C·h" : `h at ${rule.referenceC} °C`;
  const places = clock.form === "maturity" ? 0 : 2;
  const assumed = assumedStretches(sheet.readings.filter((one) => one.line === line.line), clock);
  const minimum = rule.form !== "maturity" && rule.minimumC !== null ? Number(rule.minimumC) : null;
  return {
    line: line.line,
    title: `${CLOCK_TITLES[clock.form]}, point ${line.line}`,
    amount: `${clock.progress.toFixed(places)} of ${clock.required} ${unit}`,
    headline: headlineOf(clock, zone, sheet.at),
    note: [noteOf(clock, minimum), assumedWords(assumed)].filter(Boolean).join(" "),
    paused: clock.state === "paused" || clock.state === "void" || clock.state === "no readings",
    startedAt: clock.from,
    earliest: clock.earliest,
    readings: stepsOf(clock, new Set(assumed)),
    minimum,
    progress: Number(clock.progress.toFixed(places)),
    required: clock.required,
    unit,
    stopped: clock.segments.filter(({ rate }) => rate === 0).map(({ from, to }) => ({ from, to })),
  };
}

function headlineOf(clock: RunningClock, zone: string, now: Instant): string {
  if (clock.state === "running" && clock.earliest !== null) return `${clock.form === "cure" ? "Cured" : "Strip"} from ${whenNear(clock.earliest, zone, now)}`;
  if (clock.state === "done" && clock.doneAt !== null) return `${DONE_WORDS.done} ${whenNear(clock.doneAt, zone, now)}`;
  return DONE_WORDS[clock.state];
}

function noteOf(clock: RunningClock, minimumC: number | null): string {
  switch (clock.state) {
    case "running":
      return `${CLOCK_CAUTION} If it stays at ${clock.lastC} °C.`;
    case "done":
      return CLOCK_CAUTION;
    case "paused":
      return `Paused: ${clock.lastC} °C${minimumC === null ? "" : `, minimum ${minimumC} °C`}. It counts again when it is warm enough.`;
    case "void":
      return "The temperature fell under the minimum, and the specification calls the cure void. The engineer decides.";
    case "no readings":
      return "No temperature has been read since it began. Log one.";
  }
}

/** A logger that says nothing for longer than this has a gap, h. Common practice, no source. */
const LOGGER_GAP_HOURS = 1;

/**
 * The stretches that a clock rests on and in which nobody measured often enough: between two readings by hand longer than the
 * clock's own limit, between two of a logger longer than an hour. The colder end of each is what counts.
 */
export function assumedStretches(readings: readonly ReadingOnFile[], { segments, doneAt }: RunningClock): RunningClock["segments"] {
  const logged = new Set(readings.filter((one) => one.logged).map(({ at }) => at));
  const gap = ({ from, to }: { from: Instant; to: Instant }): boolean => logged.has(from) && logged.has(to) && to - from > LOGGER_GAP_HOURS * HOUR;
  const takenBack = ({ rate, counted }: RunningClock["segments"][number]): boolean => rate > 0 && counted === 0;
  return segments.filter((segment) => (segment.assumed || gap(segment)) && !takenBack(segment) && (doneAt === null || segment.from < doneAt));
}

/** How much of a clock is assumed; empty where nothing is. */
function assumedWords(stretches: readonly { from: Instant; to: Instant }[]): string {
  const hours = stretches.reduce((sum, { from, to }) => sum + (to - from) / HOUR, 0);
  return hours === 0 ? "" : `${Number(hours.toFixed(1))} h of it are assumed: nothing was read, and the colder end counts.`;
}

/** Each step of the clock begins at its own temperature; the last reading holds until another is read. */
function stepsOf({ segments, from, lastC }: RunningClock, assumed: ReadonlySet<RunningClock["segments"][number]>): ClockView["readings"] {
  const steps = segments.map((segment) => ({ at: segment.from, temperature: segment.celsius, assumed: assumed.has(segment) }));
  if (lastC === null) return steps;
  return [...steps, { at: segments.at(-1)?.to ?? from, temperature: lastC, assumed: false }];
}

/** A time within a week by its weekday, else with its date: "Thu 23:20". The offset stands where the clocks change in between. */
export function whenNear(at: Instant, zone: string, now: Instant): string {
  const near = Math.abs(at - now) < 6 * 24 * 3_600_000;
  const offset = siteTime(at, zone).offset !== siteTime(now, zone).offset;
  return near ? formatWhen(at, zone, { short: true, offset }) : formatWhen(at, zone, { offset });
}

/** A time of today without its day, "17:20", and any other as `whenNear`. */
export function timeNear(at: Instant, zone: string, now: Instant): string {
  const [then, today] = [siteTime(at, zone), siteTime(now, zone)];
  return then.date === today.date && then.offset === today.offset ? then.time : whenNear(at, zone, now);
}

/** How long it is: "5 h 20", or past two days in days. */
export function leftWords(left: number): string {
  const minutes = Math.floor(left / MINUTE);
  if (minutes >= 48 * 60) return `${Math.floor(minutes / 1440)} days`;
  return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")}`;
}
