import { equivalentAgeHours, maturityProgress } from "#lib/domain/clock/cure";
import type { Step } from "#lib/domain/clock/temperature-clock";
import { formworkPressureKpa } from "#lib/domain/estimate/formwork-pressure";
import { groutTake } from "#lib/domain/estimate/grout";
import { footPressureKpa } from "#lib/domain/estimate/head";
import { headsByLiftMm, riseMPerH, waitsBetween, type PlacedLift } from "#lib/domain/estimate/lift";
import { HOUR } from "#lib/domain/instant";
import { Decimal } from "#lib/domain/quantity/decimal";
import { formatSi, parseMeasured } from "#lib/domain/quantity/measured";
import { fromSi, toSi, type Dimension, type Unit } from "#lib/domain/quantity/unit";
import type { Form } from "#lib/edge/schema/check-form";
import { capital, inchesOf, type CheckResult } from "#lib/edge/schema/check/result";

export function unsetHead(form: Form): CheckResult | null {
  const setTime = form.si("set", "time", "how long a lift takes to set, with its unit, such as 4 h");
  const density = form.siOrNull("head-density", "density");
  const most = form.siOrNull("lift-wait", "time");
  const lifts = form.lines("lifts", "the lifts from the bottom, one on each line, such as 24 in, 0 h").map((line): CheckedLift => {
    const [height = "", began = "", ended = null, ...more] = line.split(",");
    if (more.length > 0) form.fault("lifts", `${line}: a lift has its height, when it began and when it ended.`);
    const heightMm = part(form, "lifts", height, "length").times(1_000).toNumber();
    const beganAt = instantOf(part(form, "lifts", began, "time"));
    return { heightMm, beganAt, endedAt: ended === null ? beganAt : instantOf(part(form, "lifts", ended, "time")), endKnown: ended !== null };
  });
  if (form.failed) return null;
  const heads = headsByLiftMm(lifts, setTime.div(3_600).toNumber());
  const last = heads.at(-1)?.mostMm ?? 0;
  const highest = Math.max(...heads.map(({ mostMm }) => mostMm));
  const pressure = density && new Decimal(footPressureKpa(highest, { groutKgM3: density.toNumber() })).times(1_000);
  const joints = most && jointsOf(lifts, most.div(3_600).toNumber());
  return {
    verdict: joints?.verdict ?? null,
    words: `${joints ? `${joints.words} ` : ""}${inchesOf(last)} of unset grout when the last lift is placed, at most ${inchesOf(highest)}${pressure ? `: ${formatSi(pressure, "psi", 2)} (${formatSi(pressure, "kPa", 2)}) at the foot` : ""}.`,
    notes: [riseWords(lifts), "All grout that has not set presses, not the last lift alone."],
  };
}

/** `endKnown`: without its end a lift is taken to have ended when it began, and neither its rise nor the wait after it is known. */
type CheckedLift = PlacedLift & { endKnown: boolean };

const instantOf = (seconds: Decimal): number => seconds.div(3_600).times(HOUR).toNumber();

function riseWords(lifts: readonly CheckedLift[]): string {
  const rises = lifts.map((lift, i) => {
    const rise = riseMPerH(lift);
    return `lift ${i + 1} ${rise === null ? "cannot be told without its end" : `at ${formatSi(new Decimal(rise).div(3_600), "in/h", 1)}`}`;
  });
  return `Rise: ${rises.join(", ")}.`;
}

/** A wait counted from the beginning of a lift is the longer one: where that is in time, the wait from its end is too. */
function jointsOf(lifts: readonly CheckedLift[], mostHours: number): Pick<CheckResult, "verdict" | "words"> {
  const waits = waitsBetween(lifts, mostHours).map((wait, i) => ({ ...wait, known: lifts[i]?.endKnown === true, between: `lifts ${i + 1} and ${i + 2}` }));
  if (waits.length === 0) return { verdict: null, words: "One lift has no joint." };
  const long = waits.filter(({ coldJoint }) => coldJoint);
  const cold = long.filter(({ known }) => known);
  const shown = (hours: number): string => formatSi(toSi(hours, "h"), "h");
  if (long.length === 0) return { verdict: "meets", words: `No cold joint: no wait is longer than ${shown(mostHours)}.` };
  const told = [
    ...cold.map(({ between, hours }) => `a cold joint between ${between}: ${shown(hours)}, at most ${shown(mostHours)}`),
    ...long.filter(({ known }) => !known).map(({ between }) => `whether there is a cold joint between ${between} cannot be told without the end of the lower one`),
  ];
  return { verdict: cold.length > 0 ? "fails" : "cannot tell", words: `${capital(told.join("; "))}.` };
}

