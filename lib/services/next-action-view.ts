import { nextActions, type DeadEnd, type NextAction } from "#lib/domain/plan/next-action";
import type { NextActionFacts, Unknown } from "#lib/domain/plan/bound";
import type { Instant } from "#lib/domain/instant";
import type { PointKind } from "#lib/domain/point/state";
import { timeNear } from "#lib/services/clock-view";
import { nextFacts } from "#lib/services/next-facts";
import type { Sheet } from "#lib/services/sheet";

/** When something can be done next at a pile: not before, and no later than. Neither is a permission. */
export interface NextActionView {
  line: string;
  kind: PointKind;
  name: string;
  earliest: string;
  latest: string | null;
  /** The water's window that it begins in. */
  tide: string | null;
}

export interface NextActionsView {
  actions: NextActionView[];
  /** What cannot be met any more by going on, said as soon as it is so, with the step to redo. */
  deadEnds: { redo: string; words: string }[];
}

export function nextActionsView(sheet: Sheet, tide: NextActionFacts["tide"]): NextActionsView {
  const actions = nextActions(nextFacts(sheet, tide));
  const deadEnds = actions.flatMap((action) => (action.deadEnd ? [{ redo: action.deadEnd.redo, words: deadEndWords(sheet, action, action.deadEnd) }] : []));
  return {
    deadEnds: deadEnds.filter(({ words }, index) => deadEnds.findIndex((one) => one.words === words) === index),
    actions: actions.filter(({ deadEnd }) => deadEnd === null).flatMap((action) => {
      const line = sheet.lines.find((one) => one.line === action.line);
      return line ? [{ line: line.line, kind: line.kind, name: line.name, earliest: earliestWords(sheet, action), latest: latestWords(sheet, action), tide: tideWords(sheet, action) }] : [];
    }),
  };
}

const near = ({ project, at }: Sheet, instant: Instant): string => timeNear(instant, project.zone, at);

const UNKNOWN_WORDS: Record<Unknown, (from: string | null) => string> = {
  "not released": (from) => `waits for the release of point ${from}`,
  "not done": (from) => `after point ${from}`,
  "in doubt": (from) => `point ${from} is in doubt`,
  paused: () => "cannot tell, the clock is paused",
  void: () => "the cure is void",
  "no readings": () => "cannot tell, no temperature was read",
  "tide table": () => "cannot tell, the tide table ends before",
  "pot life": () => "cannot tell how long the batch lasts",
};

function earliestWords(sheet: Sheet, { state, earliest, earliestBounds }: NextAction): string {
  if (state === "may begin") return "now";
  if (earliest !== null) return near(sheet, earliest);
  return [...new Set(earliestBounds.flatMap(({ unknown, from }) => (unknown ? [UNKNOWN_WORDS[unknown](from)] : [])))].join(", ");
}

function latestWords(sheet: Sheet, { latest, latestBounds }: NextAction): string | null {
  const [first] = latestBounds.filter(({ at }) => at !== null && at === latest);
  if (latest === null || !first) return null;
  return `${near(sheet, latest)}, ${first.name ?? first.kind}${first.kind === "pot life" ? ` of point ${first.from}` : ""}`;
}

function tideWords(sheet: Sheet, { window, earliest }: NextAction): string | null {
  if (!window || earliest === null) return null;
  return `water allows ${window.from <= sheet.at ? "" : `${near(sheet, window.from)} `}to ${near(sheet, window.to)}`;
}

function deadEndWords(sheet: Sheet, { notBefore }: NextAction, { bound, redo, since }: DeadEnd): string {
  const name = bound.name ?? bound.kind;
  if (bound.unknown === "void") return `Point ${bound.line} cannot be met: the ${bound.kind} is void. Redo point ${redo}, or the engineer decides.`;
  if (since !== null) return `Point ${bound.line} cannot be met: ${name} ended ${near(sheet, since)}. Redo point ${redo}.`;
  return `Point ${bound.line} cannot be met: it begins ${near(sheet, notBefore)} at the earliest, and ${name} ends ${near(sheet, bound.at ?? notBefore)}. Redo point ${redo}.`;
}
