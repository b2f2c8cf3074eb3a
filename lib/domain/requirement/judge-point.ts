import { cureClock, equivalentAgeClock, maturityClock } from "#lib/domain/clock/cure";
import type { Reading } from "#lib/domain/clock/temperature-clock";
import { dewMarginK } from "#lib/domain/estimate/dew-point";
import { embedment } from "#lib/domain/estimate/embedment";
import { potLifeMinutes } from "#lib/domain/estimate/pot-life";
import { ratioErrorPct } from "#lib/domain/estimate/ratio";
import { SECOND, type Instant } from "#lib/domain/instant";
import type { PlanLine, PlanQuantity } from "#lib/domain/plan/plan";
import type { Entry } from "#lib/domain/point/value";
import { Decimal } from "#lib/domain/quantity/decimal";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import { fromSi, toSi } from "#lib/domain/quantity/unit";
import { instrumentMark, uncertaintySi, type InstrumentFacts, type InstrumentMark } from "#lib/domain/requirement/instrument";
import { findingOf, judgeFinding, workedOut, worstOf, type Finding, type Verdict } from "#lib/domain/requirement/judge";
import { itemRule, type ItemRule } from "#lib/domain/requirement/rule";
import { requirementWords } from "#lib/domain/requirement/words";

/** What judging a point needs besides its entries. */
export interface PointFacts {
  workBegan: Instant | null;
  workEnded: Instant | null;
  /** Day of use in the site's zone, YYYY-MM-DD. */
  day: string;
  instruments: ReadonlyMap<string, InstrumentFacts>;
  /** When work at another point of the sheet began or ended in its standing submission; null when not known. */
  workAt(line: string, event: "began" | "ended"): Instant | null;
  /** What stands entered at another point of the sheet; empty when nothing does. */
  entriesAt(line: string): readonly Entry[];
  /** Temperatures read for this point's clock. */
  readings: readonly Reading[];
}

export interface JudgedValue extends Verdict {
  quantity: PlanQuantity;
  /** 1-based; null where the quantity has one value. */
  item: number | null;
  requirement: string;
  entry: Entry | null;
  instrument: InstrumentFacts | null;
  mark: InstrumentMark | null;
}

/** Judges every value that the plan line asks for, in its order. What is not entered is "not measured". */
export function judgePoint(line: PlanLine, entries: readonly Entry[], facts: PointFacts): JudgedValue[] {
  return line.quantities.flatMap((quantity) =>
    itemsOf(quantity, line, entries).map((item) => judgeValue(line, quantity, item, entries, facts)),
  );
}

/**
 * The least favourable verdict of a point. Where a quantity is sampled, as many of its values may fail as the sample accepts;
 * each of them keeps its own verdict.
 */
export function worstAtPoint(judged: readonly JudgedValue[]): ValueVerdict | null {
  const accepted = new Map<string, number>();
  return worstOf(
    judged.flatMap(({ quantity: { id, rule }, verdict }) => {
      const failing = accepted.get(id) ?? 0;
      if (verdict !== "fails" || rule.form !== "each" || !rule.sample || failing >= rule.sample.accept) return [verdict];
      accepted.set(id, failing + 1);
      return [];
    }),
  );
}

/** The items a quantity has: one, a fixed number, or as many as were entered (at least one). */
export function itemsOf(quantity: PlanQuantity, line: PlanLine, entries: readonly Entry[]): (number | null)[] {
  const { rule } = quantity;
  if (rule.form !== "each") return [null];
  const open = line.quantities.filter(({ rule: other }) => other.form === "each" && other.of === rule.of && other.count === null).map(({ id }) => id);
  if (rule.sample) return sampledItems(quantity.id, rule.sample.n, entries);
  const entered = Math.max(1, ...entries.filter((entry) => open.includes(entry.quantity)).map((entry) => entry.item ?? 1));
  return Array.from({ length: rule.count ?? entered }, (_, index) => index + 1);
}

/** The items of a sample: those that were checked, and until they are enough the lowest numbers that were not. */
function sampledItems(id: string, n: number, entries: readonly Entry[]): number[] {
  const items = new Set(entries.flatMap((entry) => (entry.quantity === id && entry.item !== null ? [entry.item] : [])));
  for (let next = 1; items.size < n; next++) items.add(next);
  return [...items].sort((a, b) => a - b);
}

