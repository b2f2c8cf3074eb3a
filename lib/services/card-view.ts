import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { cameraKey, cameraName } from "#lib/domain/photo/camera-clock";
import { proposeCard, proposeSubjects, type CardGroup, type CardPhoto, type OpenPoint } from "#lib/domain/photo/card";
import { readClockCode } from "#lib/domain/photo/clock-code";
import { deriveInstant } from "#lib/domain/photo/derived-instant";
import { placeVerdict } from "#lib/domain/photo/place";
import { bestPosition } from "#lib/domain/photo/position";
import { readPileCode } from "#lib/domain/photo/tag";
import { currentAttempt } from "#lib/domain/point/attempt";
import { photoWindow } from "#lib/domain/point/window";
import type { Tx } from "#lib/db/client";
import { listCardPhotos, type CardPhotoOnFile } from "#lib/db/card-photo";
import { listPhotos } from "#lib/db/evidence";
import { listPiles } from "#lib/db/pile";
import type { Project } from "#lib/db/project";
import type { Asking } from "#lib/services/ask";
import { loadEvidenceFacts, type EvidenceFacts, type KnownPhoto } from "#lib/services/evidence-facts";
import { secondsWriter, windowFacts } from "#lib/services/evidence";
import { loadCommon, loadSheet } from "#lib/services/sheet";

export interface CardShot {
  id: string;
  sha256: string;
  name: string;
  shown: boolean;
  at: Instant | null;
  taken: string;
  /** Proposed subject, where the group has a proposal. */
  subject: string | null;
}

export interface CardGroupView extends Omit<CardGroup, "photos"> {
  /** "A", "B" … */
  letter: string;
  camera: string;
  shots: CardShot[];
}

export interface CardView {
  groups: CardGroupView[];
  /** Photos of the clock page: they belong to the cameras. */
  clockPages: CardShot[];
  total: number;
  proposed: number;
  unsure: number;
  staying: number;
  /** Every point that takes photos now, for a person to choose from. */
  open: OpenPoint[];
}

/** What lies on a person's card, in groups, with where each is proposed to go and why. Nothing of it is assigned. */
export async function cardView(tx: Tx, { project, personId }: Pick<Asking, "project" | "personId">, at: Instant): Promise<CardView> {
  const [held, open, piles] = await Promise.all([listCardPhotos(tx, { projectId: project.id, personId }), openPoints(tx, project, at), listPiles(tx, project.id)]);
  const known = await loadEvidenceFacts(tx, project, held.map((photo) => knownAs(photo, personId)));
  const when = secondsWriter(project.zone);
  const marks = new Map(piles.map(({ id, mark }) => [id, mark]));
  const byId = new Map(held.map((photo) => [photo.id, photo]));
  const read = new Map(held.map((photo) => [photo.id, cardPhoto(photo, project, personId, known)]));
  const shot = (id: string, subject: string | null): CardShot => {
    const [photo, { hypotheses }] = [byId.get(id)!, read.get(id)!];
    const [first] = hypotheses;
    return {
      id, sha256: photo.sha256, name: photo.fileName ?? photo.sha256.slice(0, 12), shown: photo.preview === "made", at: first ?? null, subject,
      taken: first === undefined ? "no usable time" : `${when(first)}${hypotheses.length > 1 ? ` or ${hypotheses.length - 1} other` : ""}`,
    };
  };
  const clockPages = held.filter(({ codes }) => codes.some((code) => readClockCode(code) !== null));
  const pages = new Set(clockPages.map(({ id }) => id));
  const groups = proposeCard([...read.values()].filter(({ id }) => !pages.has(id)), open, (pile) => marks.get(pile) ?? null).map((group, position): CardGroupView => {
    const subjects = group.proposal ? proposeSubjects(group.photos, group.proposal) : new Map<string, string>();
    const first = byId.get(group.photos[0]!.id)!;
    return { ...group, letter: letterOf(position), camera: cameraName(first.claims.camera), shots: group.photos.map(({ id }) => shot(id, subjects.get(id) ?? null)) };
  });
  const count = (chosen: readonly CardGroupView[]): number => chosen.reduce((sum, { shots }) => sum + shots.length, 0);
  return {
    groups,
    clockPages: clockPages.map(({ id }) => shot(id, null)),
    total: held.length,
    proposed: count(groups.filter(({ proposal }) => proposal !== null)),
    unsure: count(groups.filter(({ proposal, certainty }) => proposal === null && certainty !== "for no point")),
    staying: count(groups.filter(({ certainty }) => certainty === "for no point")),
    open,
  };
}

