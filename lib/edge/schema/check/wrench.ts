import { rejudgedTorque, trueTorque } from "#lib/domain/estimate/torque";
import { asFound } from "#lib/domain/quantity/as-found";
import type { Decimal } from "#lib/domain/quantity/decimal";
import { formatSi, shownNumber } from "#lib/domain/quantity/measured";
import type { Form } from "#lib/edge/schema/check-form";
import type { CheckResult } from "#lib/edge/schema/check/result";

/** What a wrench was found to deliver, in both percentages, and what an earlier reading stood for. */
export function wrench(form: Form): CheckResult | null {
  const reading = form.si("wrench-reading", "torque", "the reading with its unit, such as 65 ft·lbf");
  const indicated = form.positive("wrench-indicated", "torque", "what the wrench showed with its unit, such as 65 ft·lbf");
  const delivered = form.positive("wrench-delivered", "torque", "what it delivered with its unit, such as 57.85 ft·lbf");
  const [min, max] = [form.siOrNull("wrench-min", "torque"), form.siOrNull("wrench-max", "torque")];
  if (reading.lt(0)) form.fault("wrench-reading", "A torque cannot be negative.");
  if (min && max?.lt(min)) form.fault("wrench-max", "The upper limit lies under the lower one.");
  if (form.failed) return null;
  const found = { indicated, delivered };
  const { deliveredPct, indicatedPct } = asFound(found);
  const limits = { ...(min && { min: { si: min, inclusive: true } }), ...(max && { max: { si: max, inclusive: true } }) };
  const judged = min || max ? rejudgedTorque({ readingSi: reading, found, uncertaintySi: 0, ...limits }) : null;
  const both = (torque: Decimal): string => `${formatSi(torque, "ft·lbf")} (${formatSi(torque, "N·m")})`;
  const beyond = judged?.beyond;
  return {
    verdict: judged?.verdict ?? null,
    words: `A reading of ${both(reading)} stood for ${both(judged?.trueSi ?? trueTorque(reading, found))}${beyond ? `: ${formatSi(beyond.si, "ft·lbf")} ${beyond.side} the limit` : ""}.`,
    notes: [
      `Delivered is ${signed(deliveredPct)} % from indicated, as crews say it; indicated is ${signed(indicatedPct)} % from delivered, as certificates print it.`,
      "The error is taken to be the same share at every setting (common practice, no source), and its uncertainty to be nothing.",
    ],
  };
}

/** With its sign, which says whether it is too much or too little. */
function signed(pct: Decimal): string {
  return `${pct.gt(0) ? "+" : ""}${shownNumber(pct, 2)}`;
}
