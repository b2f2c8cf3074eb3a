import type { Instant } from "#lib/domain/instant";

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

/** How a camera's clock ran, worked out from references. */
export interface CameraClock {
  /** Those that count, by true time. */
  readonly references: readonly CameraReference[];
  readonly dropped: readonly { readonly reference: CameraReference; readonly why: string }[];
  /** Whole quarter hours, seconds east of UTC: the zone that the camera was set to, by the median of the references. */
  readonly zoneSeconds: number;
  /** The rest of the median: how fast the clock was, seconds. */
  readonly restSeconds: number;
  /** Seconds a day that the clock gains, where references lie far enough apart to tell; else null. */
  readonly gainPerDaySeconds: number | null;
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
