import { bondDesignHolds } from "#lib/domain/estimate/anchor";
import { dewMarginK, dewPointC } from "#lib/domain/estimate/dew-point";
import { embedment } from "#lib/domain/estimate/embedment";
import { formworkPressureKpa } from "#lib/domain/estimate/formwork-pressure";
import { groutTake } from "#lib/domain/estimate/grout";
import { footPressureKpa } from "#lib/domain/estimate/head";
import { headsByLiftMm } from "#lib/domain/estimate/lift";
import { barOf } from "#lib/domain/estimate/section";
import { judge } from "#lib/domain/quantity/compare";
import { Decimal } from "#lib/domain/quantity/decimal";
import { HOUR } from "#lib/domain/instant";
import { formatSi, parseMeasured } from "#lib/domain/quantity/measured";
import { fromSi, toSi, type Dimension } from "#lib/domain/quantity/unit";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import type { Fault } from "#lib/domain/refusal";
import { Form } from "#lib/edge/schema/check-form";
import { FAILURE_MODES, pullOffFinding, type FailureMode } from "#lib/domain/statistics/pull-off";
import { acceptCurve, acceptProbability, smallestSample } from "#lib/domain/statistics/sampling-risk";
import { STRENGTH_FORMS, strengthFinding, type StrengthForm } from "#lib/domain/statistics/strength";

/** What a check comes to: the number first, then what it is held against. */
export interface CheckResult {
  verdict: ValueVerdict | null;
  words: string;
  notes: string[];
}

export interface SamplingCheck extends CheckResult {
  lot: number;
  bad: number;
  chance: number;
  curve: { bad: number; chance: number }[];
}

export interface StrengthCheck extends CheckResult {
  rows: { test: number; mean: string; average: string }[];
}

export interface Checks {
  /** As typed, by field. */
  typed: Record<string, string>;
  faults: Fault[];
  sampling: SamplingCheck | null;
  strength: StrengthCheck | null;
  pullOff: CheckResult | null;
  embedment: CheckResult | null;
  dew: CheckResult | null;
  unsetHead: CheckResult | null;
  take: CheckResult | null;
  formwork: CheckResult | null;
}

const MOST_TESTS = 200;
/** Chance of finding a bad one that the smallest sample is told for, where nobody asks for another. Common practice, no source. */
const USUAL_DETECTION = 95;

/** Works out the checks whose fields are filled in an address. A field that cannot be read is told, and the others stay. */
export function readChecks(query: URLSearchParams): Checks {
  const form = new Form(query);
  return {
    sampling: form.check(["lot", "bad", "checked", "accept"], () => sampling(form)),
    strength: form.check(["tests", "specified"], () => strength(form)),
    pullOff: form.check(["force", "dolly", "pull-least"], () => pullOff(form)),
    embedment: form.check(["bar-length", "projection"], () => embedded(form)),
    dew: form.check(["air", "humidity", "surface"], () => dew(form)),
    unsetHead: form.check(["lifts", "set"], () => unsetHead(form)),
    take: form.check(["take-bags", "take-volume"], () => take(form)),
    formwork: form.check(["density", "head", "rate", "mix"], () => formwork(form)),
    typed: form.typed,
    faults: form.faults,
  };
}

function sampling(form: Form): SamplingCheck | null {
  const lot = form.whole("lot", "how many bolts there are");
  const bad = form.whole("bad", "how many of them are taken to be loose");
  const checked = form.whole("checked", "how many are checked");
  const accept = form.whole("accept", "with how many loose ones the sample is still accepted");
  const detectText = form.text("detect");
  const detect = detectText === "" ? USUAL_DETECTION : form.whole("detect", "a chance in per cent");
  if (!form.failed) {
    if (lot < 1) form.fault("lot", "There is at least one bolt.");
    if (bad > lot) form.fault("bad", `There are no more than ${lot}.`);
    if (checked > lot) form.fault("checked", `There are no more than ${lot} to check.`);
    if (accept >= Math.max(checked, 1)) form.fault("accept", "A sample accepts fewer than it checks.");
    if (detect > 100) form.fault("detect", "A chance is at most 100 per cent.");
  }
  if (form.failed) return null;
  const chance = acceptProbability({ lot, bad, checked, accept });
  const smallest = smallestSample({ lot, bad, detect: detect / 100 });
  return {
    lot, bad, chance, curve: acceptCurve({ lot, checked, accept }), verdict: null,
    words: `${percent(chance)} chance that a check of ${checked} is accepted although ${bad} of ${lot} are loose.`,
    notes: [
      smallest === null ? "With none loose there is nothing to find." : `The smallest sample that finds at least one of the ${bad} with a chance of ${detect} % or more: ${smallest} of ${lot}.`,
      "Bolts that will be buried are usually all checked. What a sample is enough is for the specification to say.",
    ],
  };
}