/** One of the values on a line; `unit` is that of a bare number, where a bare number is read. */
function part(form: Form, field: string, text: string, dimension: Dimension, unit?: Unit): Decimal {
  const read = parseMeasured(text, { dimension, ...(unit && { unit }) });
  return read.ok ? new Decimal(read.measured.si) : form.fault(field, `${text.trim() || "Nothing"}: ${read.problem.message}`);
}

export function take(form: Form): CheckResult | null {
  const placed = form.whole("take-bags", "how many bags went in");
  const bagYield = form.si("take-yield", "volume", "what a bag yields with its unit, such as 0.43 ft³");
  const volume = form.si("take-volume", "volume", "the grout worked out for the pile with its unit, such as 10.555 ft³");
  const [min, max] = [form.si("take-min", "number", "the lower end of the band, such as 0.97"), form.si("take-max", "number", "the upper end of the band, such as 1.15")];
  if (form.failed) return null;
  const { ratio, verdict } = groutTake({ bagsPlaced: placed, bagYieldL: bagYield.times(1_000).toNumber(), volumeL: volume.times(1_000).toNumber() }, { min: min.toNumber(), max: max.toNumber() });
  return { verdict: verdict === "inside the band" ? "meets" : "fails", words: `${ratio.toFixed(3)} of what was worked out: ${verdict}.`, notes: ["One of the few checks on grout that nobody sees."] };
}

/** Chemistry coefficients. @source ACI 347R-14, table 4.2.2.1a(b), as two public sources print it. */
export const CHEMISTRY = ["1.0", "1.2", "1.4"] as const;

export function formwork(form: Form): CheckResult | null {
  const density = form.si("density", "density", "the density of the mix with its unit, such as 135 lb/ft³");
  const head = form.si("head", "length", "the head with its unit, such as 42 in");
  const rate = form.si("rate", "rate of rise", "the rate of rise with its unit, such as 24 in/h");
  const mix = form.si("mix", "temperature", "the temperature of the mix with its unit");
  const chemistry = form.choice("chemistry", CHEMISTRY, "the coefficient of the cement");
  if (form.failed) return null;
  const headMm = head.times(1_000).toNumber();
  const liquid = footPressureKpa(headMm, { groutKgM3: density.toNumber() });
  const { kpa, governs } = formworkPressureKpa({ densityKgM3: density.toNumber(), headMm, rateMPerH: rate.times(3_600).toNumber(), celsius: fromSi(mix, "°C").toNumber(), chemistry: Number(chemistry) });
  const both = (value: number): string => `${formatSi(new Decimal(value).times(1_000), "psi", 2)} (${formatSi(new Decimal(value).times(1_000), "kPa", 2)})`;
  return {
    verdict: null, words: `${both(liquid)} as a liquid; ${both(kpa)} by the equation for columns, where ${governs} governs.`,
    notes: ["Fluid grout in a flexible jacket presses with the full head. The equation holds for concrete of low slump that is vibrated from inside: a second opinion, never in place of the first."],
  };
}

/** Maturity and equivalent age of a log, by both functions of ASTM C1074. */
export function maturity(form: Form): CheckResult | null {
  let at = 0;
  const steps = form.lines("log", "the log: hours and °C, one stretch on each line, such as 12, 15").map((line): Step => {
    const [hours = "", celsius = "", ...more] = line.split(",");
    if (more.length > 0) form.fault("log", `${line}: a stretch has its hours and its °C. Write a decimal with a point.`);
    const lasted = instantOf(part(form, "log", hours, "time", "h"));
    if (lasted < 0) form.fault("log", `${line}: a stretch does not run backwards.`);
    const from = at;
    at += lasted;
    return { from, to: at, celsius: fromSi(part(form, "log", celsius, "temperature", "°C"), "°C").toNumber() };
  });
  const datum = form.si("log-datum", "temperature", "the datum with its unit, such as 0 °C");
  const q = form.positive("log-q", "temperature difference", "the activation energy over the gas constant, such as 5000 K");
  const reference = form.si("log-reference", "temperature", "the reference temperature with its unit, such as 20 °C");
  if (form.failed) return null;
  const { progressDegreeHours } = maturityProgress({ steps, requiredDegreeHours: 0, datumC: fromSi(datum, "°C").toNumber(), minimumC: null, underMinimum: "pause" });
  const age = equivalentAgeHours({ steps, activationK: q.toNumber(), referenceC: fromSi(reference, "°C").toNumber() });
  return {
    verdict: null,
    words: `${formatSi(toSi(progressDegreeHours, "°C·h"), "°C·h", 1)} above ${formatSi(datum, "°C")} by Nurse–Saul, and an equivalent age of ${formatSi(toSi(age, "h"), "h")} at ${formatSi(reference, "°C")}, over ${formatSi(toSi(at / HOUR, "h"), "h")}.`,
    notes: ["Both functions are those of ASTM C1074. Either speaks of strength only for a mix whose own strength curve is known."],
  };
}
