import { siteTime } from "#lib/domain/clock/site-time";
import { SECOND, type Instant } from "#lib/domain/instant";
import { pileCode } from "#lib/domain/photo/tag";
import type { Outcome, ReasonCode, SeenAs } from "#lib/domain/point/history";
import { entryKind, type RawValue } from "#lib/domain/point/read-entries";
import type { PlanLine } from "#lib/domain/plan/plan";
import { checkSubmission } from "#lib/services/check-submission";
import { decidePoint, standingSubmission } from "#lib/services/decide-point";
import { receivePhoto } from "#lib/services/receive-photo";
import { getLine, loadSheet } from "#lib/services/sheet";
import { studyPhotos } from "#lib/services/study-photo";
import { submitPoint } from "#lib/services/submit-point";
import { onSite } from "#seed/calendar";
import { PASSWORD } from "#seed/cast";
import { cameraFacts, offsetBy, usualCamera, type CameraName } from "#seed/camera";
import type { ShotFact } from "#seed/facts/fact";
import type { PhotoJob } from "#seed/photo/maker-pool";
import { randFrom } from "#seed/photo/random";
import { INSTRUMENTS } from "#seed/register";
import type { Stage } from "#seed/replay";
import { sightOf, type Seen } from "#seed/shot-list";
import { usualValue, type Circumstance } from "#seed/value";

/** A pile, or the mock-up, as photos and values need to know it. */
export interface Subject {
  /** Of the project; begins the ids of its instruments and lots. */
  prefix: string;
  sheet: string;
  mark: string;
  core: "H" | "square" | "round";
  latitude: number;
  longitude: number;
  zone: string;
}

/** The mock-up has a mark and no tag: it is no pile. */
const isPile = ({ prefix, sheet, mark }: Subject): boolean => sheet === `${prefix}-${mark}`;

export interface Going {
  subject: Subject;
  line: PlanLine;
  attempt: number;
  began: Instant;
  ended: Instant;
  values?: Record<string, string>;
  reasons?: Record<string, string>;
  /** Number of the lot by kind. */
  lots: Record<string, string>;
  instruments?: Record<string, string>;
  by: string;
  logged?: string;
}

export interface Shot {
  subject: string;
  n: number;
  id: string;
  taken: Instant;
  job: PhotoJob;
}

/** Id of an instrument or a lot of a project. */
export const idOf = (prefix: string, mark: string): string => `${prefix}-${mark.toLowerCase()}`;

const submissionOf = (sheet: string, line: string, attempt: number): string => `${sheet}-${line}-${attempt}`;

const name = (quantity: string, item: number | null): string => (item === null ? quantity : `${quantity}.${item}`);
const CLASSES = new Map(INSTRUMENTS.map((one) => [one.mark, one.class]));
/** Lifts after the first, and tests of one age. */
const OPEN_ITEMS = 2;

/** Everything that is typed at a point: the usual values, and those that are special. */
export function typedValues({ subject, line, attempt, began, ended, values = {}, reasons = {}, instruments = {} }: Going): RawValue[] {
  return line.quantities.flatMap((quantity) => {
    const { rule } = quantity;
    const items = rule.form === "each" && !quantity.derived ? Array.from({ length: rule.count ?? OPEN_ITEMS }, (_, i) => i + 1) : itemsWithReason(quantity.id, reasons);
    return items.map((item): RawValue => {
      const circumstance: Circumstance = { began, ended, core: subject.core, rand: randFrom(`${subject.sheet} ${line.line} ${attempt} ${name(quantity.id, item)}`) };
      const derived = entryKind(quantity).kind === "derived";
      const text = derived ? "" : (values[name(quantity.id, item)] ?? values[quantity.id] ?? usualValue(line, quantity, circumstance));
      const mark = quantity.instrument && !derived ? (instruments[quantity.instrument] ?? [...CLASSES].find(([, kind]) => kind === quantity.instrument)?.[0]) : undefined;
      return {
        quantity: quantity.id, item, text, unit: null, instrumentId: mark ? idOf(subject.prefix, mark) : null, unitConfirmed: false,
        reason: reasons[name(quantity.id, item)] ?? "",
      };
    });
  });
}

/** A derived value is not typed; it has a row only where somebody says why it fails. */
function itemsWithReason(quantity: string, reasons: Record<string, string>): (number | null)[] {
  const items = Object.keys(reasons).flatMap((key) => (key.startsWith(`${quantity}.`) ? [Number(key.slice(quantity.length + 1))] : []));
  return items.length > 0 ? items : [null];
}

export interface Shooting {
  from: Instant;
  to: Instant;
  camera?: CameraName;
  shots?: Record<string, ShotFact>;
  /** Only these, by "subject.number"; all where it is not given. */
  only?: readonly string[];
}

/** Every photo asked for so far, so that one can be used again. */
const jobs = new Map<string, PhotoJob>();

