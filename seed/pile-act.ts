import { siteTime } from "#lib/domain/clock/site-time";
import { cureClock, maturityClock } from "#lib/domain/clock/cure";
import type { Reading } from "#lib/domain/clock/temperature-clock";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { buildPlan, requirementSet, type PlanLine } from "#lib/domain/plan/plan";
import { itemRule } from "#lib/domain/requirement/rule";
import type { Revision } from "#lib/domain/requirement/set";
import { acceptPile } from "#lib/services/accept-pile";
import { receiveDocument } from "#lib/services/receive-document";
import { recordTemperature } from "#lib/services/record-temperature";
import { saveDraft } from "#lib/services/save-draft";
import { airC, onSite, STANDS_AT, ZONE } from "#seed/calendar";
import { offsetBy } from "#seed/camera";
import { ODO_STANDS_IN, PASSWORD, TEO_LEFT } from "#seed/cast";
import type { PileFact, ReadingFact } from "#seed/facts/fact";
import { labReport } from "#seed/paper";
import { randFrom } from "#seed/photo/random";
import { check, decide, send, sendPhotos, shotsOf, type Going, type Subject } from "#seed/point-act";
import { LOT_SETS } from "#seed/register";
import { act, type Act } from "#seed/replay";
import { gateDays, gateKey, timeSteps, type TimedGate, type TimedStep } from "#seed/schedule";

/** The middle of the site, in open sea. */
export const SITE = { latitude: 44, longitude: -63.5 } as const;
/** Bents stand 5.5 m apart going north, rows 3.2 m going east; the middle of the site is bent 02, row A. */
const BENT_M = 5.5;
const ROW_M = 3.2;

export const bentOf = (mark: string): string => mark.slice(0, 2);
export const rowOf = (mark: string): string => mark.slice(3);

export function typeOf(mark: string): "H" | "C" | "T" {
  const bent = Number(bentOf(mark));
  return bent <= 3 ? "H" : bent <= 6 ? "C" : "T";
}

const CORE = { H: "H", C: "square", T: "round" } as const;

export function subjectOf(prefix: string, mark: string): Subject {
  const place = offsetBy(SITE, (Number(bentOf(mark)) - 2) * BENT_M, (rowOf(mark).charCodeAt(0) - "A".charCodeAt(0)) * ROW_M);
  return { prefix, sheet: `${prefix}-${mark}`, mark, core: CORE[typeOf(mark)], zone: ZONE, ...place };
}

/** The points of a pile as it is built. */
export function linesOf(pile: Pick<PileFact, "mark" | "overrides">, revision: Revision): PlanLine[] {
  const set = requirementSet(revision, typeOf(pile.mark));
  if (!set) throw new Error(`There is no requirement set for ${pile.mark}.`);
  return buildPlan(set, { mark: pile.mark, overrides: pile.overrides ?? [] }).lines;
}

/** Everything that is done at a pile, in any order: each act has its instant. */
export function pileActs(pile: PileFact, revision: Revision, gates: ReadonlyMap<string, TimedGate>): Act[] {
  const subject = subjectOf("w2", pile.mark);
  const lines = linesOf(pile, revision);
  const steps = timeSteps(pile, lines, randFrom(`times of ${pile.mark}`));
  const readings = readingsOf(pile, lines, steps);
  return [
    ...gateActs(pile, subject, lines, gates),
    ...steps.flatMap((step) => stepActs(pile, subject, step, readings.get(step.line.line)?.list ?? [])),
    ...[...readings].flatMap(([line, { list, clockKnown }]) => readingActs(pile, subject, line, list, clockKnown)),
    ...reopenActs(pile, subject),
    ...(pile.accepted ? [acceptance(pile, subject, pile.accepted)] : []),
    ...unsentActs(pile, subject, lines),
  ];
}

function gateActs(pile: PileFact, subject: Subject, lines: readonly PlanLine[], gates: ReadonlyMap<string, TimedGate>): Act[] {
  const line = lines.find(({ gate }) => gate === "is the gate");
  if (!line) return [];
  return gateDays(pile, gates, lines).flatMap((on, index): Act[] => {
    const gate = gates.get(gateKey(pile, on));
    if (!gate) return [];
    const { began, ended, sent, crew } = gate;
    // One look at wind, wave and water serves all the crew's piles of the day.
    const look: Going = { subject, line, attempt: index + 1, began, ended, lots: {}, by: crew };
    const shots = shotsOf(look, { from: began, to: ended });
    return [
      act(sent - MINUTE, `photo of the work area for ${pile.mark}`, (stage, jpegs) => sendPhotos(stage, crew, look, shots, jpegs), shots.map(({ job }) => job)),
      act(sent, `access check for ${pile.mark}`, (stage) => send(stage, look)),
    ];
  });
}

