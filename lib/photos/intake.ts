import type { DeviceClaims, PhotoClaims } from "#lib/domain/photo/claims";
import { fileFlags, lookFlags } from "#lib/domain/photo/file-flags";
import { cleanFileName, extensionOf } from "#lib/domain/photo/file-name";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import { mergeFlags } from "#lib/domain/photo/flag";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import { lookHash, type Looks } from "#lib/domain/photo/look-alike";
import { refusal } from "#lib/domain/photo/refusal";
import type { Refusal } from "#lib/domain/photo/refusal";
import { screenshotNamed } from "#lib/domain/photo/screen";
import { decodeImage, readHeader, WORKER_LIMITS, WorkerStopped } from "#lib/photos/picture-pool";
import type { ImageHeader } from "#lib/photos/picture-pool";
import { readClaims } from "#lib/photos/read-claims";
import { MEDIA_TYPES, sniff } from "#lib/photos/sniff";
import type { ImageType, MediaType, Sniffed } from "#lib/photos/sniff";
import { discard, keepOriginal, receive, renditionPath, RENDITION_PX } from "#lib/photos/store";
import type { Arrival } from "#lib/photos/store";

const MB = 1024 ** 2;
const KB = 1024;

export interface Incoming {
  readonly stream: AsyncIterable<Uint8Array>;
  readonly declaredLength?: number;
  /** SHA-256 that the phone computed, in hexadecimal. */
  readonly declaredSha256?: string;
  /** As the sender gives it; shown, never used. */
  readonly fileName?: string;
  readonly dataDir: string;
  /** Those of the project; the defaults for what is not given. */
  readonly limits?: Partial<PhotoLimits>;
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
  /** For reading every pixel, milliseconds. */
  readonly decodeTimeMs?: number;
}

/**
 * Receives a photo: stream to a file while hashing, compare with what was announced, tell the type by content, check the
 * header, read every pixel in a process that can be stopped, and only then keep it.
 * When this returns ok the original is on the disk, byte for byte as it came. A damaged file that still is a picture is
 * kept and flagged; a refused one leaves nothing behind.
 */
export async function receiveImage(incoming: IncomingImage): Promise<KeptImage | Refused> {
  const limits = { ...PHOTO_LIMIT_DEFAULTS, ...incoming.limits };
  return withArrival(incoming, limits, async (arrival, sniffed) => {
    const mediaType = sniffed.kind === "type" && sniffed.mediaType !== "application/pdf" ? sniffed.mediaType : null;
    if (mediaType === null) return refused(sniffed.kind === "unknown" ? refusal("NOT_AN_IMAGE") : refusal("FORMAT_NOT_ALLOWED", nameOf(sniffed)));

    const header = await headerOf(arrival.path, limits);
    if (header === null || FORMATS[mediaType] !== header.format) return refused(refusal("NOT_AN_IMAGE"));
    const reason = headerRefusal(mediaType, header, limits);
    if (reason !== null) return refused(reason);

    const read = readClaims(header, incoming.device);
    const orientation = read.claims.camera.orientation ?? 1;
    const dataDir = incoming.renditions === false ? null : incoming.dataDir;
    const { looks, flags, shown } = await decode(arrival, mediaType, header, { orientation, dataDir, limits, timeMs: incoming.decodeTimeMs ?? WORKER_LIMITS.timeMs });
    const kept = await keep(incoming, arrival, mediaType, [...read.flags, ...fileFlags({ ...header, ...header.layout }, limits), ...flags]);
    return { ...kept, width: header.width, height: header.height, claims: read.claims, looks, preview: looks === null ? "none" : "made", shown };
  });
}

/** Receives a document (PDF) the same way. It is kept as it came and never opened here. */
export async function receiveDocument(incoming: Incoming): Promise<Kept<"application/pdf"> | Refused> {
  return withArrival(incoming, { ...PHOTO_LIMIT_DEFAULTS, ...incoming.limits }, async (arrival, sniffed) => {
    if (sniffed.kind !== "type" || sniffed.mediaType !== "application/pdf") return refused(refusal("FORMAT_NOT_ALLOWED", nameOf(sniffed)));
    return keep(incoming, arrival, "application/pdf", []);
  });
}

/** The name that the header reader has for each type. */
const FORMATS: Readonly<Record<ImageType, string>> = { "image/jpeg": "jpeg", "image/png": "png", "image/webp": "webp", "image/heic": "heif" };

