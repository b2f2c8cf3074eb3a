import { potLifeClock } from "#lib/domain/clock/pot-life-clock";
import { potLifeMinutes } from "#lib/domain/estimate/pot-life";
import type { NextActionFacts, PointClock, PointPotLife } from "#lib/domain/plan/bound";
import type { PlanLine } from "#lib/domain/plan/plan";
import { fromSi } from "#lib/domain/quantity/unit";
import { isClockRule } from "#lib/domain/requirement/judge-point";
import { itemRule } from "#lib/domain/requirement/rule";
import { clockOf, entriesAt, workAt, type Sheet } from "#lib/services/sheet";

/** What the next actions of a sheet are worked out from. Notices are none of its records yet. */
export function nextFacts(sheet: Sheet, tide: NextActionFacts["tide"]): NextActionFacts {
  const { lines, folded, outside, at } = sheet;
  const byLine = <T>(of: (line: PlanLine) => T | null): Map<string, T> => new Map(lines.flatMap((line): [string, T][] => {
    const found = of(line);
    return found ? [[line.line, found]] : [];
  }));
  return { lines, folded, outside, at, tide, notices: new Map(), clocks: byLine((line) => pointClock(sheet, line)), potLives: byLine((line) => potLifeOf(sheet, line)) };
}

function pointClock(sheet: Sheet, line: PlanLine): PointClock | null {
  const clock = clockOf(sheet, line);
  const rule = line.quantities.map((quantity) => itemRule(quantity.rule)).find(isClockRule);
  return clock && rule ? { form: clock.form, from: rule.from, since: clock.from, state: clock.state, earliest: clock.earliest } : null;
}

/** The batch that a point works with, once it is mixed. */
function potLifeOf(sheet: Sheet, line: PlanLine): PointPotLife | null {
  const rule = line.quantities.map((quantity) => itemRule(quantity.rule)).find((one) => one.form === "pot life");
  const mixedAt = rule?.form === "pot life" ? workAt(sheet, rule.from, "ended") : null;
  if (rule?.form !== "pot life" || mixedAt === null) return null;
  const read = entriesAt(sheet, rule.from).flatMap((entry) => (entry.kind === "measured" && rule.temperatures.includes(entry.quantity) ? [fromSi(entry.measured.si, "°C").toNumber()] : []));
  return { from: rule.from, since: mixedAt, latest: potLifeClock({ mixedAt, temperaturesC: read, life: (celsius) => potLifeMinutes(rule.life, celsius) }).latest };
}
