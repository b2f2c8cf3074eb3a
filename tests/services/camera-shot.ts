import sharp from "sharp";
import { encode } from "uqr";
import { HOUR, SECOND, type Instant } from "#lib/domain/instant";
import { clockCode } from "#lib/domain/photo/clock-code";
import { receiveClockPhoto, type ClockPhotoReceipt } from "#lib/services/receive-clock-photo";
import { receivePhoto } from "#lib/services/receive-photo";
import { withExif, type CameraFacts } from "#seed/photo/exif";
import type { SmallProject, Who } from "#tests/services/small-project";
import { pictureOf } from "#tests/support/picture";

/** A camera that writes no zone, left on summer time (UTC −03:00) and 50 s fast. */
export const FORGOTTEN = { make: "Orvane", model: "TG-40", serial: "40-00371" } as const;
export const FORGOTTEN_AHEAD_MS = -3 * HOUR + 50 * SECOND;
export const FORGOTTEN_KEY = "Orvane|TG-40|40-00371";

/** What that camera writes at an instant; with `gps` also the time of its fix. */
export function shotBy(camera: Pick<CameraFacts, "make" | "model" | "serial">, at: Instant, { aheadMs = FORGOTTEN_AHEAD_MS, gps = false as boolean | Instant } = {}): CameraFacts {
  const wall = new Date(at + aheadMs).toISOString();
  return {
    ...camera,
    dateTimeOriginal: `${wall.slice(0, 10).replaceAll("-", ":")} ${wall.slice(11, 19)}`,
    subSec: wall.slice(20, 23),
    ...(gps === false ? {} : { gps: { latitude: 44, longitude: -63.5, errorM: 8, utc: new Date(gps === true ? Math.floor(at / SECOND) * SECOND : gps).toISOString() } }),
  };
}

let taken = 5_000;

/** Sends a photo with what its camera wrote; five minutes pass on the way. */
export async function sendShot(site: SmallProject, facts: CameraFacts, { mark = "02-A", line = "4", subject = "close-up", who = "crew" as Who } = {}): Promise<string> {
  const bytes = withExif(await pictureOf((taken += 1)), facts);
  site.later(5);
  return (await receivePhoto(site.as(who), { sheet: mark, line, subject, stream: one(bytes) })).id;
}

/** A picture of the clock page as it stood at an instant. */
export async function pageAt(shown: Instant): Promise<Buffer> {
  return pictureOfCode(clockCode(shown));
}

export async function pictureOfCode(text: string): Promise<Buffer> {
  const { data, size } = encode(text, { ecc: "M", border: 4 });
  const cells = Buffer.from(data.flatMap((row) => row.map((dark) => (dark ? 20 : 235))));
  const code = await sharp(cells, { raw: { width: size, height: size, channels: 1 } }).resize(size * 8, size * 8, { kernel: "nearest" }).toColourspace("srgb").png().toBuffer();
  return sharp({ create: { width: 800, height: 600, channels: 3, background: "#777" } }).composite([{ input: code }]).rotate(7, { background: "#555" }).jpeg({ quality: 80 }).toBuffer();
}

/** Hands in a photo of the clock page, taken now by a camera. */
export async function handIn(site: SmallProject, facts: CameraFacts, { shown = Math.floor(site.clock.now / SECOND) * SECOND, who = "crew" as Who, id = undefined as string | undefined } = {}): Promise<ClockPhotoReceipt> {
  return receiveClockPhoto(site.as(who), { stream: one(withExif(await pageAt(shown), facts)), ...(id === undefined ? {} : { id }) });
}

export async function* one(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}
