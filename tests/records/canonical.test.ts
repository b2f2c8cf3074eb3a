import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonicalBytes, sha256 } from "#lib/records/canonical";

interface DocumentRow { type: "document"; name: string; input_utf8: string; canonical_hex: string; canonical_sha256: string }
interface NumberRow { type: "number"; ieee754_hex: string; json?: string; error?: string }

// The vector file names its sources: RFC 8785 and the test data of cyberphone/json-canonicalization.
const vector = JSON.parse(readFileSync(new URL("./vector/jcs.json", import.meta.url), "utf8")) as { rows: (DocumentRow | NumberRow)[] };
const documents = vector.rows.filter((row) => row.type === "document");
const numbers = vector.rows.filter((row) => row.type === "number");
const double = (hex: string): number => Buffer.from(hex, "hex").readDoubleBE();

describe("canonical bytes", () => {
  it("are checked on all six published documents and 28 published numbers", () => {
    expect([documents.length, numbers.length]).toEqual([6, 28]);
  });

  it.each(documents)("equal the published bytes of the document $name", ({ input_utf8, canonical_hex, canonical_sha256 }) => {
    const bytes = canonicalBytes(JSON.parse(input_utf8));
    expect(bytes.toString("hex")).toBe(canonical_hex);
    expect(sha256(bytes)).toBe(canonical_sha256);
  });

  it.each(numbers.filter((row) => row.json !== undefined))("write the double $ieee754_hex as $json", ({ ieee754_hex, json }) => {
    expect(canonicalBytes(double(ieee754_hex)).toString()).toBe(json);
  });

  it.each(numbers.filter((row) => row.error !== undefined))("refuse the double $ieee754_hex", ({ ieee754_hex }) => {
    expect(() => canonicalBytes({ measured: double(ieee754_hex) })).toThrow(TypeError);
  });

  it.each([
    ["undefined", undefined],
    ["an undefined member", { a: undefined }],
    ["an undefined item", [1, undefined]],
    ["a hole in an array", new Array(1)],
    ["minus infinity", [-Infinity]],
    ["a date", { at: new Date(0) }],
    ["a map", new Map()],
    ["a function", { f: () => 1 }],
    ["a bigint", 1n],
    ["a lone high surrogate", "a\ud83d"],
    ["a lone low surrogate", ["\ude02b"]],
    ["a lone surrogate in a name", { "\ud83d": 1 }],
  ])("refuse %s", (_what, value) => {
    expect(() => canonicalBytes(value)).toThrow(TypeError);
  });

  it("say where the value stands that JSON cannot hold", () => {
    expect(() => canonicalBytes({ values: [{ gapMm: NaN }] })).toThrow("$.values[0].gapMm: NaN is not JSON");
  });

  it("do not depend on the order in which members were written, and read back as the same value", () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string({ unit: "grapheme" }), fc.jsonValue({ stringUnit: "grapheme" })), (value) => {
        const reversed = Object.fromEntries(Object.entries(value).reverse());
        const bytes = canonicalBytes(value);
        expect(canonicalBytes(reversed).equals(bytes)).toBe(true);
        expect(canonicalBytes(JSON.parse(bytes.toString())).equals(bytes)).toBe(true);
      }),
    );
  });
});

describe("sha256", () => {
  // FIPS 180-4 examples: SHA-256 of "abc" and of the 448-bit message.
  it.each([
    ["abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"],
    ["abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"],
  ])("of %s is the published digest", (text, digest) => {
    expect(sha256(text)).toBe(digest);
    expect(sha256(Buffer.from(text))).toBe(digest);
  });
});
