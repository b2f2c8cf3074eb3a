import fc from "fast-check";
import { describe, expect, it } from "vitest";

import { readTiff, TAG } from "#lib/photos/tiff";

/** An Exif block with one directory. A value is what its entry holds in its last four bytes; `data` follows the directory. */
function block(entries: readonly { tag: number; type: number; count: number; value: number }[], data: Uint8Array = new Uint8Array(), little = false): Uint8Array {
  const view = new DataView(new ArrayBuffer(10 + entries.length * 12 + 4));
  view.setUint16(0, little ? 0x4949 : 0x4d4d);
  view.setUint16(2, 42, little);
  view.setUint32(4, 8, little);
  view.setUint16(8, entries.length, little);
  entries.forEach(({ tag, type, count, value }, i) => {
    view.setUint16(10 + i * 12, tag, little);
    view.setUint16(12 + i * 12, type, little);
    view.setUint32(14 + i * 12, count, little);
    view.setUint32(18 + i * 12, value, little);
  });
  return Buffer.concat([new Uint8Array(view.buffer), data]);
}

const ASCII = 2;
const SHORT = 3;
const make = { tag: TAG.main.make, type: ASCII, count: 8, value: 38 };

describe("an Exif block", () => {
  it.each([false, true])("is read in both byte orders (little: %s)", (little) => {
    const { main, problems } = readTiff(block([make, { tag: TAG.main.orientation, type: SHORT, count: 1, value: little ? 6 : 6 << 16 }], Buffer.from("Testcam\0"), little));
    expect([main.get(TAG.main.make), main.get(TAG.main.orientation), problems]).toEqual(["Testcam", "6", []]);
  });

  it.each([
    ["a text that lies outside the block", { ...make, value: 4_000_000_000 }],
    ["a text longer than the block", { ...make, count: 60_000 }],
    ["a text of four thousand million bytes", { ...make, count: 4_294_967_295 }],
    ["four thousand million numbers", { tag: TAG.main.orientation, type: SHORT, count: 4_294_967_295, value: 38 }],
    ["a type that does not exist", { ...make, type: 99 }],
  ])("loses only the field with %s", (_name, entry) => {
    const model = { tag: TAG.main.model, type: ASCII, count: 4, value: 0x542d3100 }; // "T-1\0"
    const { main, problems } = readTiff(block([entry, model], Buffer.from("Testcam\0")));
    expect(main.get(TAG.main.model)).toBe("T-1");
    expect(main.has(entry.tag)).toBe(false);
    expect(problems).toHaveLength(1);
  });

  it.each([
    ["nothing", new Uint8Array()],
    ["no header", Buffer.from("this is no Exif block")],
    ["a directory outside the block", Buffer.from([0x4d, 0x4d, 0, 42, 0xff, 0xff, 0xff, 0xff, 0, 0])],
    ["a directory that is cut off", block([make]).subarray(0, 16)],
  ])("with %s says so and gives nothing", (_name, bytes) => {
    const { main, problems } = readTiff(bytes);
    expect(main.size).toBe(0);
    expect(problems).toHaveLength(1);
  });

  it("that points to itself is read once", () => {
    const loop = { tag: 0x8769, type: 4, count: 1, value: 8 };
    expect(readTiff(block([loop, loop])).exif.size).toBe(0);
  });

  it("never throws, whatever it holds", () => {
    const start = fc.constantFrom([0x4d, 0x4d, 0, 42, 0, 0, 0, 8], [0x49, 0x49, 42, 0, 8, 0, 0, 0], []);
    fc.assert(
      fc.property(start, fc.uint8Array({ maxLength: 200 }), (head, rest) => {
        const { main, exif, gps } = readTiff(Uint8Array.from([...head, ...rest]));
        for (const value of [...main.values(), ...exif.values(), ...gps.values()]) expect(value.length).toBeLessThan(300);
      }),
      { numRuns: 500 },
    );
  });

  it("spoiled in any one byte still never throws", () => {
    const sound = block([make, { tag: TAG.main.model, type: ASCII, count: 4, value: 0x542d3100 }], Buffer.from("Testcam\0"));
    for (let i = 0; i < sound.length; i += 1) {
      for (const value of [0, 1, 0x7f, 0xff]) expect(() => readTiff(sound.map((byte, at) => (at === i ? value : byte)))).not.toThrow();
    }
  });
});