/** The photos that a point asks for, spread over the work in the order of its subjects. */
export function shotsOf(going: Going, { from, to, camera, shots = {}, only }: Shooting): Shot[] {
  const { subject, line, attempt } = going;
  const typed = typedValues(going);
  const seen: Seen = {
    value: (quantity, item) => typed.find((one) => one.quantity === quantity && (one.item ?? undefined) === item)?.text ?? "",
    lot: (use) => going.lots[line.lots.find(({ id }) => id === use)?.kind ?? ""] ?? "",
    logged: going.logged ?? "",
    mark: subject.mark,
    day: siteTime(going.ended, subject.zone).date,
  };
  const wanted = line.photos.flatMap((one) => Array.from({ length: one.count }, (_, i) => ({ one, n: i + 1 })));
  return wanted
    .map(({ one, n }, index): Shot => {
      const key = `${one.id}.${n}`;
      const id = `${subject.sheet}-${line.line}-${attempt}-${one.id}-${n}`;
      const rand = randFrom(id);
      const special = shots[key] ?? {};
      const usual = from + ((to - from) * (index + 1)) / (wanted.length + 1) + rand.between(-15, 15) * SECOND;
      const at = special.taken ? onSite(special.taken) : Math.round(usual / SECOND) * SECOND;
      const { scene, ...sight } = sightOf(line.line, one, n, seen);
      const near = offsetBy(subject, rand.between(-1.5, 1.5), rand.between(-1.5, 1.5));
      const night = siteTime(at, subject.zone).time >= "18:00" || siteTime(at, subject.zone).time < "07:15";
      const own: PhotoJob = {
        scene,
        options: { ...sight, core: subject.core, variant: rand.whole(1, 1_000_000), mark: subject.mark, ...(isPile(subject) ? { code: pileCode(subject.sheet) } : {}), night },
        facts: cameraFacts(special.camera ?? camera ?? usualCamera(going.by, at), at, near, rand, subject.zone, special),
      };
      jobs.set(id, own);
      return { subject: one.id, n, id, taken: at, job: special.copyOf === undefined ? own : copyOf(`${subject.prefix}-${special.copyOf}`) };
    })
    .filter(({ subject: id, n }) => only === undefined || only.includes(`${id}.${n}`));
}

function copyOf(id: string): PhotoJob {
  const job = jobs.get(id);
  if (!job) throw new Error(`There is no photo ${id} yet to be used again.`);
  const { facts: _facts, ...drawn } = job;
  return { ...drawn, savedAgain: true };
}

/** One after the other goes out; while it is decoded and recorded the next is on its way. */
export async function sendPhotos(stage: Stage, by: string, { subject, line }: Pick<Going, "subject" | "line">, shots: readonly Shot[], jpegs: readonly Buffer[]): Promise<void> {
  const received: Promise<unknown>[] = [];
  for (const [i, { id, subject: photoSubject }] of shots.entries()) {
    const bytes = jpegs[i];
    if (!bytes) throw new Error(`The photo ${id} was not made.`);
    let sent = (): void => undefined;
    const gone = new Promise<void>((resolve) => (sent = resolve));
    const receipt = receivePhoto(stage.as(by), { id, sheet: subject.sheet, line: line.line, subject: photoSubject, stream: stream(bytes, sent), declaredLength: bytes.length });
    received.push(receipt);
    await Promise.race([gone, receipt]);
  }
  await Promise.all(received);
  // What a server does after a receipt: the tags are read out of the photos.
  await studyPhotos(stage.house);
}

async function* stream(bytes: Uint8Array, sent: () => void): AsyncGenerator<Uint8Array> {
  yield bytes;
  sent();
}

export async function send(stage: Stage, going: Going, words = ""): Promise<void> {
  const { subject, line, began, ended, lots, by, attempt } = going;
  await submitPoint(stage.as(by), {
    id: submissionOf(subject.sheet, line.line, attempt),
    sheet: subject.sheet,
    line: line.line,
    workBegan: new Date(began).toISOString(),
    workEnded: new Date(ended).toISOString(),
    values: typedValues(going),
    lots: line.lots.map(({ id: use, kind }) => ({ use, lotId: idOf(subject.prefix, lots[kind] ?? "") })),
    setAside: [],
    words,
  });
}

/** The QC manager's check of what the crew sent. */
export async function check(stage: Stage, { subject: { sheet }, line, attempt }: Going): Promise<void> {
  const submissionId = submissionOf(sheet, line.line, attempt);
  await checkSubmission(stage.as("hanne"), { id: `${submissionId}-check`, sheet, line: line.line, submissionId, outcome: "checked", codes: [], words: "" });
}

export interface Verdict {
  outcome: Outcome;
  codes?: ReasonCode[];
  words?: string;
  seenAs?: SeenAs;
}

/** A decision on what stands at a point; every question that it raises is answered as seen. What released itself is left. */
export async function decide(stage: Stage, by: string, sheet: string, lineId: string, { outcome, codes = [], words = "", seenAs = "in person" }: Verdict): Promise<void> {
  const loaded = await loadSheet(stage.house.db.read, stage.project, sheet, stage.clock.at);
  const { status } = getLine(loaded, lineId);
  const found = await standingSubmission(stage.house.db.read, loaded, lineId);
  if (!found) throw new Error("Nothing stands submitted.");
  if (outcome === "release" && status.standing.released) return;
  await decidePoint(stage.as(by), {
    id: `${found.submission.id}-${outcome}-${by}`,
    sheet,
    line: lineId,
    submissionId: found.submission.id,
    outcome,
    seenAs,
    observedOn: siteTime(stage.clock.at, stage.project.zone).date,
    codes,
    words,
    answers: found.questions.map(({ photo, code }) => ({ photo, code, answer: "seen", words: "Seen." })),
    password: PASSWORD,
  });
}

