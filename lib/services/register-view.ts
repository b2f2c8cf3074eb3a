import { siteTime } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";
import { listPiles } from "#lib/db/pile";
import { projectHistories } from "#lib/db/point-record";
import type { Project } from "#lib/db/project";
import { listInstruments, listLots } from "#lib/db/register";
import { accuracyWords, dayWords, markWords, rangeWords } from "#lib/services/words";

export type DateState = "good" | "soon" | "over" | "none";

export interface RegisterRow {
  id: string;
  /** The instrument's mark, or the lot's number. */
  mark: string;
  kind: string;
  /** Range and accuracy, or certificate and quantity. */
  facts: string;
  /** When it begins to be good, and the day on which that ends; days of the site's zone, YYYY-MM-DD. */
  from: string | null;
  until: string | null;
  state: DateState;
  stateWords: string;
  /** Every calibration of an instrument, oldest first; empty for a lot. */
  calibrations: { day: string; dueOn: string; certificate: string; words: string }[];
  /** When work that used it ended. */
  uses: Instant[];
  piles: string[];
  /** The piles in words, neighbours taken together. */
  pileWords: string;
}

export interface RegisterView {
  instruments: RegisterRow[];
  lots: RegisterRow[];
  today: string;
  /** Classes of instrument that the plan asks for and the register may name, and kinds of lot. */
  classes: string[];
  lotKinds: string[];
}

/** Days before the end in which it is said that the end comes near. Common practice, no source. */
const SOON_DAYS = 30;

/** The registers with everything that was read or made with their entries. */
export async function registerView(tx: Tx, project: Project, at: Instant, asked: { classes: string[]; lotKinds: string[] }): Promise<RegisterView> {
  const [instruments, lots, piles, histories] = await Promise.all([
    listInstruments(tx, project.id, project.zone), listLots(tx, project.id), listPiles(tx, project.id), projectHistories(tx, project.id),
  ]);
  const today = siteTime(at, project.zone).date;
  const marks = new Map(piles.map(({ id, mark }) => [id, mark]));
  const found = usesOf(histories, marks);
  const used = (id: string) => {
    const own = found.get(id) ?? { uses: [], piles: [] };
    return { ...own, pileWords: markWords(own.piles, piles) };
  };
  return {
    today,
    classes: [...new Set([...asked.classes, ...instruments.map((one) => one.class)])].sort(),
    lotKinds: [...new Set([...asked.lotKinds, ...lots.map(({ kind }) => kind)])].sort(),
    instruments: instruments.map((one): RegisterRow => {
      const last = one.calibrations.at(-1) ?? null;
      return {
        id: one.id, mark: one.mark, kind: one.class, facts: [rangeWords(one), accuracyWords(one)].filter(Boolean).join(", "), from: last?.from ?? null, until: last?.dueOn ?? null,
        ...dated(last?.dueOn ?? null, today, { good: "calibrated", soon: "due", over: "overdue", none: "not calibrated" }),
        calibrations: one.certificates.map(({ certificate, words, dueOn }, index) => ({ day: one.calibrations[index]?.from ?? "", dueOn, certificate, words })),
        ...used(one.id),
      };
    }),
    lots: lots.map((one): RegisterRow => {
      const dates = dated(one.expiresOn, today, { good: "in date", soon: "ends", over: "expired", none: "no expiry stated" });
      return {
        id: one.id, mark: one.number, kind: one.kind, facts: [one.certificate ? `certificate ${one.certificate}` : "no certificate", one.quantity].filter(Boolean).join(", "), from: one.receivedOn, until: one.expiresOn,
        ...dates, state: dates.state === "none" ? "good" : dates.state, calibrations: [], ...used(one.id),
      };
    }),
  };
}

interface Uses {
  uses: Instant[];
  piles: string[];
}

/** By instrument and lot: when it was used and on which piles. What was withdrawn stays a use: the reading was taken. */
function usesOf(histories: Awaited<ReturnType<typeof projectHistories>>, marks: ReadonlyMap<string, string>): Map<string, Uses> {
  const found = new Map<string, Uses>();
  for (const [sheet, { submissions }] of histories) {
    for (const { entries, lots, workEnded } of submissions.values()) {
      const ids = new Set([...entries.flatMap((entry) => (entry.kind === "measured" && entry.instrumentId ? [entry.instrumentId] : [])), ...lots.map(({ lotId }) => lotId)]);
      for (const id of ids) {
        const own = found.get(id) ?? { uses: [], piles: [] };
        const mark = marks.get(sheet) ?? "project sheet";
        found.set(id, { uses: [...own.uses, Date.parse(workEnded)], piles: own.piles.includes(mark) ? own.piles : [...own.piles, mark].sort() });
      }
    }
  }
  return found;
}

function dated(until: string | null, today: string, words: Record<DateState, string>): { state: DateState; stateWords: string } {
  if (until === null) return { state: "none", stateWords: words.none };
  const days = Math.round((Date.parse(`${until}T00:00:00Z`) - Date.parse(`${today}T00:00:00Z`)) / 86_400_000);
  if (days < 0) return { state: "over", stateWords: `${words.over} since ${dayWords(until)}` };
  if (days <= SOON_DAYS) return { state: "soon", stateWords: days === 0 ? `${words.soon} today` : `${words.soon} in ${days} day${days === 1 ? "" : "s"}` };
  return { state: "good", stateWords: `${words.good} to ${dayWords(until)}` };
}
