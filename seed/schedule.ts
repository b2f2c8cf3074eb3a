import { MINUTE, type Instant } from "#lib/domain/instant";
import type { PlanLine } from "#lib/domain/plan/plan";
import { onSite, tideStart } from "#seed/calendar";
import type { DayFact, PileFact, StepFact } from "#seed/facts/fact";
import type { Rand } from "#seed/photo/random";

/** How long the work of a point usually takes, minutes. Point 19 includes the set that is probed at its end. */
const WORK_MINUTES: Record<string, number> = {
  "2": 20, "3": 55, "4": 55, "5": 30, "6": 45, "7": 40, "8": 25, "9": 30, "10": 24, "11": 14, "12": 20, "13": 8, "14": 10, "15": 14, "16": 20, "17": 8,
  "18": 45, "19": 262, "20": 105, "21": 30, "22": 6, "23": 40, "24": 50, "25": 5, "26": 35,
};
/** Between two pieces of work, minutes. */
const PAUSE = 4;
/** The crew hurries while the resin can be worked: minutes before the next of its points, and before each is sent. */
const IN_BATCH = 1;
/** From the end of the work to its being sent, from there to the QC manager's check, and to the decision, minutes. */
const SENDS_AFTER = 3;
const CHECKS_AFTER = 4;
const QC_DECIDES_AFTER = 7;
const OTHERS_DECIDE_AFTER = 11;
/** Before the first work of a day the access check is done and sent. */
const GATE = { began: 18, ended: 10, sent: 6 } as const;

export interface TimedStep {
  fact: StepFact;
  line: PlanLine;
  /** Number of the try, from 1. */
  attempt: number;
  began: Instant;
  ended: Instant;
  /** Photos are taken from here to the end of the work. */
  photosFrom: Instant;
  sent: Instant;
  checked: Instant;
  decided: Instant;
}

/** Lays the days of a pile out: each point after what it stands on has been let go. */
export function timeSteps({ days }: PileFact, lines: readonly PlanLine[], rand: Rand): TimedStep[] {
  const timed: TimedStep[] = [];
  const lineOf = (id: string): PlanLine => {
    const found = lines.find(({ line }) => line === id);
    if (!found) throw new Error(`There is no point ${id}.`);
    return found;
  };
  for (const day of days) {
    let free = startOf(day);
    for (const fact of day.steps) {
      const line = lineOf(fact.line);
      const attempt = 1 + timed.filter((one) => one.line === line).length;
      const ended = fact.ended ? onSite(`${day.on} ${fact.ended}`) : (fact.began ? onSite(`${day.on} ${fact.began}`) : free) + minutesOf(line) * MINUTE;
      const usual = ended - minutesOf(line) * MINUTE;
      const began = fact.began ? onSite(`${day.on} ${fact.began}`) : (firstPass(line, timed, day) ?? usual);
      const sent = fact.sent ? onSite(`${day.on} ${fact.sent}`) : ended + (line.batch === null ? SENDS_AFTER : IN_BATCH) * MINUTE;
      const seconds = (): number => rand.whole(0, 59) * 1_000;
      const byQc = line.release.roles.includes("QC manager");
      const decided = sent + (fact.decidedAfter ?? (byQc ? QC_DECIDES_AFTER : OTHERS_DECIDE_AFTER)) * MINUTE + seconds();
      timed.push({ fact, line, attempt, began, ended, photosFrom: line.line === "19" ? ended - 30 * MINUTE : Math.max(began, usual), sent, checked: sent + CHECKS_AFTER * MINUTE + seconds(), decided });
      free = nextStart(line, { sent, decided });
    }
  }
  return timed;
}

const minutesOf = ({ line }: PlanLine): number => WORK_MINUTES[line] ?? 20;

export function startOf({ on, from }: DayFact): Instant {
  return from ? onSite(`${on} ${from}`) : tideStart(on);
}

/** Bolts are torqued on the day the clamps are fitted and torqued again on a later one. */
function firstPass({ line }: PlanLine, timed: readonly TimedStep[], { on }: DayFact): Instant | null {
  const clamps = line === "9" ? timed.findLast((one) => one.line.line === "8") : undefined;
  return clamps && clamps.began < onSite(`${on} 00:00`) ? clamps.sent + PAUSE * MINUTE : null;
}

/** Record points and those inside a resin batch let the next begin once they are sent, the others once they are released. */
function nextStart({ kind, batch, line }: PlanLine, { sent, decided }: { sent: Instant; decided: Instant }): Instant {
  if (batch !== null && line !== "16") return Math.ceil((sent + IN_BATCH * MINUTE) / MINUTE) * MINUTE;
  return Math.ceil(((kind === "R" ? sent : decided) + PAUSE * MINUTE) / MINUTE) * MINUTE;
}

export interface TimedGate {
  crew: string;
  began: Instant;
  ended: Instant;
  sent: Instant;
}

/** When the crew of a pile does its access check on each day that one is needed: once for all its piles of that day. */
export function timeGates(piles: readonly PileFact[], linesOf: (pile: PileFact) => readonly PlanLine[]): Map<string, TimedGate> {
  const first = new Map<string, Instant>();
  for (const pile of piles) {
    const gated = new Set(linesOf(pile).filter(({ gate }) => gate === "under the gate").map(({ line }) => line));
    for (const day of pile.days) {
      if (!day.steps.some(({ line }) => gated.has(line))) continue;
      const key = gateKey(pile, day.on);
      first.set(key, Math.min(first.get(key) ?? Number.POSITIVE_INFINITY, startOf(day)));
    }
  }
  const gate = (key: string, start: Instant): TimedGate => ({
    crew: key.slice(0, key.indexOf(" ")), began: start - GATE.began * MINUTE, ended: start - GATE.ended * MINUTE, sent: start - GATE.sent * MINUTE,
  });
  return new Map([...first].map(([key, start]) => [key, gate(key, start)]));
}

export const gateKey = ({ crew }: PileFact, on: string): string => `${crew} ${on}`;

/** Days on which a pile's access check is entered. */
export function gateDays(pile: PileFact, gates: ReadonlyMap<string, TimedGate>, lines: readonly PlanLine[]): string[] {
  const gated = new Set(lines.filter(({ gate }) => gate === "under the gate").map(({ line }) => line));
  const worked = pile.days.filter(({ steps }) => steps.some(({ line }) => gated.has(line))).map(({ on }) => on);
  return [...worked, ...(pile.gates ?? [])].filter((on) => gates.has(gateKey(pile, on)));
}