function strength(form: Form): StrengthCheck | null {
  const specified = form.si("specified", "pressure", "the specified strength with its unit, such as 6000 psi");
  // A specification in MPa is held in MPa: the two editions of the rule are rounded apart.
  const unit = /(?:MPa|N\/mm)/i.test(form.text("specified")) ? "MPa" : "psi";
  const kind: StrengthForm = form.choice("form", STRENGTH_FORMS, "how the results are accepted");
  const least = form.whole("least", "how many specimens make a test");
  const lines = form.text("tests").split(/[\n;]+/).map((one) => one.trim()).filter(Boolean).slice(0, MOST_TESTS);
  if (lines.length === 0) form.fault("tests", "Give the results: one test on each line.");
  const read = lines.map((line) => ({ specimens: line.split(/,\s*/).filter(Boolean).map((text) => strengthOf(form, text, unit)) }));
  if (form.failed) return null;
  const shown = (value: number): string => formatSi(toSi(value, unit), unit, unit === "psi" ? 1 : 2);
  const { tests, averages, lowLimit, verdict, findings } = strengthFinding(read, { unit, specified: fromSi(specified, unit).toNumber(), form: kind, leastSpecimens: least });
  return {
    verdict, words: `${tests.length} test${tests.length === 1 ? "" : "s"} against ${formatSi(specified, unit)}, no test below ${shown(lowLimit)}.`,
    notes: [...findings.map((one) => `${capital(one)}.`), "Both forms were written for concrete and mortar: to use either on grout is the engineer’s choice."],
    rows: tests.map(({ mean }, i) => {
      const average = averages.find(({ last }) => last === i + 1);
      return { test: i + 1, mean: mean === null ? "too few specimens" : shown(mean), average: average ? `${shown(average.mean)}, ${average.verdict}` : "" };
    }),
  };
}

function strengthOf(form: Form, text: string, unit: "psi" | "MPa"): number {
  const read = parseMeasured(text, { dimension: "pressure", unit });
  if (read.ok && !new Decimal(read.measured.si).isNegative()) return fromSi(read.measured.si, unit).toNumber();
  form.fault("tests", read.ok ? `${text} is less than nothing.` : read.problem.message);
  return 0;
}

function pullOff(form: Form): CheckResult | null {
  const force = form.si("force", "force", "the force with its unit, such as 700 lbf");
  const dolly = form.si("dolly", "length", "the dolly’s diameter with its unit, such as 2 in");
  const leastText = form.si("pull-least", "pressure", "the least stress with its unit, such as 200 psi");
  if (dolly.lte(0)) form.fault("dolly", "A dolly is wider than nothing.");
  const mode: FailureMode = form.choice("mode", FAILURE_MODES, "where it let go");
  if (form.failed) return null;
  const { stressMpa, verdict, because } = pullOffFinding(
    { forceN: force.toNumber(), dollyMm: dolly.times(1_000).toNumber(), mode },
    { leastMpa: leastText.div(1e6).toNumber(), inSubstrate: form.text("substrate") === "1" },
  );
  const stress = new Decimal(stressMpa).times(1e6);
  return { verdict, words: `${formatSi(stress, "psi", 1)}, ${formatSi(stress, "MPa", 4)}, let go ${mode}; needs ${formatSi(leastText, "psi", 1)}.`, notes: because ? [`${capital(because)}.`] : [] };
}

function embedded(form: Form): CheckResult | null {
  const length = form.si("bar-length", "length", "the length of the bar with its unit, such as 40 in");
  const projection = form.si("projection", "length", "what stands out of the hole with its unit, such as 33.6 in");
  const needed = form.siOrNull("embedment-least", "length");
  const depth = form.siOrNull("hole-depth", "length");
  if (form.failed) return null;
  const found = embedment(length, projection);
  if (found === null) {
    form.fault("projection", "More stands out than the bar is long.");
    return null;
  }
  const bar = barOf(form.text("bar"));
  const held = needed && judge({ valueSi: found, uncertaintySi: 0, min: { si: needed, inclusive: true } });
  const bond = bar && found.gt(0) ? bondDesignHolds({ barMm: bar.diameterMm, embedmentMm: found.times(1_000).toNumber() }) : null;
  return {
    verdict: held?.verdict ?? null,
    words: `${formatSi(found, "in")} (${formatSi(found, "mm", 0)}) in the hole${needed ? `, needs ${formatSi(needed, "in")}${held?.beyond ? `: ${formatSi(held.beyond.si, "in")} short` : ""}` : ""}.`,
    notes: [
      ...(depth === null ? [] : [depth.lt(found.times("0.999999999")) ? `The hole is ${formatSi(depth, "in")} deep: the bar cannot stand ${formatSi(found, "in")} in it. One of the readings is wrong.` : `The hole is ${formatSi(depth, "in")} deep. A deep hole says nothing of the bar.`]),
      ...(bond ? [`${bond.diameters.toFixed(1)} bar diameters: ${bond.holds ? "inside" : "outside"} the 4 to 20 in which the usual bond design holds.`] : []),
    ],
  };
}