function judgeValue(line: PlanLine, quantity: PlanQuantity, item: number | null, entries: readonly Entry[], facts: PointFacts): JudgedValue {
  const entry = entryFor(entries, quantity.id, item);
  const named = entry?.kind === "measured" && entry.instrumentId ? (facts.instruments.get(entry.instrumentId) ?? null) : null;
  // A tape named for a torque is no torque wrench.
  const instrument = named && quantity.instrument !== null && named.class !== quantity.instrument ? null : named;
  const common = { quantity, item, requirement: requirementWords(quantity.rule), entry, instrument };
  const finding = quantity.derived ? deriveFinding(quantity, item, entries, facts) : entry && findingOf(entry, entry.kind === "measured" ? uncertaintySi(entry.measured, instrument) : new Decimal(0));
  if (!finding) return { ...common, verdict: "not measured", measured: "", margin: "", otherUnit: null, drawn: null, mark: null };
  const wantsMark = quantity.instrument !== null && !quantity.derived && entry?.kind === "measured";
  return { ...common, ...judgeFinding(itemRule(quantity.rule), finding), mark: wantsMark ? instrumentMark(entry.measured, instrument, facts.day, quantity) : null };
}

/** An entry for the item, or the one entry that serves all items (the same bar length for every bar). */
function entryFor(entries: readonly Entry[], quantity: string, item: number | null): Entry | null {
  return (
    entries.find((entry) => entry.quantity === quantity && entry.item === item) ??
    entries.find((entry) => entry.quantity === quantity && entry.item === null) ??
    null
  );
}

function entryUncertainty(entry: Entry, facts: PointFacts): Decimal {
  if (entry.kind !== "measured") return new Decimal(0);
  return uncertaintySi(entry.measured, entry.instrumentId ? (facts.instruments.get(entry.instrumentId) ?? null) : null);
}

interface Source {
  si: Decimal;
  uncertainty: Decimal;
}

/** Works out a derived value, or null while one of its sources is not entered yet. */
function deriveFinding(quantity: PlanQuantity, item: number | null, entries: readonly Entry[], facts: PointFacts): Finding | null {
  const rule = itemRule(quantity.rule);
  const sources = (quantity.derived?.from ?? []).map((id): Source | null => {
    const entry = entryFor(entries, id, item);
    return entry?.kind === "measured" ? { si: new Decimal(entry.measured.si), uncertainty: entryUncertainty(entry, facts) } : null;
  });
  switch (quantity.derived?.formula) {
    case "embedment":
      return embedmentFinding(sources, rule.form === "min" ? rule.unit : "in");
    case "ratio error":
      return rule.form === "ratio" ? ratioFinding(rule, sources) : null;
    case "dew margin":
      return dewFinding(sources);
    case "elapsed":
      return rule.form === "elapsed" ? elapsedFinding(rule, facts) : null;
    case "cure":
    case "maturity":
    case "equivalent age":
      return isClockRule(rule) ? clockFinding(rule, facts) : null;
    case "pot life":
      return rule.form === "pot life" ? potLifeFinding(rule, facts) : null;
    default:
      return null;
  }
}

/** Two readings of independent error: the uncertainty of their difference is the root of the sum of squares (JCGM 100:2008, 5.1.2). */
function embedmentFinding([barLength, projection]: (Source | null)[], unit: Parameters<typeof workedOut>[1]): Finding | null {
  if (!barLength || !projection) return null;
  const uncertainty = barLength.uncertainty.pow(2).plus(projection.uncertainty.pow(2)).sqrt();
  const depth = embedment(barLength.si, projection.si);
  return depth ? workedOut(depth, unit, uncertainty) : { kind: "unknown", because: "more stands out than the bar is long" };
}

function ratioFinding(rule: { a: string; b: string }, [a, b]: (Source | null)[]): Finding | null {
  if (!a || !b) return null;
  const errorPct = ratioErrorPct({ massA: a.si, massB: b.si, a: rule.a, b: rule.b });
  if (!errorPct || b.si.isZero()) return { kind: "unknown", because: "both parts have to weigh more than nothing" };
  const error = errorPct.div(100);
  const relative = a.uncertainty.div(a.si).pow(2).plus(b.uncertainty.div(b.si).pow(2)).sqrt();
  return workedOut(error, "%", relative.times(error.plus(1)));
}

function dewFinding([air, humidity, surface]: (Source | null)[]): Finding | null {
  if (!air || !humidity || !surface) return null;
  const celsius = ({ si }: Source): number => fromSi(si, "°C").toNumber();
  const margin = dewMarginK(celsius(surface), celsius(air), humidity.si.times(100).toNumber());
  if (margin === null) return { kind: "unknown", because: "air or humidity is outside what the dew point can be worked out for" };
  return workedOut(new Decimal(margin.toFixed(6)), "K");
}

function elapsedFinding(rule: { from: { line: string; event: "began" | "ended" }; to: "began" | "ended" }, facts: PointFacts): Finding | null {
  const to = rule.to === "began" ? facts.workBegan : facts.workEnded;
  if (to === null) return null;
  const from = facts.workAt(rule.from.line, rule.from.event);
  if (from === null) return { kind: "unknown", because: `point ${rule.from.line} has no time for its work` };
  if (from > to) return { kind: "unknown", because: `point ${rule.from.line} has a later time for its work` };
  return workedOut(new Decimal(to - from).div(SECOND), "h");
}

