import { readFile } from "node:fs/promises";

import sharp from "sharp";
import type { Sharp } from "sharp";

import { fixturePath } from "#tests/photos/fixture";

export interface AwkwardFile {
  readonly name: string;
  readonly bytes: Buffer;
}

/** Numbers 0 ≤ n < 1 that are the same every time. Source: mulberry32, public domain (from memory). */
function numbersFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

const SOUND = ["phone-offset-gps.jpg", "other-xmp-time.jpg", "small-picture-barred.jpg", "tagged.png", "tagged.webp", "phone.heic", "turned.heic"] as const;

/** Where metadata lies in the fixtures, bytes from the start. */
const METADATA_BYTES = 1500;

/** Sound files, each spoilt in several ways: cut, with bytes of the metadata changed, with fractions of no value, with something behind the end. */
export async function spoiltFiles(seed: number): Promise<AwkwardFile[]> {
  const next = numbersFrom(seed);
  const below = (limit: number) => Math.floor(next() * limit);
  const files: AwkwardFile[] = [];
  for (const name of SOUND) {
    const sound = await readFile(fixturePath(name));
    const add = (how: string, bytes: Buffer) => void files.push({ name: `${how}-${name}`, bytes });

    for (let i = 0; i < 4; i += 1) add(`cut-${i}`, sound.subarray(0, 1 + below(sound.length - 1)));
    for (let i = 0; i < 5; i += 1) {
      const changed = Buffer.from(sound);
      for (let left = 1 + below(8); left > 0; left -= 1) changed[below(Math.min(METADATA_BYTES, sound.length))] = below(256);
      add(`changed-${i}`, changed);
    }
    for (const value of [0, 0xffff_ffff]) {
      const changed = Buffer.from(sound);
      for (let left = 4; left > 0; left -= 1) changed.writeUInt32BE(value, 100 + below(Math.min(METADATA_BYTES, sound.length) - 104));
      add(`word-${value}`, changed);
    }
    add("followed", Buffer.concat([sound, Buffer.from("PK\u0005\u0006 and more", "latin1")]));
  }
  return files;
}

function segment(marker: number, content: Buffer): Buffer {
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(content.length + 2, 2);
  return Buffer.concat([head, content]);
}

/** A JPEG with more segments behind its start marker. */
export function withSegments(jpeg: Buffer, ...segments: readonly { readonly marker: number; readonly content: Buffer }[]): Buffer {
  return Buffer.concat([jpeg.subarray(0, 2), ...segments.map(({ marker, content }) => segment(marker, content)), jpeg.subarray(2)]);
}

export const xmpSegment = (packet: string) => ({ marker: 0xe1, content: Buffer.from(`http://ns.adobe.com/xap/1.0/\0${packet}`, "latin1") });

/** Files that are sound or not by their make-up. */
export async function oddFiles(): Promise<AwkwardFile[]> {
  const jpeg = await readFile(fixturePath("no-metadata.jpg"));
  const picture = () => sharp(jpeg);
  const made = async (name: string, image: Sharp) => ({ name, bytes: await image.toBuffer() });
  const text = (name: string, content: string) => ({ name, bytes: Buffer.from(content, "latin1") });
  return [
    await made("cmyk.jpg", picture().toColourspace("cmyk").jpeg()),
    await made("progressive.jpg", picture().jpeg({ progressive: true })),
    await made("16-bit.png", picture().toColourspace("rgb16").png()),
    await made("grey-and-alpha.png", picture().ensureAlpha(0.5).toColourspace("b-w").png()),
    await made("two-colours.png", picture().threshold().png({ palette: true, colours: 2 })),
    await made("interlaced.png", picture().png({ progressive: true })),
    await made("lossless.webp", picture().webp({ lossless: true })),
    { name: "hostile-xmp.jpg", bytes: withSegments(jpeg, xmpSegment('<xmp:CreateDate xmp:CreateDate= "'.repeat(1900))) },
    { name: "blank-xmp.jpg", bytes: withSegments(jpeg, xmpSegment(`<xmp:CreateDate>${" ".repeat(1000)}`.repeat(60))) },
    { name: "entities-xmp.jpg", bytes: withSegments(jpeg, xmpSegment('<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><x xmp:CreateDate="&b;"/>')) },
    { name: "latin-xmp.jpg", bytes: withSegments(jpeg, xmpSegment('<x xmp:CreatorTool="\u00ff\u0080\u0000\u001b" xmp:CreateDate="2026-02-30T99:00:00"/>')) },
    { name: "empty-exif.jpg", bytes: withSegments(jpeg, { marker: 0xe1, content: Buffer.from("Exif\0\0") }) },
    { name: "much-metadata.jpg", bytes: withSegments(jpeg, ...Array.from({ length: 12 }, () => ({ marker: 0xed, content: Buffer.alloc(65_000, 65) }))) },
    { name: "more-metadata.jpg", bytes: withSegments(jpeg, ...Array.from({ length: 140 }, () => ({ marker: 0xe5, content: Buffer.alloc(65_000, 65) }))) },
    { name: "gif-then-jpeg.jpg", bytes: Buffer.concat([Buffer.from("GIF89a"), jpeg]) },
    { name: "all-ones.jpg", bytes: Buffer.alloc(5000, 0xff) },
    text("start-only.jpg", "\u00ff\u00d8\u00ff"),
    text("page.jpg", "<html><script>alert(1)</script>"),
    text("drawing.jpg", "<svg xmlns='http://www.w3.org/2000/svg'/>"),
    text("endless.webp", "RIFF\u00ff\u00ff\u00ff\u00ffWEBPVP8 "),
    text("first-box.heic", "\0\0\0\u0018ftypheic\0\0\0\0mif1heic"),
    text("film.heic", "\0\0\0\u0018ftypisom\0\0\0\0isom"),
  ];
}