function dew(form: Form): CheckResult | null {
  const air = form.si("air", "temperature", "the air temperature with its unit, such as 12 °C");
  const surface = form.si("surface", "temperature", "the pile’s own surface temperature with its unit");
  const humidity = form.si("humidity", "share", "the relative humidity, such as 84 %");
  const least = form.siOrNull("margin-least", "temperature difference");
  if (form.failed) return null;
  const [airC, surfaceC, humidityPct] = [fromSi(air, "°C").toNumber(), fromSi(surface, "°C").toNumber(), humidity.times(100).toNumber()];
  const [point, margin] = [dewPointC(airC, humidityPct), dewMarginK(surfaceC, airC, humidityPct)];
  if (point === null || margin === null) return { verdict: "cannot tell", words: "The dew point cannot be told outside −45 to 60 °C and 0 to 100 %.", notes: [] };
  const held = least && judge({ valueSi: margin, uncertaintySi: 0, min: { si: least, inclusive: true } });
  return {
    verdict: held?.verdict ?? null,
    words: `${formatSi(margin, "K", 2)} (${formatSi(margin, "F°", 2)}) over a dew point of ${formatSi(point + 273.15, "°C", 2)}${least ? `, needs ${formatSi(least, "K", 2)}` : ""}.`,
    notes: ["3 °C and 5 °F are not the same: 5 °F is 2.78 K. Give the form that the specification uses."],
  };
}

function unsetHead(form: Form): CheckResult | null {
  const setTime = form.si("set", "time", "how long a lift takes to set, with its unit, such as 4 h");
  const density = form.siOrNull("head-density", "density");
  const lines = form.text("lifts").split(/[\n;]+/).map((one) => one.trim()).filter(Boolean).slice(0, MOST_TESTS);
  if (lines.length === 0) form.fault("lifts", "Give the lifts from the bottom, one on each line, such as 24 in, 0 h.");
  const lifts = lines.map((line) => {
    const [height = "", after = ""] = line.split(",");
    return { heightMm: part(form, height, "length").times(1_000).toNumber(), at: part(form, after, "time").div(3_600).times(HOUR).toNumber() };
  });
  if (form.failed) return null;
  const heads = headsByLiftMm(lifts.map(({ heightMm, at }) => ({ heightMm, beganAt: at, endedAt: at })), setTime.div(3_600).toNumber());
  const last = heads.at(-1)?.mostMm ?? 0;
  const most = Math.max(...heads.map(({ mostMm }) => mostMm));
  const inchesOf = (mm: number): string => `${formatSi(new Decimal(mm).div(1_000), "in", 1)} (${formatSi(new Decimal(mm).div(1_000), "mm", 0)})`;
  const pressure = density && new Decimal(footPressureKpa(most, { groutKgM3: density.toNumber() })).times(1_000);
  return {
    verdict: null, words: `${inchesOf(last)} of unset grout when the last lift is placed, at most ${inchesOf(most)}${pressure ? `: ${formatSi(pressure, "psi", 2)} (${formatSi(pressure, "kPa", 2)}) at the foot` : ""}.`,
    notes: ["All grout that has not set presses, not the last lift alone."],
  };
}

/** One of the values on a line of lifts. */
function part(form: Form, text: string, dimension: Dimension): Decimal {
  const read = parseMeasured(text, { dimension });
  return read.ok ? new Decimal(read.measured.si) : form.fault("lifts", `${text.trim() || "Nothing"}: ${read.problem.message}`);
}

function take(form: Form): CheckResult | null {
  const placed = form.whole("take-bags", "how many bags went in");
  const bagYield = form.si("take-yield", "volume", "what a bag yields with its unit, such as 0.43 ft³");
  const volume = form.si("take-volume", "volume", "the grout worked out for the pile with its unit, such as 10.555 ft³");
  const [min, max] = [form.si("take-min", "number", "the lower end of the band, such as 0.97"), form.si("take-max", "number", "the upper end of the band, such as 1.15")];
  if (form.failed) return null;
  const { ratio, verdict } = groutTake({ bagsPlaced: placed, bagYieldL: bagYield.times(1_000).toNumber(), volumeL: volume.times(1_000).toNumber() }, { min: min.toNumber(), max: max.toNumber() });
  return { verdict: verdict === "inside the band" ? "meets" : "fails", words: `${ratio.toFixed(3)} of what was worked out: ${verdict}.`, notes: ["One of the few checks on grout that nobody sees."] };
}

function formwork(form: Form): CheckResult | null {
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

/** Chemistry coefficients. @source ACI 347R-14, table 4.2.2.1a(b), as two public sources print it. */
export const CHEMISTRY = ["1.0", "1.2", "1.4"] as const;

const percent = (chance: number): string => `${(chance * 100).toFixed(chance < 0.001 ? 3 : 1)} %`;
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