function goingOf(pile: PileFact, subject: Subject, { fact, line, attempt, began, ended }: TimedStep, readings: readonly Reading[]): Going {
  const { values, reasons, instruments } = fact;
  const last = readings.filter(({ at }) => at <= ended).at(-1);
  return {
    subject, line, attempt, began, ended, by: line.submits.includes("crew lead") ? pile.crew : "hanne",
    lots: LOT_SETS[pile.lots], ...(values ? { values } : {}), ...(reasons ? { reasons } : {}), ...(instruments ? { instruments } : {}),
    ...(last ? { logged: `${last.celsius.toFixed(1)} C` } : {}),
  };
}

function stepActs(pile: PileFact, subject: Subject, step: TimedStep, readings: readonly Reading[]): Act[] {
  const { fact, line, ended, sent, checked, decided } = step;
  const going = goingOf(pile, subject, step, readings);
  const { by } = going;
  const ending = fact.ending ?? "released";
  const where = `${pile.mark} point ${line.line}`;
  const shots = shotsOf(going, { from: step.photosFrom + MINUTE, to: ended - MINUTE, ...(fact.camera ? { camera: fact.camera } : {}), ...(fact.shots ? { shots: fact.shots } : {}) });
  const acts = [
    act(sent - MINUTE, `photos of ${where}`, (stage, jpegs) => sendPhotos(stage, by, going, shots, jpegs), shots.map(({ job }) => job)),
    ...line.documents.map(({ id: use, name }) =>
      act(sent - MINUTE, `${name} of ${where}`, async (stage) => {
        await receiveDocument(stage.as(by), { sheet: subject.sheet, line: line.line, use, title: `${name}, ${pile.mark}`, stream: pages(await labReport(pile.mark, going)) });
      }),
    ),
    act(sent, `submission of ${where}`, (stage) => send(stage, going, fact.words)),
  ];
  const checkedByQc = by !== "hanne" && !line.release.roles.includes("QC manager");
  if (checkedByQc && ending !== "sent") acts.push(act(checked, `check of ${where}`, (stage) => check(stage, going)));
  if (ending === "sent" || ending === "checked") return acts;
  const { who, seenAs } = decider(pile, line, decided);
  const verdict = ending === "released" ? ({ outcome: "release" } as const) : ({ outcome: "reject", codes: ending.reject, words: ending.words } as const);
  acts.push(act(decided, `decision on ${where}`, (stage) => decide(stage, who, subject.sheet, line.line, { ...verdict, seenAs })));
  return acts;
}

async function* pages(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}

/** The QC manager decides what the plan line gives to her, Odo what he stands in for, Ilse the rest. */
function decider({ mark }: PileFact, { kind, line, release }: PlanLine, at: Instant): { who: string; seenAs: "in person" | "delegate" | "evidence only" } {
  if (release.roles.includes("QC manager")) return { who: "hanne", seenAs: "in person" };
  const { date } = siteTime(at, ZONE);
  const clock = line === "17" || line === "22";
  const { from, to, bents } = ODO_STANDS_IN;
  const inScope = (kind === "W" || clock) && release.roles.includes("delegate") && from <= date && date <= to && (bents as readonly string[]).includes(bentOf(mark));
  if (inScope) return { who: "odo", seenAs: "delegate" };
  return { who: "ilse", seenAs: clock ? "evidence only" : "in person" };
}

/** Readings further apart than this would be marked assumed. */
const READ_EVERY = 5 * HOUR;
/** Under a cover the air stays warmer than outside, K, and is kept over a least temperature, °C. */
const COVER_WARMER_K = 3;
const COVER_LEAST_C = 12;

/** The readings of a clock, and when the work that starts it was sent: nothing can be entered before. */
interface ClockReadings {
  list: Reading[];
  clockKnown: Instant;
}

/** The temperatures of both clocks of a pile: those that are special, or the usual ones until the clock is done. */
function readingsOf(pile: PileFact, lines: readonly PlanLine[], steps: readonly TimedStep[]): Map<string, ClockReadings> {
  const found = new Map<string, ClockReadings>();
  for (const line of lines) {
    for (const { rule: whole } of line.quantities) {
      const rule = itemRule(whole);
      if (rule.form !== "cure" && rule.form !== "maturity") continue;
      const start = steps.findLast((step) => step.line.line === rule.from);
      if (!start) continue;
      const special = pile.readings?.[line.line]?.map(readingOf);
      const usual = start.ended < STANDS_AT - 48 * HOUR ? usualReadings(pile.mark, line.line, start.ended, rule) : [];
      found.set(line.line, { list: special ?? usual, clockKnown: start.sent });
    }
  }
  return found;
}

function readingOf([at, celsius]: ReadingFact): Reading {
  return { at: at.includes("T") ? Date.parse(at) : onSite(at), celsius: Number(celsius) };
}

