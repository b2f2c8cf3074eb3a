import { addUp, runClock, type ClockReading, type Counting, type Progress, type Reading, type Step, type UnderMinimum } from "#lib/domain/clock/temperature-clock";
import { HOUR, type Instant } from "#lib/domain/instant";

/** Longest stretch between two readings that counts as watched, h. Common practice, no source. */
const ASSUMED_GAP_HOURS = 1;
/** 0 °C in kelvin. */
const ZERO_C_IN_K = 273.15;

interface ClockInput {
  /** When the work ended that the clock follows. */
  from: Instant;
  /** Temperatures in any order, °C as numbers: what a thermometer shows has no digits that a number would lose. */
  readings: readonly Reading[];
  now: Instant;
  /** A stretch without readings longer than this, h, is marked assumed. */
  assumedGapHours?: number;
}

/**
 * How a clock stands. `doneAt` is the earliest instant within the readings at which enough was reached. `earliest` is
 * `doneAt`, or where it is still running the instant at which it would be reached if the last temperature held on from the
 * last reading; null while it is paused, void or without readings. It is never a permission.
 */
type Standing = Omit<ClockReading, "progress"> & { done: boolean };
/** Progress in hours at the reference temperature. */
export type CureClock = Standing & { progressHours: number; requiredHours: number };
/** Progress in degree-hours above the datum, °C·h. */
export type MaturityClock = Standing & { progressDegreeHours: number; requiredDegreeHours: number };

interface CureRequirement {
  /** Hours needed at the reference temperature. */
  requiredHours: number;
  /** °C */
  referenceC: number;
  /** Coldest temperature that the work stands, °C; null where there is none. */
  minimumC: number | null;
  underMinimum: UnderMinimum;
}

/**
 * Hours at the reference temperature that one hour at a temperature is worth: it doubles with every 10 °C.
 * @source Common practice for resins, no source; the data sheet decides (real factors lie between 1.5 and 2.5).
 */
export function cureRate(celsius: number, referenceC: number): number {
  return 2 ** ((celsius - referenceC) / 10);
}

function cureCounting({ requiredHours, referenceC, minimumC, underMinimum }: CureRequirement): Counting {
  return { rateAt: (celsius) => cureRate(celsius, referenceC), required: requiredHours, minimumC, underMinimum };
}

/**
 * Progress of a cure over steps at known temperatures, in hours at the reference temperature.
 * @throws RangeError when steps overlap, run backwards or carry no number.
 */
export function cureProgress({ steps, ...requirement }: { steps: readonly Step[] } & CureRequirement): Omit<Progress, "progress"> & { progressHours: number } {
  const { progress, ...rest } = addUp(steps, cureCounting(requirement));
  return { ...rest, progressHours: progress };
}

/**
 * The cure clock of a jacket or resin: counts k = 2^((T − Tref)/10) for each hour, nothing under the minimum, on instants, so
 * that neither midnight nor a change of the clocks alters it.
 *
 * Between two readings the lower one holds; nothing past the last reading counts. A temperature under the minimum pauses the
 * clock, restarts it or makes it void, unless it was done before.
 * @throws RangeError for readings or requirements that are not finite numbers.
 */
export function cureClock({ from, readings, now, assumedGapHours = ASSUMED_GAP_HOURS, ...requirement }: ClockInput & CureRequirement): CureClock {
  const { progress, ...standing } = runClock({ from, readings, now, assumedGapHours }, cureCounting(requirement));
  return { ...standing, done: standing.doneAt !== null, progressHours: progress, requiredHours: requirement.requiredHours };
}

interface MaturityRequirement {
  /** Degree-hours needed above the datum, °C·h. */
  requiredDegreeHours: number;
  /** Datum temperature T0, °C: at and below it nothing is gained. */
  datumC: number;
  minimumC: number | null;
  underMinimum: UnderMinimum;
}

function maturityCounting({ requiredDegreeHours, datumC, minimumC, underMinimum }: MaturityRequirement): Counting {
  return { rateAt: (celsius) => Math.max(0, celsius - datumC), required: requiredDegreeHours, minimumC, underMinimum };
}

/** Temperature-time factor over steps at known temperatures, °C·h; throws as `cureProgress` does. */
export function maturityProgress({ steps, ...requirement }: { steps: readonly Step[] } & MaturityRequirement): Omit<Progress, "progress"> & { progressDegreeHours: number } {
  const { progress, ...rest } = addUp(steps, maturityCounting(requirement));
  return { ...rest, progressDegreeHours: progress };
}

/**
 * The maturity clock of grout: M = Σ(T − T0)·Δt in °C·h. Reads, pauses and projects as `cureClock` does. It speaks of strength
 * only for a mix whose own strength curve is known.
 * @source ASTM C1074, Nurse–Saul function; datum 0 °C is its working default, and nothing is gained at or below it.
 */
export function maturityClock({ from, readings, now, assumedGapHours = ASSUMED_GAP_HOURS, ...requirement }: ClockInput & MaturityRequirement): MaturityClock {
  const { progress, ...standing } = runClock({ from, readings, now, assumedGapHours }, maturityCounting(requirement));
  return { ...standing, done: standing.doneAt !== null, progressDegreeHours: progress, requiredDegreeHours: requirement.requiredDegreeHours };
}

interface EquivalentAgeRequirement extends CureRequirement {
  /** Q, the activation energy divided by the gas constant, K. */
  activationK: number;
}

/**
 * The age clock of grout: hours of equivalent age at the reference temperature by the Arrhenius function. Reads, pauses and
 * projects as `cureClock` does.
 * @throws RangeError for readings or requirements that are not finite numbers, or a temperature at or below absolute zero.
 * @source ASTM C1074, Arrhenius function.
 */
export function equivalentAgeClock({ from, readings, now, assumedGapHours = ASSUMED_GAP_HOURS, activationK, ...requirement }: ClockInput & EquivalentAgeRequirement): CureClock {
  const counting = { ...cureCounting(requirement), rateAt: (celsius: number) => ageRate(celsius, activationK, requirement.referenceC) };
  const { progress, ...standing } = runClock({ from, readings, now, assumedGapHours }, counting);
  return { ...standing, done: standing.doneAt !== null, progressHours: progress, requiredHours: requirement.requiredHours };
}

function ageRate(celsius: number, activationK: number, referenceC: number): number {
  if (!(celsius > -ZERO_C_IN_K)) throw new RangeError("A temperature has to lie above absolute zero.");
  return Math.exp(-activationK * (1 / (celsius + ZERO_C_IN_K) - 1 / (referenceC + ZERO_C_IN_K)));
}

/**
 * Equivalent age at the reference temperature, h: te = Σ exp(−Q·(1/T − 1/Ts))·Δt with temperatures in kelvin.
 * @param activationK  Q, the activation energy divided by the gas constant, K (5000 K, or 33 500/8.314 = 4029 K).
 * @throws RangeError for a temperature at or below absolute zero or a step that ends before it begins.
 * @source ASTM C1074, Arrhenius function.
 */
export function equivalentAgeHours({ steps, activationK, referenceC }: { steps: readonly Step[]; activationK: number; referenceC: number }): number {
  return steps.reduce((age, { from, to, celsius }) => {
    if (!(to >= from)) throw new RangeError("A step cannot end before it begins.");
    return age + (ageRate(celsius, activationK, referenceC) * (to - from)) / HOUR;
  }, 0);
}
