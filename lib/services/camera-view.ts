import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { SECOND } from "#lib/domain/instant";
import { cameraClock, clockWords, type CameraClock, type CameraReference, type CameraSource } from "#lib/domain/photo/camera-clock";
import { zoneAndRest } from "#lib/domain/photo/clock-run";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import { listClockPhotos, listConfirmations, listPhotoCameras, listReferences, type ClockPhoto, type ConfirmedClock, type FiledReference, type PhotoCamera } from "#lib/db/camera";
import type { Tx } from "#lib/db/client";
import { listMembers, type Project } from "#lib/db/project";
import { cameraEffect, type CameraEffect } from "#lib/services/camera-effect";
import { confirmedClock } from "#lib/services/camera-knowledge";
import { stripOf, type CameraStrip } from "#lib/services/camera-strip";
import { clockFinding, isOnSiteTime, restWords, tooFewWords, zoneText } from "#lib/services/camera-words";
import { limitsNow } from "#lib/services/evidence-facts";

export type CameraState = "confirmed" | "changed since" | "to be confirmed" | "on time" | "cannot tell";

/** One camera of a project. */
export interface CameraRow {
  key: string;
  name: string;
  /** Who sends with it, who sends most first. */
  senders: string[];
  photos: number;
  state: CameraState;
  stateWords: string;
  /** How its clock ran, as a sentence without its subject. */
  finding: string;
  references: number;
}

export interface ReferenceRow {
  photo: string;
  source: CameraSource;
  cameraSaid: string;
  trueTime: string;
  difference: string;
  /** Why it does not count; null where it does. */
  dropped: string | null;
  /** Came after the confirmation. */
  since: boolean;
  /** Digest of a photo of the clock page, which has no sheet of its own. */
  clockPhoto: string | null;
}

/** The camera that is open on the sheet. */
export interface OpenCamera extends CameraRow {
  strip: CameraStrip | null;
  rows: ReferenceRow[];
  confirmations: { by: string; when: string; words: string; references: number }[];
  newer: number;
  /** What a confirmation now would freeze; null where there is nothing to confirm, or nothing new. */
  proposal: { seen: number; references: number; words: string } | null;
  effect: CameraEffect | null;
}

export interface CamerasView {
  lead: string;
  cameras: CameraRow[];
  open: OpenCamera | null;
  /** Photos that name no camera. */
  nameless: number;
}

interface CameraFacts {
  key: string;
  name: string;
  taken: PhotoCamera[];
  references: FiledReference[];
  confirmations: ConfirmedClock[];
  series: CameraClock | null;
  confirmed: CameraClock | null;
}

/** The cameras of a project and how their clocks ran; one of them open: the one asked for, or the first that waits for a confirmation. */
export async function camerasView(tx: Tx, project: Project, asked: string | null, at: Instant): Promise<CamerasView> {
  const [taken, references, confirmations, clockPhotos, members, limits, photos] = await Promise.all([
    listPhotoCameras(tx, project.id),
    listReferences(tx, project.id),
    listConfirmations(tx, project.id),
    listClockPhotos(tx, project.id),
    listMembers(tx, project.id),
    limitsNow(tx, project.id),
    tx.photo.count({ where: { projectId: project.id } }),
  ]);
  const names = new Map(members.map(({ personId, name }) => [personId, name]));
  const cameras = group(taken, references, confirmations, clockPhotos).map((facts): CameraFacts => {
    const last = facts.confirmations.at(-1);
    return { ...facts, series: cameraClock(facts.references, { limits }), confirmed: last ? confirmedClock(last.references, limits) : null };
  });
  const rows = cameras.map((facts) => rowOf(facts, project, limits, names));
  const order = rows.map((row, place) => ({ row, place })).sort((a, b) => RANK[a.row.state] - RANK[b.row.state] || b.row.photos - a.row.photos);
  const openAt = order.find(({ row }) => row.key === asked)?.place ?? order[0]?.place;
  const facts = openAt === undefined ? undefined : cameras[openAt];
  return {
    lead: leadOf(rows),
    cameras: order.map(({ row }) => row),
    open: facts && openAt !== undefined ? await openOf(tx, project, { ...facts, row: rows[openAt]!, clockPhotos, names, limits, at }) : null,
    nameless: photos - taken.length,
  };
}

const RANK: Record<CameraState, number> = { "changed since": 0, "to be confirmed": 1, confirmed: 2, "on time": 3, "cannot tell": 4 };

function group(taken: readonly PhotoCamera[], references: ReadonlyMap<string, FiledReference[]>, confirmations: readonly ConfirmedClock[], clockPhotos: readonly ClockPhoto[]) {
  const names = new Map([...clockPhotos.map(({ camera, name }) => [camera, name] as const), ...taken.map(({ camera, name }) => [camera, name] as const)]);
  const byCamera = new Map<string, PhotoCamera[]>();
  for (const one of taken) {
    const own = byCamera.get(one.camera);
    if (own) own.push(one);
    else byCamera.set(one.camera, [one]);
  }
  return [...names].map(([key, name]) => ({
    key,
    name,
    taken: byCamera.get(key) ?? [],
    references: references.get(key) ?? [],
    confirmations: confirmations.filter(({ camera }) => camera === key),
  }));
}

