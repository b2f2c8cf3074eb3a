import { Decimal } from "#lib/domain/quantity/decimal";
import { formatSi, parseMeasured } from "#lib/domain/quantity/measured";
import { fromSi, toSi } from "#lib/domain/quantity/unit";
import { FAILURE_MODES, pullOffFinding, type FailureMode } from "#lib/domain/statistics/pull-off";
import { acceptCurve, acceptProbability, missProbability, smallestSample } from "#lib/domain/statistics/sampling-risk";
import { earlyStrength, STRENGTH_FORMS, strengthFinding, type StrengthForm } from "#lib/domain/statistics/strength";
import type { Form } from "#lib/edge/schema/check-form";
import { capital, type CheckResult, type SamplingCheck, type StrengthCheck } from "#lib/edge/schema/check/result";

/** Chance of finding a bad one that the smallest sample is told for, where nobody asks for another. Common practice, no source. */
const USUAL_DETECTION = 95;

export function sampling(form: Form): SamplingCheck | null {
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
      ...(accept > 0 && bad > 0 ? [`A check of ${checked} finds none of the ${bad} with a chance of ${percent(missProbability({ lot, bad, checked }))}.`] : []),
      "Bolts that will be buried are usually all checked. What a sample is enough is for the specification to say.",
    ],
  };
}

export function strength(form: Form): StrengthCheck | null {
  const specified = form.si("specified", "pressure", "the specified strength with its unit, such as 6000 psi");
  // A specification in MPa is held in MPa: the two editions of the rule are rounded apart.
  const unit = /(?:MPa|N\/mm)/i.test(form.text("specified")) ? "MPa" : "psi";
  const kind: StrengthForm = form.choice("form", STRENGTH_FORMS, "how the results are accepted");
  const least = form.whole("least", "how many specimens make a test");
  const early = form.text("early") === "" ? null : specimensOf(form, "early", form.text("early"), unit);
  const share = early || form.text("early-share") !== "" ? form.si("early-share", "share", "the share of the strength that is expected by then, such as 70 %").toNumber() : 1;
  if (!(share > 0 && share <= 1)) form.fault("early-share", "A share of strength is more than nothing and at most all.");
  if (!early && form.text("early-share") !== "") form.fault("early", "Give the strengths of the early specimens.");
  const read = early && form.text("tests") === "" ? [] : form.lines("tests", "the results: one test on each line").map((line) => ({ specimens: specimensOf(form, "tests", line, unit) }));
  if (form.failed) return null;
  const shown = (value: number): string => formatSi(toSi(value, unit), unit, unit === "psi" ? 1 : 2);
  const required = { specified: fromSi(specified, unit).toNumber(), leastSpecimens: least };
  const { tests, averages, lowLimit, verdict, findings } = strengthFinding(read, { unit, form: kind, ...required });
  return {
    verdict, words: `${tests.length} test${tests.length === 1 ? "" : "s"} against ${formatSi(specified, unit)}, no test below ${shown(lowLimit)}.`,
    notes: [...findings.map((one) => `${capital(one)}.`), ...(early ? [earlyWords(earlyStrength({ specimens: early }, { ...required, share }), { least, share, shown })] : []), "Both forms were written for concrete and mortar: to use either on grout is the engineer’s choice."],
    rows: tests.map(({ mean }, i) => {
      const average = averages.find(({ last }) => last === i + 1);
      return { test: i + 1, mean: mean === null ? "too few specimens" : shown(mean), average: average ? `${shown(average.mean)}, ${average.verdict}` : "" };
    }),
  };
}

/** What an early test leads one to expect: a warning, never a verdict. */
function earlyWords(early: ReturnType<typeof earlyStrength>, { least, share, shown }: { least: number; share: number; shown: (value: number) => string }): string {
  if (early === null) return `The early test has fewer than ${least} specimens: nothing is expected from it.`;
  const expected = `${shown(early.expected)} is to be expected from the early test, at ${formatSi(share, "%")} by then`;
  return early.warns ? `Early warning: ${expected}, and the specified strength may not be reached. It is no verdict.` : `${expected}: no warning, and no verdict either.`;
}

/** The strengths of one test, apart by commas. */
function specimensOf(form: Form, field: string, text: string, unit: "psi" | "MPa"): number[] {
  return text.split(/,\s*/).filter(Boolean).map((one) => {
    const read = parseMeasured(one, { dimension: "pressure", unit });
    if (read.ok && !new Decimal(read.measured.si).isNegative()) return fromSi(read.measured.si, unit).toNumber();
    form.fault(field, read.ok ? `${one} is less than nothing.` : read.problem.message);
    return 0;
  });
}

export function pullOff(form: Form): CheckResult | null {
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

const percent = (chance: number): string => `${(chance * 100).toFixed(chance < 0.001 ? 3 : 1)} %`;
