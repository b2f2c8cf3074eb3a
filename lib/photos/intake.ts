import type { DeviceClaims, PhotoClaims } from "#lib/domain/photo/claims";
import { cleanFileName, extensionOf } from "#lib/domain/photo/file-name";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import { mergeFlags } from "#lib/domain/photo/flag";
import { lookHash } from "#lib/domain/photo/look-alike";
import { refusal } from "#lib/domain/photo/refusal";
import type { Refusal } from "#lib/domain/photo/refusal";
import { decodeImage, readHeader, WORKER_LIMITS, WorkerStopped } from "#lib/photos/picture-pool";
import type { ImageHeader } from "#lib/photos/picture-pool";
import { readClaims } from "#lib/photos/read-claims";
import { MEDIA_TYPES, sniff } from "#lib/photos/sniff";
import type { ImageType, MediaType, Sniffed } from "#lib/photos/sniff";
import { discard, keepOriginal, receive, renditionPath, RENDITION_PX } from "#lib/photos/store";
import type { Arrival } from "#lib/photos/store";
import type { Looks } from "#lib/records/photo-kind";

/** What is taken at all. Common practice, no source. */
export interface IntakeLimits {
  readonly maxBytes: number;
  readonly maxPixels: number;
  /** Shorter side, pixels. Under it nothing can be read off a picture; the small picture inside a file is about 160 × 120. */
  readonly minSidePx: number;
  /** Exif and XMP together: flagged past the first, refused past the second. A camera writes some 20 kB. */
  readonly largeMetadataBytes: number;
  readonly maxMetadataBytes: number;
  /** For one picture, milliseconds. */
  readonly decodeTimeMs: number;
}

export const INTAKE_LIMITS: IntakeLimits = {
  maxBytes: 50 * 1024 ** 2,
  maxPixels: 120_000_000,
  minSidePx: 64,
  largeMetadataBytes: 512 * 1024,
  maxMetadataBytes: 8 * 1024 ** 2,
  decodeTimeMs: WORKER_LIMITS.timeMs,
};

export interface Incoming {
  readonly stream: AsyncIterable<Uint8Array>;
  readonly declaredLength?: number;
  /** SHA-256 that the phone computed, in hexadecimal. */
  readonly declaredSha256?: string;
  /** As the sender gives it; shown, never used. */
  readonly fileName?: string;
  readonly dataDir: string;
  readonly limits?: Partial<IntakeLimits>;
}

export interface Kept<Type extends MediaType> {
  readonly ok: true;
  readonly sha256: string;
  readonly bytes: number;
  readonly mediaType: Type;
  readonly extension: string;
  /** Cleaned, to be shown. */
  readonly fileName: string | null;
  /** The same bytes were held before; nothing was written. */
  readonly alreadyHeld: boolean;
  /** What the file itself shows. Flags about time and place come from judging its claims. */
  readonly flags: readonly PhotoFlag[];
}

export interface KeptImage extends Kept<ImageType> {
  /** Pixels as stored, before turning. */
  readonly width: number;
  readonly height: number;
  readonly claims: PhotoClaims;
  readonly looks: Looks | null;
  readonly preview: "made" | "none";
  /** When its renditions are there, or will not be. */
  readonly shown: Promise<void>;
}

export interface Refused {
  readonly ok: false;
  readonly refusal: Refusal;
}

export interface IncomingImage extends Incoming {
  readonly device?: DeviceClaims;
  /** False where nobody will look at it. */
  readonly renditions?: boolean;
}

/**
 * Receives a photo: stream to a file while hashing, compare with what was announced, tell the type by content, check the
 * header, read every pixel in a process that can be stopped, and only then keep it.
 * When this returns ok the original is on the disk, byte for byte as it came. A damaged file that still is a picture is
 * kept and flagged; a refused one leaves nothing behind.
 */