/** What is left of the pot life at the end of the work here, from the end of the mixing, at the warmest that the batch was. */
function potLifeFinding({ from, temperatures, life }: Extract<ItemRule, { form: "pot life" }>, facts: PointFacts): Finding | null {
  if (facts.workEnded === null) return null;
  const mixed = facts.workAt(from, "ended");
  if (mixed === null) return { kind: "unknown", because: `point ${from} has no time for the end of its mixing` };
  const entries = facts.entriesAt(from);
  const read = temperatures.flatMap((id) => entries.filter((entry) => entry.quantity === id && entry.kind === "measured").map((entry) => fromSi((entry as Extract<Entry, { kind: "measured" }>).measured.si, "°C").toNumber()));
  if (read.length === 0) return { kind: "unknown", because: `point ${from} has no temperature of the batch` };
  const minutes = potLifeMinutes(life, Math.max(...read));
  if (minutes === null) return { kind: "unknown", because: `the data sheet says no pot life at ${Math.max(...read)} °C` };
  return workedOut(new Decimal(minutes.toFixed(6)).times(60).minus(new Decimal(facts.workEnded - mixed).div(SECOND)), "min");
}

export const CLOCK_FORMS = ["cure", "maturity", "equivalent age"] as const;
export type ClockRule = Extract<ItemRule, { form: (typeof CLOCK_FORMS)[number] }>;

export function isClockRule(rule: ItemRule): rule is ClockRule {
  return CLOCK_FORMS.some((form) => form === rule.form);
}

function clockFinding(rule: ClockRule, facts: PointFacts): Finding | null {
  if (facts.workEnded === null) return null;
  const clock = runningClock(rule, facts.workAt(rule.from, "ended"), facts.readings, facts.workEnded);
  if (!clock) return { kind: "unknown", because: `point ${rule.from} has no time for the end of its work` };
  if (clock.state === "no readings") return { kind: "unknown", because: "no temperature has been read" };
  if (clock.state === "void") return { kind: "unknown", because: "the temperature fell under the minimum and the specification calls the cure void" };
  return workedOut(toSi(new Decimal(clock.progress.toFixed(6)), rule.form === "maturity" ? "°C·h" : "h"), rule.form === "maturity" ? "°C·h" : "h");
}

export interface RunningClock {
  form: ClockRule["form"];
  from: Instant;
  /** Hours at the reference temperature, hours of equivalent age, or °C·h. */
  progress: number;
  required: number;
  state: ReturnType<typeof cureClock>["state"];
  /** The earliest instant, never a permission; null where it cannot be told. */
  earliest: Instant | null;
  doneAt: Instant | null;
  lastC: number | null;
  segments: ReturnType<typeof cureClock>["segments"];
}

/** Runs the clock of a cure or maturity rule from the end of the work it follows; null while that has no time. */
export function runningClock(rule: ClockRule, from: Instant | null, readings: readonly Reading[], now: Instant): RunningClock | null {
  if (from === null) return null;
  if (rule.form === "cure") {
    const { progressHours, requiredHours, ...clock } = cureClock({
      from,
      readings,
      now,
      requiredHours: Number(rule.hours),
      referenceC: Number(rule.referenceC),
      minimumC: rule.minimumC === null ? null : Number(rule.minimumC),
      underMinimum: rule.underMinimum,
      assumedGapHours: ASSUMED_GAP_HOURS,
    });
    return { form: "cure", from, progress: progressHours, required: requiredHours, ...clock };
  }
  if (rule.form === "equivalent age") {
    const { progressHours, requiredHours, ...clock } = equivalentAgeClock({
      from, readings, now, requiredHours: Number(rule.hours), referenceC: Number(rule.referenceC), activationK: Number(rule.activationK),
      minimumC: rule.minimumC === null ? null : Number(rule.minimumC), underMinimum: rule.underMinimum, assumedGapHours: ASSUMED_GAP_HOURS,
    });
    return { form: "equivalent age", from, progress: progressHours, required: requiredHours, ...clock };
  }
  const { progressDegreeHours, requiredDegreeHours, ...clock } = maturityClock({
    from, readings, now, requiredDegreeHours: Number(rule.degreeHours), datumC: Number(rule.datumC), minimumC: null, underMinimum: "pause", assumedGapHours: ASSUMED_GAP_HOURS,
  });
  return { form: "maturity", from, progress: progressDegreeHours, required: requiredDegreeHours, ...clock };
}

/** Readings typed by hand further apart than this are taken at the lower of their ends and marked assumed. Common practice, no source. */
export const ASSUMED_GAP_HOURS = 6;
