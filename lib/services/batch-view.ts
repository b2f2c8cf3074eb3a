import { potLifeClock, potLifeVerdict, type MixedBatch, type PotLifeVerdict } from "#lib/domain/clock/pot-life-clock";
import { formatWhen } from "#lib/domain/clock/site-time";
import { potLifeMinutes } from "#lib/domain/estimate/pot-life";
import { MINUTE, type Instant } from "#lib/domain/instant";
import type { PlanLine } from "#lib/domain/plan/plan";
import { fromSi } from "#lib/domain/quantity/unit";
import { itemRule, type ItemRule } from "#lib/domain/requirement/rule";
import { entriesAt, workAt, type Sheet } from "#lib/services/sheet";

type PotLifeRule = Extract<ItemRule, { form: "pot life" }>;

export interface BatchWorkView {
  line: string;
  name: string;
  began: Instant;
  ended: Instant;
  words: string;
}

/** One batch of resin over the points that it goes through: mixed, spread, wrapped, tied. */
export interface BatchView {
  /** The point at which it is mixed. */
  from: string;
  /** Lines that it goes through, in plan order. */
  lines: string[];
  headline: string;
  /** What the pot life is worked out from. */
  note: string;
  lots: string;
  mixedAt: Instant;
  latest: Instant | null;
  work: BatchWorkView[];
  bad: boolean;
  unknown: boolean;
}

/** The batch that stands at a pile; null where none is mixed, or its set says nothing of a pot life. */
export function batchView(sheet: Sheet): BatchView | null {
  const bound = sheet.lines.flatMap((line) => potLifeRules(line).map((rule) => ({ line, rule })));
  const [first] = bound;
  if (!first) return null;
  const { rule } = first;
  const mixedAt = workAt(sheet, rule.from, "ended");
  if (mixedAt === null) return null;
  const { zone } = sheet.project;
  const when = (at: Instant): string => formatWhen(at, zone, { short: true });
  const temperaturesC = temperaturesAt(sheet, rule);
  const batch: MixedBatch = { mixedAt, temperaturesC, life: (celsius) => potLifeMinutes(rule.life, celsius) };
  const clock = potLifeClock(batch);
  const held = bound.filter((one) => one.rule.from === rule.from);
  const through = sheet.lines.filter((line) => line.batch !== null && line.batch === sheet.lines.find(({ line: id }) => id === rule.from)?.batch);
  const sent = held.filter(({ line }) => workAt(sheet, line.line, "ended") !== null);
  const verdict = potLifeVerdict(batch, (sent.length > 0 ? sent : held).map(({ line }) => ({ line: line.line, endedAt: workAt(sheet, line.line, "ended") })));
  return {
    from: rule.from,
    lines: through.map(({ line }) => line),
    headline: headlineOf(verdict, sent.length, held.length, clock.latest === null ? null : when(clock.latest)),
    note: clock.latest === null ? `Mixed ${when(mixedAt)}. ${capital(clock.because)}.` : `Mixed ${when(mixedAt)} at ${Math.max(...temperaturesC)} °C, the warmest of its parts and the air: ${Math.floor(clock.minutes)} min to ${when(clock.latest)}.`,
    lots: lotsAt(sheet, rule.from),
    mixedAt,
    latest: clock.latest,
    work: through.flatMap(({ line, name }): BatchWorkView[] => {
      const [began, ended] = [workAt(sheet, line, "began"), workAt(sheet, line, "ended")];
      return began === null || ended === null ? [] : [{ line, name, began, ended, words: `${when(began)} to ${when(ended)}` }];
    }),
    bad: verdict.verdict === "past pot life",
    unknown: verdict.verdict === "cannot tell",
  };
}

function potLifeRules({ quantities, notApplicable }: PlanLine): PotLifeRule[] {
  if (notApplicable) return [];
  return quantities.flatMap(({ rule }) => {
    const item = itemRule(rule);
    return item.form === "pot life" ? [item] : [];
  });
}

function temperaturesAt(sheet: Sheet, { from, temperatures }: PotLifeRule): number[] {
  return entriesAt(sheet, from).flatMap((entry) => (entry.kind === "measured" && temperatures.includes(entry.quantity) ? [fromSi(entry.measured.si, "°C").toNumber()] : []));
}

function headlineOf(verdict: PotLifeVerdict, sent: number, held: number, latest: string | null): string {
  switch (verdict.verdict) {
    case "past pot life":
      return `Point ${verdict.line} ended ${Math.ceil(verdict.overMinutes)} min past the pot life`;
    case "in time":
      return sent < held ? `In time so far, ${Math.floor(verdict.leftMinutes)} min left when the last was sent` : `All of it ended inside the pot life, ${Math.floor(verdict.leftMinutes)} min left`;
    case "cannot tell":
      return latest === null || sent > 0 ? `Cannot tell: ${verdict.because}` : `To be wrapped and tied by ${latest}`;
  }
}

function lotsAt({ folded, history, lots }: Sheet, line: string): string {
  const id = folded.get(line)?.standing.trail?.submission.submissionId;
  const used = id === undefined ? [] : (history.submissions.get(id)?.lots ?? []);
  return used.flatMap(({ lotId }) => lots.find((lot) => lot.id === lotId)?.number ?? []).join(", ");
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Where an instant lies between the beginning of a batch and its end, 0 to 1, with room for what ended after it. */
export function batchScale({ mixedAt, latest, work }: BatchView): (at: Instant) => number {
  const from = Math.min(mixedAt, ...work.map(({ began }) => began));
  const to = Math.max(latest ?? mixedAt, ...work.map(({ ended }) => ended)) + 5 * MINUTE;
  return (at) => (at - from) / (to - from);
}
