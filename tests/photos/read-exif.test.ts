import fc from "fast-check";
import { describe, expect, it } from "vitest";

import { claimText } from "#lib/domain/photo/claim-text";
import { readExif } from "../../lib/photos/read-exif.mjs";

const [BYTE, ASCII, SHORT, LONG, RATIONAL, FLOAT, UTF8] = [1, 2, 3, 4, 5, 11, 129] as const;
const MAKE = 0x010f;
const MODEL = 0x0110;
const ORIENTATION = 0x0112;
const EXIF_POINTER = 0x8769;
const GPS_POINTER = 0x8825;

interface Entry {
  readonly tag: number;
  readonly type: number;
  readonly count: number;
  /** The value itself when it has at most four bytes, else put behind the directory and pointed to. */
  readonly value: Uint8Array;
  /** Points there instead. */
  readonly at?: number;
}

const text = (tag: number, value: string, type: number = ASCII): Entry => ({ tag, type, count: value.length + 1, value: Buffer.from(`${value}\0`, "latin1") });
const short = (tag: number, value: number): Entry => ({ tag, type: SHORT, count: 1, value: Uint8Array.of(0, value, 0, 0) });
const long = (tag: number, value: number): Entry => ({ tag, type: LONG, count: 1, value: Buffer.from(Uint32Array.of(value).buffer).reverse() });
const rationals = (tag: number, ...parts: readonly number[]): Entry => {
  const value = Buffer.alloc(parts.length * 4);
  parts.forEach((part, i) => value.writeUInt32BE(part, i * 4));
  return { tag, type: RATIONAL, count: parts.length / 2, value };
};

/** One directory that begins at `start` of the block, with its values behind it. Big endian. */
function directory(start: number, entries: readonly Entry[]): Buffer {
  const head = Buffer.alloc(2 + entries.length * 12 + 4);
  const values: Uint8Array[] = [];
  let end = start + head.length;
  head.writeUInt16BE(entries.length);
  entries.forEach(({ tag, type, count, value, at }, i) => {
    const entry = 2 + i * 12;
    head.writeUInt16BE(tag, entry);
    head.writeUInt16BE(type, entry + 2);
    head.writeUInt32BE(count, entry + 4);
    if (at === undefined && value.length <= 4) return void head.set(value, entry + 8);
    head.writeUInt32BE(at ?? end, entry + 8);
    values.push(value);
    end += value.length;
  });
  return Buffer.concat([head, ...values]);
}

const HEADER = Buffer.from("MM\0*\0\0\0\b", "latin1");
const block = (...entries: readonly Entry[]): Buffer => Buffer.concat([HEADER, directory(8, entries)]);

/** A block whose only further directory lies behind the first one. */
function blockWith(pointer: number, below: readonly Entry[], main: readonly Entry[] = []): Buffer {
  const start = block(...main, long(pointer, 0)).length;
  return Buffer.concat([block(...main, long(pointer, start)), directory(start, below)]);
}

const GPS = [text(1, "N"), rationals(2, 44, 1, 0, 1, 281_400_000, 100_000_000), text(3, "W"), rationals(4, 63, 1, 30, 1, 0, 1)];

describe("an Exif block", () => {
  it("gives numbers as decimals, texts up to their end, and bytes as what they stand for", async () => {
    const sound = blockWith(GPS_POINTER, [...GPS, { tag: 5, type: BYTE, count: 1, value: Uint8Array.of(1) }, rationals(6, 5, 2)], [
      text(MAKE, "Testcam\0left over"),
      short(ORIENTATION, 6),
    ]);
    const read = {
      main: { make: "Testcam", orientation: "6" },
      exif: {},
      gps: { latitudeRef: "N", latitude: "44 0 2.814", longitudeRef: "W", longitude: "63 30 0", altitudeRef: "1", altitude: "2.5" },
      problems: [],
    };
    expect(await readExif(sound)).toEqual(read);
    expect(await readExif(Buffer.concat([Buffer.from("Exif\0\0"), sound]))).toEqual(read);
  });

  it.each([
    ["ASCII\0\0\0", Buffer.from("Screenshot\0\0"), "Screenshot"],
    ["\0\0\0\0\0\0\0\0", Buffer.from("Screenshot"), "Screenshot"],
    ["UNICODE\0", Buffer.from("Screenshot é", "utf16le"), "Screenshot é"],
    ["UNICODE\0", Buffer.from("Screenshot é", "utf16le").swap16(), "Screenshot é"],
    ["ASCII\0\0\0", Buffer.from([0x41, 0xff, 0x42]), "A\ufffdB"],
    ["ASCII", Buffer.alloc(0), ""],
  ])("gives a comment without the code of its characters, %j", async (code, words, comment) => {
    const value = Buffer.concat([Buffer.from(code, "latin1"), words]);
    const { exif } = await readExif(blockWith(EXIF_POINTER, [{ tag: 0x9286, type: 7, count: value.length, value }, text(0x9003, "2026:10:20 09:30:00")]));
    expect(exif.comment).toBe(comment);
  });

  it("adds no letter to a position that has none", async () => {
    const { gps } = await readExif(blockWith(GPS_POINTER, [rationals(2, 44, 1, 0, 1, 0, 1), rationals(4, 63, 1, 30, 1, 0, 1)]));
    expect(gps).toEqual({ latitude: "44 0 0", longitude: "63 30 0" });
  });

  it("gives NaN and Infinity, as text, for zero denominators", async () => {
    const { gps, problems } = await readExif(blockWith(GPS_POINTER, [rationals(2, 44, 1, 0, 0, 1, 0), rationals(4, 63, 1, 30, 1, 0, 1)]));
    expect([gps.latitude, problems]).toEqual(["44 NaN Infinity", []]);
  });

  it("without any wanted field is empty, not damaged", async () => {
    expect(await readExif(block(rationals(0x011a, 72, 1)))).toEqual({ main: {}, exif: {}, gps: {}, problems: [] });
  });
});

