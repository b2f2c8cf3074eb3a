import { open } from "node:fs/promises";
import type { FileHandle } from "node:fs/promises";

export const MEDIA_TYPES = {
  "image/jpeg": { extension: "jpg", names: ["jpg", "jpeg", "jpe"] },
  "image/png": { extension: "png", names: ["png"] },
  "image/webp": { extension: "webp", names: ["webp"] },
  "image/heic": { extension: "heic", names: ["heic", "heif", "hif"] },
  "application/pdf": { extension: "pdf", names: ["pdf"] },
} as const;
export type MediaType = keyof typeof MEDIA_TYPES;
export type ImageType = Exclude<MediaType, "application/pdf">;

export type Sniffed =
  | { readonly kind: "type"; readonly mediaType: MediaType }
  /** A kind of picture that is known and not taken. */
  | { readonly kind: "other"; readonly name: string }
  | { readonly kind: "unknown" };

/** Longest start of a file that tells its type, bytes. */
const HEAD_BYTES = 4096;

/** Tells the type of a file by its content. Its name and what the sender calls it play no part. */
export async function sniff(path: string): Promise<Sniffed> {
  const file = await open(path, "r");
  try {
    const { bytesRead, buffer } = await file.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
    const head = buffer.subarray(0, bytesRead);
    const sniffed = sniffHead(head);
    const moving = sniffed.kind === "type" && sniffed.mediaType === "image/png" && (await isMovingPng(file));
    return moving ? { kind: "other", name: "animated PNG" } : sniffed;
  } finally {
    await file.close();
  }
}

function sniffHead(head: Buffer): Sniffed {
  const text = (from: number, to: number) => head.toString("latin1", from, to);
  const type = (mediaType: MediaType): Sniffed => ({ kind: "type", mediaType });
  const other = (name: string): Sniffed => ({ kind: "other", name });

  if (head.length >= 3 && head[0] === 0xff && head[1] === 0xd8 && head[2] === 0xff) return type("image/jpeg");
  if (text(0, 8) === "\u0089PNG\r\n\u001a\n") return type("image/png");
  if (text(0, 4) === "RIFF" && text(8, 12) === "WEBP") return isMovingWebp(head) ? other("animated WebP") : type("image/webp");
  if (text(0, 5) === "%PDF-") return type("application/pdf");
  if (text(4, 8) === "ftyp") return sniffBrands(head);
  if (text(0, 6) === "GIF87a" || text(0, 6) === "GIF89a") return other("GIF");
  if (["II*\u0000", "MM\u0000*", "II+\u0000", "MM\u0000+"].includes(text(0, 4))) return other("TIFF or a camera's raw file");
  if (["IIU\u0000", "IIRO", "IIRS", "MMOR"].includes(text(0, 4)) || text(0, 8) === "FUJIFILM") return other("a camera's raw file");
  if (text(0, 12) === "\u0000\u0000\u0000\u000cJXL \r\n\u0087\n" || text(0, 2) === "\u00ff\u000a") return other("JPEG XL");
  if (text(4, 12) === "jP  \r\n\u0087\n" || text(0, 4) === "\u00ffO\u00ffQ") return other("JPEG 2000");
  if (text(0, 4) === "8BPS") return other("an editor's own file");
  if (/^(?:\u00ef\u00bb\u00bf)?\s*(?:<\?xml[^>]*>\s*)?(?:<!--[^>]*-->\s*)?<svg[\s>]/.test(text(0, 512))) return other("SVG");
  if (text(0, 2) === "BM" && head.length >= 14 && head.readUInt32LE(6) === 0) return other("BMP");
  return { kind: "unknown" };
}

/**
 * Tells a HEIC still from everything else that is boxed alike.
 * @source ISO/IEC 23008-12 (HEIF), brands heic, heix, heim, heis, mif1; sequences hevc, hevx, msf1 (from memory).
 */
function sniffBrands(head: Buffer): Sniffed {
  const end = Math.min(head.readUInt32BE(0), head.length);
  const brands: string[] = [head.toString("latin1", 8, 12)];
  for (let at = 16; at + 4 <= end; at += 4) brands.push(head.toString("latin1", at, at + 4));

  const [major = ""] = brands;
  if (["hevc", "hevx", "hevm", "hevs", "msf1"].includes(major)) return { kind: "other", name: "moving HEIC" };
  if (brands.includes("avif") || brands.includes("avis")) return { kind: "other", name: "AVIF" };
  if (brands.some((brand) => ["heic", "heix", "heim", "heis"].includes(brand))) return { kind: "type", mediaType: "image/heic" };
  return { kind: "other", name: "video or other media" };
}

/** The animation bit of the extended header. Source: WebP container specification, VP8X chunk (from memory). */
function isMovingWebp(head: Buffer): boolean {
  return head.toString("latin1", 12, 16) === "VP8X" && ((head[20] ?? 0) & 0x02) !== 0;
}

/** A moving PNG has an acTL chunk before its picture data. Source: PNG specification, third edition, acTL (from memory). */
async function isMovingPng(file: FileHandle): Promise<boolean> {
  const header = Buffer.alloc(8);
  for (let at = 8, chunks = 0; chunks < 1000; chunks += 1) {
    const { bytesRead } = await file.read(header, 0, 8, at);
    if (bytesRead < 8) return false;
    const name = header.toString("latin1", 4, 8);
    if (name === "acTL") return true;
    if (name === "IDAT" || name === "IEND") return false;
    at += 12 + header.readUInt32BE(0);
  }
  return false;
}
