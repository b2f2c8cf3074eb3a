import type { Instant } from "#lib/domain/instant";
import { SECOND } from "#lib/domain/instant";
import { readCamera } from "#lib/domain/photo/camera-time";
import { sortReferences, type Sorted } from "#lib/domain/photo/camera-series";
import { offsetText, wallIso } from "#lib/domain/photo/capture-time";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import { clockRun, runReading } from "#lib/domain/photo/clock-run";
import { deviceCapture } from "#lib/domain/photo/device-time";
import { readGps } from "#lib/domain/photo/gps-time";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import { summerTimeShift } from "#lib/domain/photo/site-zone";

/** Where a camera's time and the true time are known together, best last. */
export const CAMERA_SOURCES = ["phone clock", "GPS time", "clock page"] as const;
export type CameraSource = (typeof CAMERA_SOURCES)[number];

/** What a camera's clock showed when the true time was known. */
export interface CameraReference {
  readonly source: CameraSource;
  /** Id of the photo that gives it. */
  readonly photo: string;
  /** What the clock showed, ISO 8601 without zone, with milliseconds. */
  readonly wall: string;
  readonly at: Instant;
}

export interface DroppedReference {
  readonly reference: CameraReference;
  readonly why: string;
  /** True for the GPS time of an older fix: the photo that carries it must not be dated by it. */
  readonly stale: boolean;
}

/** A stretch of time in which nobody set the camera's clock. */
export interface ClockRun {
  /** By true time. */
  readonly references: readonly CameraReference[];
  /** What the clock showed, read as UTC, less the true time; seconds, one for each reference. */
  readonly aheadSeconds: readonly number[];
  /** How far each of them is to be trusted, ± seconds. */
  readonly goodToSeconds: readonly number[];
  /** Whole quarter hours, seconds east of UTC: the zone that the camera was set to, by the median of the references. */
  readonly zoneSeconds: number;
  /** The rest of the median: how fast the clock was, seconds. */
  readonly restSeconds: number;
  /** Seconds a day that the clock gains, where references lie far enough apart to tell; else null. */
  readonly gainPerDaySeconds: number | null;
  /** False where there are too few references to be sure of it: it adds a possible reading and rules none out. */
  readonly firm: boolean;
}

/** How a camera's clock ran, worked out from references. */
export interface CameraClock {
  /** Those that count, by true time. */
  readonly references: readonly CameraReference[];
  readonly dropped: readonly DroppedReference[];
  /** One for each time that somebody set the clock, by true time. */
  readonly runs: readonly ClockRun[];
  /** Zone, rest and gain of the last firm run. */
  readonly zoneSeconds: number;
  readonly restSeconds: number;
  readonly gainPerDaySeconds: number | null;
  /** True where a firm run stands on fewer than {@link FEWEST_REFERENCES} photos, so that nothing checks it: its times are taken 10 s wider. */
  readonly isFew: boolean;
}

/** One reading of a wall time by a camera's clock. */
export interface ClockReading {
  readonly at: Instant;
  /** ± seconds. */
  readonly uncertaintySeconds: number;
  /** Seconds east of UTC, whole quarter hours. */
  readonly zoneSeconds: number;
  /** How fast the clock was at that moment, seconds. */
  readonly restSeconds: number;
  readonly firm: boolean;
}

/** All that is known of the camera of one photo. */
export interface CameraKnowledge {
  /** As the QC manager confirmed it; its photos are corrected by it. */
  readonly confirmed: CameraClock | null;
  /** As the camera's photos show it, confirmed or not; readings that it contradicts drop out. Null with fewer than three references. */
  readonly series: CameraClock | null;
  /** The photo's own GPS time is that of an older fix. */
  readonly gpsIsStale: boolean;
}

export const NO_CAMERA_KNOWLEDGE: CameraKnowledge = { confirmed: null, series: null, gpsIsStale: false };

/** A median that one wrong reference cannot move needs three. */
export const FEWEST_REFERENCES = 3;

/** An exchange with the server that took longer, milliseconds, measures a phone's clock worse than a reference is taken for. Common practice, no source. */
const SLOW_EXCHANGE_MS = 4 * SECOND;

/**
 * A stable text for the device that took a photo: make, model and serial number; without a serial (phones give none) make, model
 * and the person who sent the photo.
 *
 * @param sentBy  Id of the person who sent it.
 * @returns Null when the file names neither make nor model.
 */