/** A photo on a card stands at the end of the log. */
function knownAs({ id, claims }: CardPhotoOnFile, by: string): KnownPhoto {
  return { id, claims, by, seq: Number.POSITIVE_INFINITY };
}

function cardPhoto(photo: CardPhotoOnFile, project: Project, personId: string, known: EvidenceFacts): CardPhoto {
  const limits = known.limitsAt(Number.POSITIVE_INFINITY);
  const camera = known.cameraOf(knownAs(photo, personId));
  const { hypotheses, uncertaintySeconds } = deriveInstant(photo.claims, { siteZone: project.zone, receivedAt: photo.receivedAt, limits, camera });
  return {
    id: photo.id,
    pile: photo.codes.map(readPileCode).find((pile) => pile !== null) ?? null,
    hypotheses,
    uncertaintySeconds: uncertaintySeconds ?? 0,
    camera: cameraKey(photo.claims.camera, personId),
    place: placeVerdict(bestPosition(photo.claims), project.site).verdict,
  };
}

/** A to Z, then AA, AB … */
function letterOf(position: number): string {
  const letter = String.fromCharCode(65 + (position % 26));
  return position < 26 ? letter : `${letterOf(Math.trunc(position / 26) - 1)}${letter}`;
}

/** The points that take photos now, each with the window in which one has to have been taken. */
export async function openPoints(tx: Tx, project: Project, at: Instant): Promise<OpenPoint[]> {
  const common = await loadCommon(tx, project);
  if (common.revisions.length === 0) return [];
  const piles = (await listPiles(tx, project.id)).filter(({ scope }) => scope === "in");
  const points: OpenPoint[] = [];
  for (const id of [project.id, ...piles.map((pile) => pile.id)]) {
    const sheet = await loadSheet(tx, project, id, at, common);
    const facts = windowFacts(sheet);
    const open = sheet.lines.filter((line) => line.photos.length > 0 && line.notApplicable === null && sheet.folded.get(line.line)?.maySend);
    if (open.length === 0) continue;
    const photos = await listPhotos(tx, id);
    for (const line of open) {
      const status = sheet.folded.get(line.line)!;
      const attempt = currentAttempt(status.standing);
      const { from, to } = photoWindow(facts, line, line.photos[0]!, { attempt, beforeSeq: Number.POSITIVE_INFINITY, receivedAt: at });
      const own = photos.filter((photo) => photo.line === line.line && photo.attempt === attempt);
      points.push({
        sheet: id, mark: sheet.pile?.mark ?? null, line: line.line, name: line.name, from, to, gate: line.gate === "is the gate",
        subjects: line.photos.map(({ id: subject, name, count }) => ({ id: subject, name, count, have: own.filter((photo) => photo.subject === subject).length })),
      });
    }
  }
  return points;
}

/** "Thu 3 Dec 2026", where all photos are of one day. */
export function cardDay({ groups }: CardView, zone: string): string | null {
  const days = new Set(groups.flatMap(({ shots }) => shots.flatMap(({ at }) => (at === null ? [] : [formatWhen(at, zone).split(",")[0]]))));
  return days.size === 1 ? ([...days][0] ?? null) : null;
}