export async function receiveImage(incoming: IncomingImage): Promise<KeptImage | Refused> {
  const limits = { ...INTAKE_LIMITS, ...incoming.limits };
  return withArrival(incoming, limits, async (arrival, sniffed) => {
    const mediaType = sniffed.kind === "type" && sniffed.mediaType !== "application/pdf" ? sniffed.mediaType : null;
    if (mediaType === null) return refused(sniffed.kind === "unknown" ? refusal("NOT_AN_IMAGE") : refusal("FORMAT_NOT_ALLOWED", nameOf(sniffed)));

    const header = await headerOf(arrival.path, limits);
    if (header === null || FORMATS[mediaType] !== header.format) return refused(refusal("NOT_AN_IMAGE"));
    const tooMuch = headerRefusal(header, limits);
    if (tooMuch !== null) return refused(tooMuch);

    const read = readClaims(header, incoming.device);
    const orientation = read.claims.camera.orientation ?? 1;
    const dataDir = incoming.renditions === false ? null : incoming.dataDir;
    const { looks, flags, shown } = await decode(arrival, mediaType, header, orientation, dataDir, limits);
    const kept = await keep(incoming, arrival, mediaType, [...read.flags, ...flags, ...metadataSizeFlags(header, limits)]);
    return { ...kept, width: header.width, height: header.height, claims: read.claims, looks, preview: looks === null ? "none" : "made", shown };
  });
}

/** Receives a document (PDF) the same way. It is kept as it came and never opened here. */
export async function receiveDocument(incoming: Incoming): Promise<Kept<"application/pdf"> | Refused> {
  return withArrival(incoming, { ...INTAKE_LIMITS, ...incoming.limits }, async (arrival, sniffed) => {
    if (sniffed.kind !== "type" || sniffed.mediaType !== "application/pdf") return refused(refusal("FORMAT_NOT_ALLOWED", nameOf(sniffed)));
    return keep(incoming, arrival, "application/pdf", []);
  });
}

/** The name that the header reader has for each type. */
const FORMATS: Readonly<Record<ImageType, string>> = { "image/jpeg": "jpeg", "image/png": "png", "image/webp": "webp", "image/heic": "heif" };

/** Whatever happens to the file on its way in, nothing of it stays in the folder of arrivals. */
async function withArrival<Result>(
  incoming: Incoming,
  limits: IntakeLimits,
  take: (arrival: Arrival, sniffed: Sniffed) => Promise<Result | Refused>,
): Promise<Result | Refused> {
  const arrival = await receive(incoming.dataDir, incoming.stream, { maxBytes: limits.maxBytes, declaredLength: incoming.declaredLength ?? null });
  if ("code" in arrival) return refused(arrival);

  try {
    const declared = incoming.declaredSha256?.toLowerCase();
    if (declared !== undefined && declared !== arrival.sha256) return refused(refusal("DIGEST_MISMATCH", `SHA-256 ${arrival.sha256}`));
    if (arrival.bytes === 0) return refused(refusal("EMPTY"));
    return await take(arrival, await sniff(arrival.path));
  } finally {
    await discard(arrival.path);
  }
}

async function keep<Type extends MediaType>(incoming: Incoming, arrival: Arrival, mediaType: Type, flags: readonly PhotoFlag[]): Promise<Kept<Type>> {
  const { alreadyHeld } = await keepOriginal(incoming.dataDir, arrival);
  const { sha256, bytes } = arrival;
  const given = incoming.fileName;
  const cleaned = given === undefined ? null : cleanFileName(given);
  return {
    ok: true,
    sha256,
    bytes,
    mediaType,
    extension: MEDIA_TYPES[mediaType].extension,
    fileName: cleaned?.name ?? null,
    alreadyHeld,
    flags: mergeFlags([...flags, ...nameFlags(cleaned, mediaType)]),
  };
}