export function cameraKey(camera: PhotoClaims["camera"], sentBy: string): string | null {
  const [make, model, serial] = [camera.make, camera.model, camera.serial].map((text) => plain(text).replaceAll("|", "/")) as [string, string, string];
  if (make === "" && model === "") return null;
  return `${make}|${model}|${isSerial(serial) ? serial : `of ${sentBy}`}`;
}

/** The device as people call it: make once, model, and the serial number where one is given. */
export function cameraName(camera: PhotoClaims["camera"]): string {
  const [make, model, serial] = [camera.make, camera.model, camera.serial].map(plain) as [string, string, string];
  const saysMake = model.toLowerCase().startsWith(make.toLowerCase());
  const name = saysMake ? model : `${make} ${model}`.trim();
  if (name === "") return "a camera that gives no name";
  return isSerial(serial) ? `${name}, serial ${serial}` : name;
}

function plain(text: string | null): string {
  return (text ?? "").replace(/\s+/g, " ").trim();
}

/** Cameras without a serial number write blanks or zeros. */
function isSerial(text: string): boolean {
  return /[1-9a-z]/i.test(text);
}

/**
 * What one photo tells about its camera's clock: the camera's time beside valid GPS time, and beside the phone's corrected time of
 * capture. Nothing where the file gives two times that disagree.
 *
 * @param photoId  Id under which the photo is on record.
 */
export function referencesOf(claims: PhotoClaims, photoId: string): readonly CameraReference[] {
  const wall = onlyWall(claims);
  if (wall === null) return [];

  const gps = readGps(claims.gps).instant;
  const phone = deviceCapture(claims.device);
  return [
    ...(gps === null ? [] : [{ source: "GPS time" as const, photo: photoId, wall, at: gps }]),
    ...(phone === null || phone.halfExchangeSeconds * 2 * SECOND > SLOW_EXCHANGE_MS ? [] : [{ source: "phone clock" as const, photo: photoId, wall, at: phone.at }]),
  ];
}

/**
 * What a photo of the clock page tells: the camera's time beside the time that was read from the page.
 *
 * @param shown  The time that the page showed.
 * @returns Null when the file gives no time, or two that disagree.
 */
export function clockPageReference(claims: PhotoClaims, shown: Instant, photoId: string): CameraReference | null {
  const wall = onlyWall(claims);
  return wall === null ? null : { source: "clock page", photo: photoId, wall, at: shown };
}

function onlyWall({ camera }: PhotoClaims): string | null {
  const { reading } = readCamera(camera);
  return reading === null || reading.otherWalls.length > 0 ? null : wallIso(reading.wall);
}

/**
 * Works out how a camera's clock ran. What it showed, read as UTC, less the true time is the zone that it was set to (the nearest
 * quarter hour) and drift (the rest). References are sorted into runs: where the difference steps by more than the drift limit and stays there, somebody set the clock. A
 * single reference that steps away and back, or by no quarter hour, is dropped as off the median of its neighbours; so are GPS times
 * that stand still while the camera's time goes on, and differences that are no zone.
 *
 * A clock page outranks GPS time, and GPS time a phone's clock: where two of one day and run disagree, the lower one is dropped. Across a
 * step neither is dropped, since either may be the one from before somebody set the clock: both readings stand.
 *
 * @param minimum  Fewest photos that make a run firm. Fewer than three count only with a clock page among them (what a person confirms by
 *                 hand), and widen the uncertainty.
 * @returns Null where no run is firm.
 * @source Common practice, no source.
 */
export function cameraClock(
  references: readonly CameraReference[],
  { limits = PHOTO_LIMIT_DEFAULTS, minimum = FEWEST_REFERENCES }: { readonly limits?: PhotoLimits; readonly minimum?: number } = {},
): CameraClock | null {
  return clockOfSorted(sortReferences(references, limits), limits, minimum);
}

function clockOfSorted({ runs: sorted, dropped }: Sorted, limits: PhotoLimits, minimum: number): CameraClock | null {
  const runs = sorted.map((samples) => clockRun(samples, { limits, minimum, fewest: FEWEST_REFERENCES }));
  const last = runs.findLast(({ firm }) => firm);
  if (last === undefined) return null;

  return {
    references: runs.flatMap((run) => run.references).sort((a, b) => a.at - b.at),
    dropped,
    runs,
    zoneSeconds: last.zoneSeconds,
    restSeconds: last.restSeconds,
    gainPerDaySeconds: last.gainPerDaySeconds,
    isFew: runs.some((run) => run.firm && exposures(run.references) < FEWEST_REFERENCES),
  };
}

