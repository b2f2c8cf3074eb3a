import { formatWhen, fromSite } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { deriveInstant, type DerivedInstant } from "#lib/domain/photo/derived-instant";
import type { PhotoFlag, PhotoFlagCode } from "#lib/domain/photo/flag";
import { mergeFlags } from "#lib/domain/photo/flag";
import { orderVerdict, type PhotoWindow } from "#lib/domain/photo/order";
import { photoFlags } from "#lib/domain/photo/photo-flags";
import { placeVerdict, type PlaceFinding } from "#lib/domain/photo/place";
import { bestPosition } from "#lib/domain/photo/position";
import { tagVerdict, type TagFinding } from "#lib/domain/photo/tag";
import type { JudgedPhoto } from "#lib/domain/point/question";
import { photoWindow, type WindowFacts } from "#lib/domain/point/window";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { Photo } from "#lib/db/evidence";
import type { Project } from "#lib/db/project";
import type { StreakCheckBody } from "#lib/records/photo-kind";
import type { EvidenceFacts } from "#lib/services/evidence-facts";
import { clockOf, type Sheet } from "#lib/services/sheet";

/** A photo with all that its claims and its place in the sequence say. */
export interface PhotoView extends JudgedPhoto {
  photo: Photo;
  derived: DerivedInstant;
  place: PlaceFinding;
  window: PhotoWindow;
  tag: TagFinding;
  /** The last check of the mix; null where nobody checked it, or it shows no mix. */
  streaks: StreakCheckBody | null;
}

/** Instants as they are written beside a photo: with seconds, since a photo's order can hang on them. */
export function secondsWriter(zone: string): (instant: Instant) => string {
  return (instant) => formatWhen(instant, zone, { seconds: true });
}

/** What the windows of a sheet's photos are worked out from. */
export function windowFacts(sheet: Sheet): WindowFacts {
  return {
    lines: sheet.lines,
    standings: new Map([...sheet.folded].map(([id, { standing }]) => [id, standing])),
    outside: sheet.outside,
    clockDoneAt: (id: string): Instant | null => {
      const clockLine = sheet.lines.find((one) => one.line === id);
      return clockLine ? (clockOf(sheet, clockLine)?.doneAt ?? null) : null;
    },
  };
}

/** Judges photos against the windows of the point that they were taken for. */
export function viewPhotos(sheet: Sheet, line: PlanLine, photos: readonly Photo[], sent: { attempt: number; beforeSeq: number }, known: EvidenceFacts): PhotoView[] {
  const { project, pile } = sheet;
  const facts = windowFacts(sheet);
  return photos.map((photo): PhotoView => {
    const limits = known.limitsAt(photo.seq);
    const derived = deriveInstant(photo.claims, { siteZone: project.zone, receivedAt: photo.receivedAt, limits, camera: known.cameraOf(photo) });
    const place = placeVerdict(bestPosition(photo.claims), project.site);
    const subject = line.photos.find(({ id }) => id === photo.subject);
    const window = subject
      ? photoWindow(facts, line, subject, { ...sent, receivedAt: photo.receivedAt })
      : { from: null, to: photo.receivedAt };
    const order = orderVerdict(derived, window, photo.receivedAt, secondsWriter(project.zone));
    const flags = mergeFlags([...photoFlags(photo.claims, derived, place, { ...flagContext(project, photo.receivedAt), limits }), ...intakeFlags(photo)]);
    const tag = tagVerdict(photo.codes, { pileId: pile?.id ?? null, markOf: known.markOf });
    return { photo, sha256: photo.sha256, subject: photo.subject, derived, place, window, order, flags, tag, streaks: known.streaksOf(photo) };
  });
}

/** Flags raised while the file was received: about its bytes, its name, and other receipts of it. */
function intakeFlags(photo: Photo): PhotoFlag[] {
  return photo.flags.map(({ code, measured, limit }) => ({ code: code as PhotoFlagCode, measured, limit }));
}

function flagContext(project: Project, receivedAt: Instant) {
  const [hours = 0, minutes = 0] = project.shift.startsAt.split(":").map(Number);
  const beginsMinute = hours * 60 + minutes;
  return {
    receivedAt,
    projectStart: fromSite(`${project.startsOn}T00:00`, project.zone).instants[0] ?? null,
    shift: project.shift.hours >= 24 ? null : { siteZone: project.zone, beginsMinute, endsMinute: (beginsMinute + project.shift.hours * 60) % 1440 },
    siteRadiusM: project.site.radiusM,
  };
}
