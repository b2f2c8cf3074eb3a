import { judge, marginWords, otherUnitThatFits } from "#lib/domain/quantity/compare";
import { Decimal } from "#lib/domain/quantity/decimal";
import { formatMeasured, formatSi } from "#lib/domain/quantity/measured";
import type { Unit } from "#lib/domain/quantity/unit";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import type { Entry } from "#lib/domain/point/value";
import { limitsOf, type RuleLimits } from "#lib/domain/requirement/limits";
import type { ItemRule } from "#lib/domain/requirement/rule";

/** One value ready to be held against a rule. A number is in SI with the expanded uncertainty of how it was measured. */
export type Finding =
  | { kind: "number"; si: Decimal; uncertaintySi: Decimal; unit: Unit; words: string; measured: Extract<Entry, { kind: "measured" }>["measured"] | null }
  | { kind: "count"; count: number }
  | { kind: "words"; words: string }
  | { kind: "stated"; yes: boolean }
  | { kind: "unknown"; because: string };

export interface Verdict {
  /** Null where the rule only asks for the value to be recorded. */
  verdict: ValueVerdict | null;
  measured: string;
  /** How far from the limit, or why it cannot be told, in words; empty where there is nothing to add. */
  margin: string;
  /** The entry fails, and the same number in this unit would fit: a question for the person, never a conversion. */
  otherUnit: Unit | null;
  /** For the drawing of the value against its limits. */
  drawn: { valueSi: string; uncertaintySi: string; limits: RuleLimits } | null;
}

/** Holds one finding against one rule. Nothing is guessed: what cannot be compared is "cannot tell", with the reason. */
export function judgeFinding(rule: ItemRule, finding: Finding): Verdict {
  if (finding.kind === "unknown") return plain("cannot tell", "", finding.because);
  if (rule.form === "all of" || rule.form === "any of") return judgeSeveral(rule, finding);
  switch (rule.form) {
    case "recorded":
      return plain(null, shown(finding), "");
    case "exact":
      return finding.kind === "words" ? judgeWords(rule.value, finding.words) : mismatch(finding);
    case "count":
      return finding.kind === "count" ? judgeCount(rule, finding.count) : mismatch(finding);
    case "grade":
      return finding.kind === "words" ? judgeGrade(rule, finding.words) : mismatch(finding);
    case "statement":
      return finding.kind === "stated" ? plain(finding.yes ? "meets" : "fails", finding.yes ? "stated" : "not so", finding.yes ? "" : "stated not to be so") : mismatch(finding);
    default:
      return finding.kind === "number" ? judgeNumber(rule, finding) : mismatch(finding);
  }
}

function judgeNumber(rule: ItemRule, finding: Extract<Finding, { kind: "number" }>): Verdict {
  const limits = limitsOf(rule);
  if (!limits) return mismatch(finding);
  const { verdict } = judge({ valueSi: finding.si, uncertaintySi: finding.uncertaintySi, ...limits });
  return {
    verdict,
    measured: finding.words,
    margin: marginWords({ valueSi: finding.si, ...limits, unit: limits.unit }),
    otherUnit: finding.measured && otherUnitThatFits(finding.measured, limits.min, limits.max),
    drawn: { valueSi: finding.si.toString(), uncertaintySi: finding.uncertaintySi.toString(), limits },
  };
}

function judgeWords(wanted: string, words: string): Verdict {
  const same = fold(wanted) === fold(words);
  return plain(same ? "meets" : "fails", words, same ? "" : `${words}, needs ${wanted}`);
}

/** A person types "#6 " and the drawing says "#6": case, space and how a fraction is written do not make another word. */
function fold(words: string): string {
  return words.normalize("NFKC").replaceAll("\u2044", "/").replace(/\s+/gu, "").toLowerCase();
}

function judgeCount({ exactly, atLeast }: Extract<ItemRule, { form: "count" }>, count: number): Verdict {
  const wanted = exactly ?? atLeast ?? 0;
  const off = count - wanted;
  if (off === 0 || (off > 0 && exactly === null)) return plain("meets", `${count}`, "");
  return plain("fails", `${count}`, `${count}, needs ${exactly === null ? "at least " : ""}${wanted}: ${Math.abs(off)} ${off < 0 ? "short" : "too many"}`);
}

/**
 * Compares visual grades only along a chain that names both: some grades of two standards have no common order.
 * @source ISO 8501-1 and SSPC grades are ordered by the specification's own chains.
 */
function judgeGrade({ atLeast, chains }: Extract<ItemRule, { form: "grade" }>, grade: string): Verdict {
  const place = (chain: readonly string[], word: string): number => chain.findIndex((one) => fold(one) === fold(word));
  const common = chains.filter((chain) => place(chain, grade) >= 0 && place(chain, atLeast) >= 0);
  if (common.length === 0) return plain("cannot tell", grade, `${grade} and ${atLeast} are not on one scale`);
  const reached = common.some((chain) => place(chain, grade) >= place(chain, atLeast));
  return plain(reached ? "meets" : "fails", grade, reached ? "" : `${grade}, needs ${atLeast} or better`);
}

function judgeSeveral({ form, rules }: Extract<ItemRule, { form: "all of" | "any of" }>, finding: Finding): Verdict {
  const verdicts = rules.map((rule) => judgeFinding(rule, finding)).sort((a, b) => severity(a.verdict) - severity(b.verdict));
  const [best, worst] = [verdicts[0], verdicts.at(-1)];
  return (form === "all of" ? worst : best) ?? mismatch(finding);
}

const SEVERITY: readonly (ValueVerdict | null)[] = [null, "meets", "meets, inside uncertainty", "not measured", "cannot tell", "fails"];

/** How much a verdict stands in the way, least first. */
export function severity(verdict: ValueVerdict | null): number {
  return SEVERITY.indexOf(verdict);
}

export function worstOf(verdicts: readonly (ValueVerdict | null)[]): ValueVerdict | null {
  return [...verdicts].sort((a, b) => severity(b) - severity(a))[0] ?? null;
}

function plain(verdict: ValueVerdict | null, measured: string, margin: string): Verdict {
  return { verdict, measured, margin, otherUnit: null, drawn: null };
}

function mismatch(finding: Finding): Verdict {
  return plain("cannot tell", shown(finding), "the value is not of the kind that the requirement asks for");
}

function shown(finding: Finding): string {
  switch (finding.kind) {
    case "number":
      return finding.words;
    case "count":
      return `${finding.count}`;
    case "words":
      return finding.words;
    case "stated":
      return finding.yes ? "stated" : "not so";
    case "unknown":
      return "";
  }
}

/** The finding of an entry as typed. */
export function findingOf(entry: Entry, uncertaintySi: Decimal): Finding {
  switch (entry.kind) {
    case "measured":
      return {
        kind: "number", si: new Decimal(entry.measured.si), uncertaintySi, unit: entry.measured.unit, words: formatMeasured(entry.measured), measured: entry.measured,
      };
    case "count":
      return { kind: "count", count: entry.count };
    case "words":
      return { kind: "words", words: entry.words };
    case "stated":
      return { kind: "stated", yes: entry.yes };
  }
}

/** A number that the tool worked out, shown in the unit of the requirement. */
export function workedOut(si: Decimal, unit: Unit, uncertaintySi: Decimal = new Decimal(0)): Finding {
  return { kind: "number", si, uncertaintySi, unit, words: formatSi(si, unit), measured: null };
}