/** How many different exposures references come from: a photo with GPS and a phone's time is one. */
export function exposures(references: readonly CameraReference[]): number {
  return new Set(references.map(({ wall }) => wall)).size;
}

/**
 * Ids of the photos whose GPS time is that of an older fix: it stands still while the camera's time goes on, or lies further behind
 * than the camera's others allow. One that is ahead of them is not: a fix is never newer than the exposure.
 */
export function staleGps(references: readonly CameraReference[], limits: PhotoLimits = PHOTO_LIMIT_DEFAULTS): ReadonlySet<string> {
  return staleOfSorted(sortReferences(references, limits));
}

function staleOfSorted({ dropped }: Sorted): ReadonlySet<string> {
  return new Set(dropped.filter(({ stale }) => stale).map(({ reference }) => reference.photo));
}

/** What a camera's own photos tell of it: {@link cameraClock} and {@link staleGps}, from references that are sorted once, as they may be many. */
export function cameraSeries(references: readonly CameraReference[], limits: PhotoLimits): { readonly clock: CameraClock | null; readonly stale: ReadonlySet<string> } {
  const sorted = sortReferences(references, limits);
  return { clock: clockOfSorted(sorted, limits, FEWEST_REFERENCES), stale: staleOfSorted(sorted) };
}

/**
 * When a wall time of this camera was, by every run that it can lie in. Between the last reference of one run and the first of the
 * next the clock was set at an unknown moment, so both readings stand there; they also do where the clock was set back and showed
 * the time twice. Within a run the drift is linear between references. Outside them it is held, and the uncertainty grows by the
 * observed rate, at least 5 s a day.
 *
 * @param wall  ISO 8601 without zone.
 * @returns Instants by run, the firm ones first; never empty.
 */
export function clockReadings(clock: CameraClock, wall: string): readonly ClockReading[] {
  const wallMs = Date.parse(`${wall}Z`);
  const readings = clock.runs.map((run) => runReading(run, wallMs));
  const firmRuns = clock.runs.filter(({ firm }) => firm);

  const possible = readings.filter((reading, i) => {
    const run = clock.runs[i];
    const [first, last] = [run?.references[0], run?.references.at(-1)];
    if (first === undefined || last === undefined) return false;
    const slack = reading.uncertaintySeconds * SECOND;
    const before = firmRuns.findLast((other) => other !== run && (other.references.at(-1)?.at ?? Infinity) < first.at);
    const after = firmRuns.find((other) => other !== run && (other.references[0]?.at ?? -Infinity) > last.at);
    return reading.at + slack >= (before?.references.at(-1)?.at ?? -Infinity) && reading.at - slack <= (after?.references[0]?.at ?? Infinity);
  });
  // A time that the clock skipped when it was set forward fits no run: then none is ruled out.
  const kept = possible.some(({ firm }) => firm) ? possible : readings;
  return [...kept].sort((a, b) => Number(b.firm) - Number(a.firm));
}

/** The instants of {@link clockReadings}, each once, with the widest of their uncertainties, ± seconds. */
export function trueInstants(clock: CameraClock, wall: string): { readonly instants: readonly Instant[]; readonly uncertaintySeconds: number } {
  const readings = clockReadings(clock, wall);
  return { instants: [...new Set(readings.map(({ at }) => at))], uncertaintySeconds: Math.max(...readings.map(({ uncertaintySeconds }) => uncertaintySeconds)) };
}

/**
 * Says when a camera was left on summer or standard time: its zone is not the one of the site at its last reference but the site's
 * other one of that year.
 *
 * @param siteZone  IANA name. An unknown name throws RangeError.
 * @returns "camera still on summer time, 1 h ahead", or null.
 */
export function summerTimeWords(clock: CameraClock, siteZone: string): string | null {
  const last = clock.runs.findLast(({ firm }) => firm)?.references.at(-1);
  return last === undefined ? null : summerTimeShift(clock.zoneSeconds, last.at, siteZone);
}

/** How a camera's clock stood, for people: "-03:00 and 50 s fast". */
export function clockWords({ zoneSeconds, restSeconds }: { readonly zoneSeconds: number; readonly restSeconds: number }): string {
  const rest = Math.round(restSeconds * 10) / 10;
  return `${offsetText(zoneSeconds)} and ${rest === 0 ? "on time" : `${Math.abs(rest)} s ${rest > 0 ? "fast" : "slow"}`}`;
}
