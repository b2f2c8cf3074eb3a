import { formatWhen } from "#lib/domain/clock/site-time";
import { HOUR } from "#lib/domain/instant";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { Question } from "#lib/domain/point/question";
import type { Submission } from "#lib/db/point-record";
import { assumedStretches } from "#lib/services/clock-view";
import { clockOf, type Sheet } from "#lib/services/sheet";

const CLOCK_NAMES = { cure: "cure", maturity: "maturity", "equivalent age": "age" } as const;

/** Hours in which nobody measured are counted at the colder of their ends. Whoever releases on such a clock answers for that by name. */
export function clockQuestions(sheet: Sheet, line: PlanLine, { workEnded }: Submission): Question[] {
  const clock = clockOf(sheet, line, Date.parse(workEnded));
  const assumed = clock ? assumedStretches(sheet.readings.filter((one) => one.line === line.line), clock) : [];
  if (!clock || assumed.length === 0) return [];
  const { zone } = sheet.project;
  const hours = assumed.reduce((sum, { from, to }) => sum + (to - from) / HOUR, 0);
  const stretches = assumed.map(({ from, to, celsius }) => `${formatWhen(from, zone, { short: true })} to ${formatWhen(to, zone, { short: true })} at ${celsius} °C`);
  return [{
    photo: null, code: "CLOCK ASSUMED", title: `${Number(hours.toFixed(1))} h of the ${CLOCK_NAMES[clock.form]} are assumed`,
    measured: stretches.join("; "), limit: "the colder of both ends is counted where nothing was read",
  }];
}