describe("an Exif block that the first reader stumbles over", () => {
  it.each([
    ["a text that lies outside the block", { ...text(MAKE, "Testcam"), at: 4_000_000_000 }],
    ["a text longer than the block", { ...text(MAKE, "Testcam"), count: 60_000 }],
    ["a text of four thousand million bytes", { ...text(MAKE, "Testcam"), count: 4_294_967_295 }],
    ["four thousand million numbers of two bytes", { ...short(ORIENTATION, 6), count: 4_294_967_295, at: 8 }],
    ["four thousand million numbers of four bytes", { tag: ORIENTATION, type: LONG, count: 4_294_967_295, value: new Uint8Array(), at: 8 }],
    ["four thousand million fractions", { ...rationals(ORIENTATION, 1, 1), count: 4_294_967_295 }],
    ["four thousand million floating numbers", { tag: ORIENTATION, type: FLOAT, count: 4_294_967_295, value: new Uint8Array(), at: 8 }],
    ["a type that does not exist", { ...text(MAKE, "Testcam"), type: 99 }],
    ["the text type of Exif 3.0", text(MAKE, "Testcam", UTF8)],
  ])("loses only the field with %s", async (_name, entry) => {
    const { main, gps, problems } = await readExif(blockWith(GPS_POINTER, GPS, [entry, text(MODEL, "T-1")]));
    expect(main).toEqual({ model: "T-1" });
    expect(gps).toEqual({ latitudeRef: "N", latitude: "44/1 0/1 281400000/100000000", longitudeRef: "W", longitude: "63/1 30/1 0/1" });
    expect(problems[0]).toBe("the Exif block is damaged");
  });

  it.each([
    ["a text outside the block", { ...text(0x1d, "2026:10:20"), at: 4_000_000_000 }, "dateStamp"],
    ["no numbers where numbers belong", { tag: 2, type: SHORT, count: 1, value: Uint8Array.of(0, 44, 0, 0) }, null],
  ])("says so also when only a directory below holds %s", async (_name, entry, field) => {
    const { main, gps, problems } = await readExif(blockWith(GPS_POINTER, [entry, ...GPS.filter(({ tag }) => tag !== entry.tag)], [text(MAKE, "Testcam")]));
    expect([main, gps.longitude]).toEqual([{ make: "Testcam" }, "63/1 30/1 0/1"]);
    expect(problems).toEqual(["the Exif block is damaged", ...(field === null ? [] : [`${field} cannot be read`])]);
  });

  it("says so when a directory below lies outside the block", async () => {
    const { main, problems } = await readExif(block(text(MAKE, "Testcam"), long(GPS_POINTER, 4_000_000)));
    expect([main, problems]).toEqual([{ make: "Testcam" }, ["the Exif block is damaged"]]);
  });

  it("names the field that lies outside the block", async () => {
    const { problems } = await readExif(block({ ...text(MAKE, "Testcam"), at: 4_000_000_000 }, text(MODEL, "T-1")));
    expect(problems).toEqual(["the Exif block is damaged", "make cannot be read"]);
  });

  it("keeps what the second reader makes of bytes, single fractions and pairs of numbers apart", async () => {
    const outside = { ...text(0x1d, "2026:10:20"), at: 4_000_000_000 };
    const below = [outside, { tag: 9, type: 7, count: 1, value: Buffer.from("V") }, rationals(0x0b, 3, 2), { tag: 0x1f, type: SHORT, count: 2, value: Uint8Array.of(0, 48, 0, 2) }];
    const { gps } = await readExif(blockWith(GPS_POINTER, below));
    expect(gps).toEqual({ status: "V", dop: "3/2", hPositioningError: "48 2" });
  });
});

