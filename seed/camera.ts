import { siteTime } from "#lib/domain/clock/site-time";
import { HOUR, SECOND, type Instant } from "#lib/domain/instant";
import type { ShotFact } from "#seed/facts/fact";
import type { CameraFacts } from "#seed/photo/exif";
import type { Rand } from "#seed/photo/random";

interface Camera {
  make: string;
  model: string;
  serial: string;
  /** How its clock runs: with the site and writing the offset, or left for good at a fixed number of hours from UTC and writing none. */
  clock: "site" | { hoursFromUtc: number };
  fastS: number;
  /** Whether it writes the time of its GPS fix. */
  gpsTime: boolean;
}

/** Invented makes. */
const CAMERAS = {
  "mira's phone": { make: "Norrel", model: "P5", serial: "NP5-20417", clock: "site", fastS: 1, gpsTime: true },
  "lotte's phone": { make: "Tavio", model: "Field 2", serial: "TF2-8813", clock: "site", fastS: 9, gpsTime: false },
  "hanne's phone": { make: "Norrel", model: "P4", serial: "NP4-11902", clock: "site", fastS: -3, gpsTime: true },
  /** Nobody put it back when summer time ended. */
  "crew camera": { make: "Orvane", model: "TG-40", serial: "40-00371", clock: { hoursFromUtc: -3 }, fastS: 50, gpsTime: true },
} as const satisfies Record<string, Camera>;
export type CameraName = keyof typeof CAMERAS;

/** Whose camera is at hand. Until the clocks changed Lotte's crew used the crew camera. */
export function usualCamera(person: string, at: Instant): CameraName {
  if (person === "lotte") return at < Date.parse("2026-11-01T06:00:00Z") ? "crew camera" : "lotte's phone";
  return person === "hanne" ? "hanne's phone" : "mira's phone";
}

/** Metres in a degree of latitude, and of longitude at 44° N, on the WGS 84 ellipsoid. */
const METRES = { latitude: 111_115, longitude: 80_200 } as const;

/** What the camera writes into a photo that is taken at an instant near a place. */
export function cameraFacts(name: CameraName, at: Instant, near: { latitude: number; longitude: number }, rand: Rand, zone: string, { place }: ShotFact = {}): CameraFacts {
  const { make, model, serial, clock, fastS, gpsTime }: Camera = CAMERAS[name];
  const shown = at + fastS * SECOND;
  const site = siteTime(shown, zone);
  const local = clock === "site" ? site.iso.slice(0, 19) : new Date(shown + clock.hoursFromUtc * HOUR).toISOString().slice(0, 19);
  const errorM = rand.whole(5, 24);
  const astray = (degreeM: number): number => (rand.between(-0.6, 0.6) * errorM) / degreeM;
  return {
    dateTimeOriginal: local.replaceAll("-", ":").replace("T", " "),
    subSec: String(rand.whole(0, 99)).padStart(2, "0"),
    offset: clock === "site" ? site.offset : null,
    make, model, serial,
    gps: {
      ...(place ?? { latitude: near.latitude + astray(METRES.latitude), longitude: near.longitude + astray(METRES.longitude), errorM }),
      ...(gpsTime ? { utc: new Date(Math.floor(at / SECOND) * SECOND).toISOString() } : {}),
    },
  };
}

/** Degrees at a number of metres north and east of a place near 44° N. */
export function offsetBy({ latitude, longitude }: { latitude: number; longitude: number }, northM: number, eastM: number): { latitude: number; longitude: number } {
  return { latitude: latitude + northM / METRES.latitude, longitude: longitude + eastM / METRES.longitude };
}