function nameFlags(cleaned: ReturnType<typeof cleanFileName> | null, mediaType: MediaType): PhotoFlag[] {
  if (cleaned === null) return [];
  const flags: PhotoFlag[] = [];
  if (cleaned.changed) {
    flags.push({ code: "NAME_SANITISED", measured: cleaned.name ?? "nothing left", limit: "letters, digits and signs without folders" });
  }

  const ending = cleaned.name === null ? null : extensionOf(cleaned.name);
  const known = Object.values(MEDIA_TYPES).some(({ names }) => (names as readonly string[]).includes(ending ?? ""));
  if (ending !== null && known && !(MEDIA_TYPES[mediaType].names as readonly string[]).includes(ending)) {
    flags.push({ code: "FORMAT_MISMATCH", measured: `.${ending} in the name`, limit: `${mediaType} by content` });
  }
  return flags;
}

async function headerOf(file: string, limits: IntakeLimits): Promise<ImageHeader | null> {
  return readHeader(file, limits.maxMetadataBytes).catch((error: unknown) => {
    // A header that hangs or kills its reader is no picture.
    if (error instanceof WorkerStopped) return null;
    throw error;
  });
}

function headerRefusal({ width, height, metadataBytes }: ImageHeader, limits: IntakeLimits): Refusal | null {
  if (width * height > limits.maxPixels) return refusal("TOO_MANY_PIXELS", `${width} × ${height} of at most ${limits.maxPixels} pixels`);
  if (Math.min(width, height) < limits.minSidePx) return refusal("TOO_SMALL", `${width} × ${height}, shorter side at least ${limits.minSidePx}`);
  if (metadataBytes > limits.maxMetadataBytes) return refusal("METADATA_OVERSIZE", `${metadataBytes} of at most ${limits.maxMetadataBytes} bytes`);
  return null;
}

function metadataSizeFlags({ metadataBytes }: ImageHeader, limits: IntakeLimits): PhotoFlag[] {
  if (metadataBytes <= limits.largeMetadataBytes) return [];
  return [{ code: "METADATA_OVERSIZE", measured: `${metadataBytes} bytes`, limit: `${limits.largeMetadataBytes} bytes` }];
}

interface Decoded {
  /** Null when the pixels were not read. */
  readonly looks: Looks | null;
  readonly flags: readonly PhotoFlag[];
  readonly shown: Promise<void>;
}

async function decode(
  arrival: Arrival,
  mediaType: ImageType,
  { width, height }: ImageHeader,
  orientation: number,
  dataDir: string | null,
  limits: IntakeLimits,
): Promise<Decoded> {
  // The pixels of a HEIC take seconds to read: that is done after the receipt.
  if (mediaType === "image/heic") return { looks: null, flags: [], shown: Promise.resolve() };

  const renditions = dataDir === null ? [] : RENDITION_PX.map((px) => ({ px, path: renditionPath(dataDir, px, arrival.sha256) }));
  try {
    const request = { path: arrival.path, width, height, orientation, px: Math.max(...RENDITION_PX), renditions };
    const { answer, over } = await decodeImage(request, { timeMs: limits.decodeTimeMs });
    const { damage, truncated, looks } = answer;
    const flags: PhotoFlag[] = damage === null ? [] : [{ code: truncated ? "TRUNCATED" : "CORRUPT", measured: damage, limit: "a whole picture" }];
    return { looks: looks && { pixels: looks.pixels, hash: lookHash(looks.grid) }, flags, shown: over };
  } catch (error) {
    if (!(error instanceof WorkerStopped)) throw error;
    // The header is that of a picture, so it is kept for people to look into.
    const measured = error.reason === "time" ? `not decoded in ${limits.decodeTimeMs / 1000} s` : `decoding stopped: ${error.reason}`;
    return { looks: null, flags: [{ code: "CORRUPT", measured, limit: "a picture that can be decoded" }], shown: Promise.resolve() };
  }
}

function nameOf(sniffed: Sniffed): string {
  if (sniffed.kind === "unknown") return "no known type";
  return sniffed.kind === "other" ? sniffed.name : sniffed.mediaType;
}

function refused(reason: Refusal): Refused {
  return { ok: false, refusal: reason };
}