function rowOf(facts: CameraFacts, project: Project, limits: PhotoLimits, names: ReadonlyMap<string, string>): CameraRow {
  const { key, name, taken, references, series, confirmed } = facts;
  const shown = series ?? confirmedClock(references, limits) ?? confirmed;
  const state = stateOf(facts, project, limits);
  return {
    key, name, senders: sendersOf(taken, names), photos: taken.length, references: references.length, state, stateWords: STATE_WORDS[state],
    finding: shown ? clockFinding(shown, project.zone) : tooFewWords(references),
  };
}

const STATE_WORDS: Record<CameraState, string> = {
  confirmed: "confirmed",
  "changed since": "newer references say otherwise",
  "to be confirmed": "waits for the QC manager",
  "on time": "on the site's time",
  "cannot tell": "cannot tell",
};

function stateOf({ references, series, confirmed }: CameraFacts, project: Project, limits: PhotoLimits): CameraState {
  const shown = series ?? confirmedClock(references, limits);
  if (confirmed) return shown && isElsewhere(confirmed, shown, limits) ? "changed since" : "confirmed";
  if (!shown) return "cannot tell";
  const last = shown.runs.filter(({ firm }) => firm);
  const onTime = last.every((run) => isOnSiteTime(run, project.zone)) && Math.abs(shown.restSeconds) <= limits.exifOffsetSeconds / 2;
  return onTime ? "on time" : "to be confirmed";
}

/** The clock stands otherwise now than it was confirmed to, by more than it may drift. */
function isElsewhere(confirmed: CameraClock, shown: CameraClock, { driftSeconds }: PhotoLimits): boolean {
  return Math.abs(confirmed.zoneSeconds + confirmed.restSeconds - shown.zoneSeconds - shown.restSeconds) > driftSeconds;
}

function sendersOf(taken: readonly PhotoCamera[], names: ReadonlyMap<string, string>): string[] {
  const counts = new Map<string, number>();
  for (const { by } of taken) counts.set(by, (counts.get(by) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1]).map(([by]) => names.get(by) ?? by);
}

function leadOf(rows: readonly CameraRow[]): string {
  if (rows.length === 0) return "No photo names a camera yet.";
  const count = (state: CameraState): number => rows.filter((row) => row.state === state).length;
  const said = [
    [count("to be confirmed"), count("to be confirmed") === 1 ? "waits for a confirmation" : "wait for a confirmation"],
    [count("changed since"), count("changed since") === 1 ? "changed since it was confirmed" : "changed since they were confirmed"],
    [count("confirmed"), "confirmed"],
  ].filter(([number]) => number !== 0);
  return `${rows.length} camera${rows.length === 1 ? "" : "s"}${said.map(([number, words]) => `, ${number} ${words}`).join("")}.`;
}

interface OpenFacts extends CameraFacts {
  row: CameraRow;
  clockPhotos: readonly ClockPhoto[];
  names: ReadonlyMap<string, string>;
  limits: PhotoLimits;
  at: Instant;
}

async function openOf(tx: Tx, project: Project, facts: OpenFacts): Promise<OpenCamera> {
  const { row, references, confirmations, confirmed, names, limits, taken } = facts;
  const last = confirmations.at(-1);
  const now = confirmedClock(references, limits);
  const newer = last ? references.filter(isNewTo(last)).length : 0;
  const proposed = now !== null && (last === undefined || newer > 0);
  const shown = facts.series ?? now ?? confirmed;
  const compared = row.state === "confirmed" ? { before: null, after: confirmed } : { before: confirmed, after: now };
  return {
    ...row,
    strip: stripOf({ references, taken, confirmedAt: last?.at ?? null, at: facts.at }, shown, project.zone),
    rows: referenceRows(facts, shown, project),
    confirmations: confirmations.toReversed().map(({ by, at, words, references: frozen }) => ({ by: names.get(by) ?? by, when: formatWhen(at, project.zone), words, references: frozen.length })),
    newer,
    proposal: proposed ? { seen: references.at(-1)?.seq ?? 0, references: references.length, words: clockWords(now).replace("-", "−") } : null,
    effect: taken.length > 0 ? await cameraEffect(tx, project, taken, { ...compared, at: facts.at }) : null,
  };
}

/** What the confirmation does not hold: it froze what was seen, and more may have come meanwhile. */
function isNewTo({ references }: ConfirmedClock): (reference: CameraReference) => boolean {
  const frozen = new Set(references.map(({ photo, source }) => `${photo} ${source}`));
  return ({ photo, source }) => !frozen.has(`${photo} ${source}`);
}

function referenceRows({ references, confirmations, clockPhotos }: OpenFacts, clock: CameraClock | null, project: Project): ReferenceRow[] {
  const last = confirmations.at(-1);
  const isNew = last ? isNewTo(last) : () => false;
  const pages = new Map(clockPhotos.map(({ id, sha256 }) => [id, sha256]));
  const why = new Map((clock?.dropped ?? []).map(({ reference, why: words }) => [`${reference.photo} ${reference.source}`, words]));
  return references.toReversed().map((reference) => {
    const { photo, source, wall, at } = reference;
    const { zoneMs, restMs } = zoneAndRest(Date.parse(`${wall}Z`) - at);
    return {
      photo, source,
      cameraSaid: wall.replace("T", " ").replace(/\.000$/, ""),
      trueTime: formatWhen(at, project.zone, { seconds: true }),
      difference: `${zoneText(zoneMs / SECOND)} and ${restWords(restMs / SECOND)}`,
      dropped: why.get(`${photo} ${source}`) ?? null,
      since: isNew(reference),
      clockPhoto: pages.get(photo) ?? null,
    };
  });
}
