import { writeFile } from "node:fs/promises";
import path from "node:path";

import sharp from "sharp";
import { describe, expect, it } from "vitest";

import { readHeader } from "#lib/photos/picture-pool";
import { withSegments, xmpSegment } from "#tests/photos/awkward-file";
import { dataFolder, fixtureBytes } from "#tests/photos/fixture";

const LARGE = 64 * 1024 ** 2;

async function headerOf(bytes: Buffer) {
  const file = path.join(await dataFolder(), "x");
  await writeFile(file, bytes);
  return (await readHeader(file, LARGE))!;
}
const layoutOf = async (bytes: Buffer) => (await headerOf(bytes)).layout;

/** A multi-picture index with one picture behind the first, at an offset from the index. Big endian. */
function pictureIndex(size: number, offset: number): Buffer {
  const index = Buffer.alloc(8 + 2 + 12 + 4 + 32);
  index.write("MM\0*", 0, "latin1");
  index.writeUInt32BE(8, 4);
  index.writeUInt16BE(1, 8);
  index.writeUInt16BE(0xb002, 10);
  index.writeUInt16BE(7, 12);
  index.writeUInt32BE(32, 14);
  index.writeUInt32BE(26, 18);
  index.writeUInt32BE(size, 26 + 16 + 4);
  index.writeUInt32BE(offset, 26 + 16 + 8);
  return Buffer.concat([Buffer.from("MPF\0"), index]);
}

describe("what stands behind the end of a picture", () => {
  const names = ["no-metadata.jpg", "phone-offset-gps.jpg", "plain.png", "tagged.png", "tagged.webp", "phone.heic"];

  it.each(names)("is nothing in %s, and is counted to the byte when something is put there", async (name) => {
    const sound = await fixtureBytes(name);
    expect((await layoutOf(sound)).trailingBytes).toBe(0);
    for (const more of [Buffer.from("x"), Buffer.alloc(1000), await fixtureBytes("no-metadata.jpg"), Buffer.from("%PDF-1.4 and the rest")]) {
      expect([name, (await layoutOf(Buffer.concat([sound, more]))).trailingBytes]).toEqual([name, more.length]);
    }
  });

  it("is counted behind the last scan of a progressive picture", async () => {
    const progressive = await sharp(await fixtureBytes("no-metadata.jpg")).jpeg({ progressive: true }).toBuffer();
    expect((await layoutOf(Buffer.concat([progressive, Buffer.alloc(77)]))).trailingBytes).toBe(77);
  });

  it("is not the end of the small picture inside", async () => {
    expect((await layoutOf(await fixtureBytes("small-picture-barred.jpg"))).trailingBytes).toBe(0);
  });

  it("is no surprise where a multi-picture index names it", async () => {
    const [first, second] = [await fixtureBytes("no-metadata.jpg"), await fixtureBytes("grey.jpg")];
    const indexed = (size: number) => {
      const start = 2 + 4 + 4; // the index begins behind the marker, the length and "MPF\0"
      const whole = withSegments(first, { marker: 0xe2, content: pictureIndex(size, 0) });
      return withSegments(first, { marker: 0xe2, content: pictureIndex(size, whole.length - start) });
    };
    expect((await layoutOf(Buffer.concat([indexed(second.length), second]))).trailingBytes).toBe(0);
    expect((await layoutOf(Buffer.concat([indexed(second.length), second, Buffer.alloc(500)]))).trailingBytes).toBe(500);
    expect((await layoutOf(Buffer.concat([indexed(second.length - 100), second]))).trailingBytes).toBe(100);
  });

  const packet = (properties: string) => xmpSegment(`<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description ${properties}/></rdf:RDF></x:xmpmeta>`);

  it.each([
    ["by its distance from the end", 'GCamera:MicroVideo="1" GCamera:MicroVideoOffset="3000"'],
    ["by its length", 'Item:Mime="image/jpeg" Item:Length="0" Item:Padding="0"/><rdf:Description Item:Mime="video/mp4" Item:Length="3000"'],
  ])("is no surprise where the file names a film %s", async (_how, properties) => {
    const jpeg = withSegments(await fixtureBytes("no-metadata.jpg"), packet(properties));
    expect((await layoutOf(Buffer.concat([jpeg, Buffer.alloc(3000, 7)]))).trailingBytes).toBe(0);
    expect((await layoutOf(Buffer.concat([jpeg, Buffer.alloc(3600, 7)]))).trailingBytes).toBe(600);
  });

  it("is no surprise where the file ends with a list of it", async () => {
    const jpeg = await fixtureBytes("no-metadata.jpg");
    const film = Buffer.alloc(2000, 9);
    const list = Buffer.alloc(4 + 4 + 4 + 12);
    list.write("SEFH", 0, "latin1");
    list.writeUInt32LE(106, 4);
    list.writeUInt32LE(1, 8);
    list.writeUInt16LE(0x0a30, 14);
    list.writeUInt32LE(film.length, 16); // it begins this far before the list
    list.writeUInt32LE(film.length, 20);
    const end = Buffer.alloc(8);
    end.writeUInt32LE(list.length, 0);
    end.write("SEFT", 4, "latin1");
    expect((await layoutOf(Buffer.concat([jpeg, film, list, end]))).trailingBytes).toBe(0);
    expect((await layoutOf(Buffer.concat([jpeg, Buffer.alloc(300), film, list, end]))).trailingBytes).toBe(300);
    expect((await layoutOf(Buffer.concat([jpeg, film, list, end, Buffer.from("!")]))).trailingBytes).toBe(film.length + list.length + end.length + 1);
  });
});