/** Whatever happens to the file on its way in, nothing of it stays in the folder of arrivals. */
async function withArrival<Result>(
  incoming: Incoming,
  limits: PhotoLimits,
  take: (arrival: Arrival, sniffed: Sniffed) => Promise<Result | Refused>,
): Promise<Result | Refused> {
  const arrival = await receive(incoming.dataDir, incoming.stream, { maxBytes: limits.maxBytesMb * MB, declaredLength: incoming.declaredLength ?? null });
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

/** Endings that say what kind of file a name stands for: those that are taken, and others known for pictures, films and papers. */
const ENDINGS: ReadonlySet<string> = new Set([
  ...Object.values(MEDIA_TYPES).flatMap(({ names }) => names),
  ...["gif", "bmp", "tif", "tiff", "avif", "jxl", "jp2", "svg", "psd", "ico", "dng", "cr2", "cr3", "nef", "arw", "orf", "rw2", "raf", "mp4", "mov", "avi", "txt", "html", "zip", "exe", "doc", "docx", "xls", "xlsx"],
]);

function nameFlags(cleaned: ReturnType<typeof cleanFileName> | null, mediaType: MediaType): PhotoFlag[] {
  if (cleaned === null) return [];
  const flags: PhotoFlag[] = [];
  if (cleaned.changed) {
    flags.push({ code: "NAME_SANITISED", measured: cleaned.name ?? "nothing left", limit: "letters, digits and signs without folders" });
  }

  const ending = cleaned.name === null ? null : extensionOf(cleaned.name);
  if (ending !== null && ENDINGS.has(ending) && !(MEDIA_TYPES[mediaType].names as readonly string[]).includes(ending)) {
    flags.push({ code: "FORMAT_MISMATCH", measured: `.${ending} in the name`, limit: `${mediaType} by content` });
  }
  if (cleaned.name !== null && screenshotNamed(cleaned.name)) {
    flags.push({ code: "SCREENSHOT_SUSPECT", measured: `the name says ${cleaned.name}`, limit: "no screen named" });
  }
  return flags;
}

async function headerOf(file: string, limits: PhotoLimits): Promise<ImageHeader | null> {
  return readHeader(file, limits.maxMetadataKb * KB).catch((error: unknown) => {
    // A header that hangs or kills its reader is no picture.
    if (error instanceof WorkerStopped) return null;
    throw error;
  });
}

function headerRefusal(mediaType: ImageType, { width, height, pages, metadataBytes }: ImageHeader, limits: PhotoLimits): Refusal | null {
  const most = limits.maxMegapixels * 1_000_000;
  // A HEIC may hold other pictures beside the one that it shows.
  if (pages > 1 && mediaType !== "image/heic") return refusal("FORMAT_NOT_ALLOWED", `${pages} pictures one after the other`);
  if (width * height > most) return refusal("TOO_MANY_PIXELS", `${width} × ${height} of at most ${most} pixels`);
  if (Math.min(width, height) < limits.minSidePx) return refusal("TOO_SMALL", `${width} × ${height}, shorter side at least ${limits.minSidePx}`);
  if (metadataBytes > limits.maxMetadataKb * KB) return refusal("METADATA_OVERSIZE", `${metadataBytes} of at most ${limits.maxMetadataKb * KB} bytes`);
  return null;
}

interface Decoded {
  /** Null when the pixels were not read. */
  readonly looks: Looks | null;
  readonly flags: readonly PhotoFlag[];
  readonly shown: Promise<void>;
}

interface DecodeHow {
  readonly orientation: number;
  /** Null where no rendition is wanted. */
  readonly dataDir: string | null;
  readonly limits: PhotoLimits;
  readonly timeMs: number;
}

async function decode(arrival: Arrival, mediaType: ImageType, header: ImageHeader, { orientation, dataDir, limits, timeMs }: DecodeHow): Promise<Decoded> {
  // The pixels of a HEIC take seconds to read: that is done after the receipt.
  if (mediaType === "image/heic") return { looks: null, flags: [], shown: Promise.resolve() };

  const { width, height, smallPicture } = header;
  const renditions = dataDir === null ? [] : RENDITION_PX.map((px) => ({ px, path: renditionPath(dataDir, px, arrival.sha256) }));
  try {
    const request = { path: arrival.path, width, height, orientation, px: Math.max(...RENDITION_PX), smallPicture, renditions };
    const { answer, over } = await decodeImage(request, { timeMs });
    const { damage, truncated, looks, small } = answer;
    const flags: PhotoFlag[] = damage === null ? [] : [{ code: truncated ? "TRUNCATED" : "CORRUPT", measured: damage, limit: "a whole picture" }];
    // Of a damaged picture only a part is there to be looked at: what it lacks is said already.
    const seen = damage === null && looks !== null ? lookFlags({ width, height, grid: looks.grid }, small, limits) : [];
    return { looks: looks && { pixels: looks.pixels, hash: lookHash(looks.grid) }, flags: [...flags, ...seen], shown: over };
  } catch (error) {
    if (!(error instanceof WorkerStopped)) throw error;
    // The header is that of a picture, so it is kept for people to look into.
    const measured = error.reason === "time" ? `not decoded in ${timeMs / 1000} s` : `decoding stopped: ${error.reason}`;
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
