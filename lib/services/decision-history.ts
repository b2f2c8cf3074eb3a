import { formatWhen } from "#lib/domain/clock/site-time";
import { REASON_CODES } from "#lib/domain/point/history";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { Check, Decision } from "#lib/db/point-record";
import { getLine, type Sheet } from "#lib/services/sheet";
import { dayWords } from "#lib/services/words";

export interface StampView {
  kind: "released" | "rejected" | "reopened" | "checked" | "sent back" | "withdrawn";
  /** The name, or "the system". */
  who: string;
  lines: string[];
  serverAttested: boolean;
}

export interface AttemptView {
  number: number;
  submissions: { id: string; words: string; stamps: StampView[] }[];
}

/** Every attempt at a point with what was sent in it and the stamps on it, in the order they were made. */
export function historyOf(sheet: Sheet, line: PlanLine, names: ReadonlyMap<string, string>): AttemptView[] {
  const { standing } = getLine(sheet, line.line).status;
  const named = (id: string): string => names.get(id) ?? id;
  const { zone } = sheet.project;
  return standing.attempts
    .filter(({ submissions }) => submissions.length > 0)
    .map(({ number, submissions }) => ({
      number,
      submissions: submissions.map(({ submission, withdrawn }) => {
        const id = submission.submissionId;
        const taken = withdrawn && sheet.history.withdrawals.find((one) => one.submissionId === id);
        return {
          id,
          words: `sent by ${named(submission.by)} ${formatWhen(submission.at, zone)}`,
          stamps: [
            ...sheet.history.checks.filter((one) => one.submissionId === id).map((one) => checkStamp(one, named, zone)),
            ...(taken ? [{ kind: "withdrawn" as const, who: named(taken.by), lines: [taken.words, named(taken.by), formatWhen(taken.at, zone)], serverAttested: false }] : []),
            ...sheet.history.decisions.filter((one) => one.submissionId === id).map((one) => decisionStamp(one, named, zone)),
          ],
        };
      }),
    }));
}

function checkStamp({ outcome, codes, words, by, at }: Check, named: (id: string) => string, zone: string): StampView {
  return { kind: outcome, who: named(by), lines: [...reasonLines(codes, words), named(by), formatWhen(at, zone)], serverAttested: false };
}

function decisionStamp(decision: Decision, named: (id: string) => string, zone: string): StampView {
  const { outcome, by, organisation, seenAs, observedOn, codes, words, decidedAt, attestation, answers } = decision;
  const kind = { release: "released", reject: "rejected", reopen: "reopened" } as const;
  const seen = by === null ? [] : [`${seenAs}, observed ${dayWords(observedOn)}`];
  const given = answers.length > 0 ? [`${answers.length} flag${answers.length === 1 ? "" : "s"} answered`] : [];
  return {
    kind: kind[outcome],
    who: by === null ? "the system" : named(by),
    lines: [...reasonLines(codes, words), by === null ? "by the system" : `${named(by)}, ${organisation}`, formatWhen(Date.parse(decidedAt), zone), ...seen, ...given],
    serverAttested: attestation === "server-attested",
  };
}

function reasonLines(codes: readonly (keyof typeof REASON_CODES)[], words: string): string[] {
  return [...codes.map((code) => `${code} ${REASON_CODES[code]}`), ...(words ? [words] : [])];
}