describe("the size of the metadata", () => {
  it("counts every block that is no picture, not only Exif and XMP", async () => {
    const jpeg = await fixtureBytes("no-metadata.jpg");
    const segments = Array.from({ length: 10 }, () => ({ marker: 0xed, content: Buffer.alloc(60_000, 65) }));
    expect((await headerOf(withSegments(jpeg, ...segments))).metadataBytes).toBe(10 * 60_004);
    expect((await headerOf(jpeg)).metadataBytes).toBe(0);
  });

  it("gives nothing of it when it is larger than asked for", async () => {
    const file = path.join(await dataFolder(), "x");
    await writeFile(file, await fixtureBytes("phone-offset-gps.jpg"));
    expect(await readHeader(file, 100)).toMatchObject({ exif: null, xmp: null, smallPicture: null });
  });
});

describe("a file", () => {
  it.each(["plain.png", "tagged.webp", "phone.heic"])("%s that is cut says itself that it is", async (name) => {
    const sound = await fixtureBytes(name);
    expect(await layoutOf(sound)).toMatchObject({ cutShort: false });
    expect(await layoutOf(sound.subarray(0, Math.floor(sound.length * 0.9)))).toMatchObject({ cutShort: true });
  });

  it("with something else in the place of its Exif block is read by the block behind it", async () => {
    const junk = { marker: 0xe1, content: Buffer.from("Exif\0\0 no block") };
    const { exif, layout } = await headerOf(withSegments(await fixtureBytes("no-offset.jpg"), junk));
    expect([exif?.exif.dateTimeOriginal, layout.exifBlocks]).toEqual(["2026:10:20 10:12:00", 1]);
  });

  it("with two Exif blocks says so", async () => {
    const second = await fixtureBytes("phone-offset-gps.jpg");
    const content = second.subarray(second.indexOf("Exif"), second.indexOf("Exif") + second.readUInt16BE(second.indexOf("Exif") - 2) - 2);
    const { exif, layout } = await headerOf(withSegments(await fixtureBytes("no-offset.jpg"), { marker: 0xe1, content }));
    expect([exif?.exif.offsetTimeOriginal, layout.exifBlocks]).toEqual(["-03:00", 2]);
  });

  it("may say in its content credentials how it was made", async () => {
    const block = Buffer.from("JP\0\u0001\0\0\0\u0001jumb c2pa http://cv.iptc.org/newscodes/digitalsourcetype/trainedAlgorithmicMedia", "latin1");
    expect((await layoutOf(withSegments(await fixtureBytes("no-metadata.jpg"), { marker: 0xeb, content: block }))).sourceTypes).toEqual(["trainedAlgorithmicMedia"]);
    // The same words outside of such a block are a comment.
    expect((await layoutOf(withSegments(await fixtureBytes("no-metadata.jpg"), { marker: 0xfe, content: block }))).sourceTypes).toEqual([]);
  });
});