describe("a broken or hostile Exif block", () => {
  it.each([
    ["nothing", Buffer.alloc(0), "the Exif block has no header"],
    ["no header", Buffer.from("this is no Exif block"), "the Exif block has no header"],
    ["a whole picture in its place", Buffer.from([0xff, 0xd8, 0xff, 0xe1, 0, 20, 0, 0]), "the Exif block has no header"],
    ["nothing but the header", HEADER, "the Exif block cannot be read"],
    ["a directory outside the block", Buffer.from("MM\0*\xff\xff\xff\xff\0\0", "latin1"), "the Exif block cannot be read"],
    ["a directory that is cut off", block(text(MAKE, "Testcam")).subarray(0, 16), "the Exif block cannot be read"],
  ])("with %s says so and gives nothing", async (_name, bytes, problem) => {
    expect(await readExif(bytes)).toEqual({ main: {}, exif: {}, gps: {}, problems: [problem] });
  });

  it("gives nothing of what lies behind it in memory", async () => {
    const greedy = block(text(MODEL, "T-1"), { ...text(MAKE, "Testcam"), count: 60 });
    const memory = Buffer.concat([greedy, Buffer.alloc(200, "another picture")]);
    const { main, problems } = await readExif(memory.subarray(0, greedy.length));
    expect([main, problems]).toEqual([{ model: "T-1" }, ["the Exif block is damaged", "make cannot be read"]]);
  });

  it("that points to itself is read once", async () => {
    const { main, exif, gps } = await readExif(block(text(MAKE, "Testcam"), long(EXIF_POINTER, 8), long(GPS_POINTER, 8)));
    expect([main, exif, gps]).toEqual([{ make: "Testcam" }, {}, {}]);
  });

  it("costs no more than its size when every entry asks for all of it", async () => {
    const filler = Buffer.alloc(500_000, 0x41);
    const greedy = Array.from({ length: 20_000 }, (_, i) => ({ tag: [MAKE, MODEL, 0x9286, 0xc000][i % 4]!, type: ASCII, count: 400_000, value: new Uint8Array(), at: 250_000 }));
    const broken = { ...text(MAKE, ""), type: 99, at: 0 };
    const began = performance.now();
    for (const entries of [greedy, [broken, ...greedy]]) {
      await readExif(Buffer.concat([HEADER, directory(8, entries), filler]));
    }
    expect(performance.now() - began).toBeLessThan(5000); // ms; read over and over it would be 8 GB
  });

  it("holds long values down to what a claim may be, and none looks whole", async () => {
    const parts = Array.from({ length: 4000 }, () => 1);
    const { main, gps } = await readExif(blockWith(GPS_POINTER, [rationals(2, ...parts)], [text(MAKE, "x".repeat(60_000))]));
    expect(gps.latitude!.length).toBeLessThan(1000);
    expect([claimText(gps.latitude!).intact, claimText(main.make!).intact]).toEqual([false, false]);
  });

  const sound = blockWith(GPS_POINTER, GPS, [text(MAKE, "Testcam"), short(ORIENTATION, 6)]);
  const sane = async (bytes: Uint8Array) => {
    const { main, exif, gps } = await readExif(bytes);
    for (const value of Object.values({ ...main, ...exif, ...gps })) {
      expect(typeof value).toBe("string");
      expect(value.length).toBeLessThan(8000); // 256 fractions of two numbers each
    }
  };

  it("never throws, whatever bytes of a sound one are changed and wherever it is cut", async () => {
    const change = fc.record({ at: fc.nat(sound.length - 1), byte: fc.oneof(fc.constantFrom(0, 1, 2, 5, 8, 0x7f, 0x80, 0xff), fc.nat(255)) });
    await fc.assert(
      fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 12 }), fc.option(fc.nat(sound.length)), async (changes, length) => {
        const spoiled = Buffer.from(sound);
        for (const { at, byte } of changes) spoiled[at] = byte;
        await sane(spoiled.subarray(0, length ?? spoiled.length));
      }),
      { numRuns: 400 },
    );
  });

  it("never throws, whatever follows its header", async () => {
    const start = fc.constantFrom([0x4d, 0x4d, 0, 42, 0, 0, 0, 8], [0x49, 0x49, 42, 0, 8, 0, 0, 0]);
    await fc.assert(
      fc.asyncProperty(start, fc.uint8Array({ maxLength: 200 }), (head, rest) => sane(Uint8Array.from([...head, ...rest]))),
      { numRuns: 300 },
    );
  });
});