type ClockRule = Extract<ReturnType<typeof itemRule>, { form: "cure" | "maturity" }>;

function usualReadings(mark: string, line: string, from: Instant, rule: ClockRule): Reading[] {
  const rand = randFrom(`temperatures of ${mark} ${line}`);
  const readings: Reading[] = [];
  let at = from + rand.whole(10, 25) * MINUTE;
  do {
    const celsius = Math.round(Math.max(airC(at) + COVER_WARMER_K, COVER_LEAST_C + rand.between(0, 2)) * 10) / 10;
    readings.push({ at, celsius });
    at += READ_EVERY - rand.whole(0, 50) * MINUTE;
  } while (!isDone(rule, from, readings));
  return readings;
}

function isDone(rule: ClockRule, from: Instant, readings: readonly Reading[]): boolean {
  const now = readings.at(-1)?.at ?? from;
  if (rule.form === "maturity") return maturityClock({ from, readings, now, requiredDegreeHours: Number(rule.degreeHours), datumC: Number(rule.datumC), minimumC: null, underMinimum: "pause" }).done;
  const { hours, referenceC, underMinimum, minimumC } = rule;
  return cureClock({ from, readings, now, requiredHours: Number(hours), referenceC: Number(referenceC), minimumC: minimumC === null ? null : Number(minimumC), underMinimum }).done;
}

/** By day they are typed as they are read, at night the logger keeps them until the crew comes. */
function readingActs(pile: PileFact, { sheet }: Subject, line: string, readings: readonly Reading[], clockKnown: Instant): Act[] {
  return readings.map(({ at, celsius }, index) => {
    const { date, time } = siteTime(at, ZONE);
    const morning = onSite(`${date} 07:05`);
    const typed = time < "07:00" ? morning : time > "21:00" ? morning + 24 * HOUR : at + MINUTE;
    const typedAt = Math.max(Math.min(typed, STANDS_AT - MINUTE / 2), clockKnown + MINUTE, at);
    const by = typedAt < onSite(TEO_LEFT) ? "teo" : pile.crew;
    return act(typedAt, `temperature at ${pile.mark} point ${line}`, (stage) =>
      recordTemperature(stage.as(by), { id: `${sheet}-${line}-t${index + 1}`, sheet, line, at: new Date(at).toISOString(), temperature: `${celsius} °C`, unit: null }),
    );
  });
}

function reopenActs({ mark, reopened = [] }: PileFact, { sheet }: Subject): Act[] {
  return reopened.map(({ at, line, codes, words }) =>
    act(onSite(at), `${mark} point ${line} reopened`, (stage) => decide(stage, "ilse", sheet, line, { outcome: "reopen", codes, words, seenAs: "evidence only" })),
  );
}

function acceptance({ mark }: PileFact, { sheet }: Subject, at: string): Act {
  return act(onSite(at), `acceptance of ${mark}`, (stage) =>
    acceptPile(stage.as("sabine"), { id: `${sheet}-accepted`, pileId: sheet, words: "Accepted as built. Warranty of five years runs from today.", password: PASSWORD }),
  );
}

/** Drafts, and photos that stand in no submission yet. */
function unsentActs({ mark, drafts = [], loose = [], lots }: PileFact, subject: Subject, lines: readonly PlanLine[]): Act[] {
  const lineOf = (id: string): PlanLine => {
    const found = lines.find(({ line }) => line === id);
    if (!found) throw new Error(`There is no point ${id}.`);
    return found;
  };
  return [
    ...drafts.map(({ at, by, line, values, began = "", words = "" }) =>
      act(onSite(at), `draft at ${mark} point ${line}`, (stage) =>
        saveDraft(stage.as(by), {
          sheet: subject.sheet,
          line,
          draft: {
            workBegan: began.replace(" ", "T"), workEnded: "", lots: [], setAside: [], words,
            values: Object.entries(values).map(([key, text]) => {
              const [quantity = key, item] = key.split(".");
              return { quantity, item: item === undefined ? null : Number(item), text, unit: null, instrumentId: null, unitConfirmed: false, reason: "" };
            }),
          },
        }),
      ),
    ),
    ...loose.map(({ at, by, line: id, subject: photoSubject, shot }) => {
      const line = lineOf(id);
      const going: Going = { subject, line, attempt: 1, began: onSite(at), ended: onSite(at), lots: LOT_SETS[lots], by };
      const shots = shotsOf(going, { from: going.began, to: going.ended, shots: { [`${photoSubject}.1`]: shot }, only: [`${photoSubject}.1`] });
      return act(onSite(at), `photo of ${mark} point ${id}`, (stage, jpegs) => sendPhotos(stage, by, going, shots, jpegs), shots.map(({ job }) => job));
    }),
  ];
}
