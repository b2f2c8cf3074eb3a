import { createHash } from "node:crypto";
import canonicalize from "canonicalize";

/**
 * The one byte form of a record: canonical JSON in UTF-8, so that the same facts always have the same digest.
 * @param value  Plain JSON only. Throws a TypeError that names the place for anything JSON cannot hold faithfully: NaN, Infinity,
 *               undefined, functions, bigints, Dates and other class instances, holes in arrays, lone surrogates.
 * @source RFC 8785 (JSON Canonicalization Scheme).
 */
export function canonicalBytes(value: unknown): Buffer {
  refuseWhatJsonLoses(value, "$");
  const text = canonicalize(value);
  if (text === undefined) throw new TypeError("$: is not JSON");
  return Buffer.from(text, "utf8");
}

/** SHA-256 of the bytes (FIPS 180-4), as 64 lower-case hexadecimal digits. */
export function sha256(bytes: Uint8Array | string): string {
  return createHash("sha256").update(bytes).digest("hex");
}

// The package drops undefined members, turns undefined items into null and calls toJSON: each would sign something that nobody wrote.
function refuseWhatJsonLoses(value: unknown, place: string): void {
  if (value === null || typeof value === "boolean") return;
  if (typeof value === "string") return refuseLoneSurrogates(value, place);
  if (typeof value === "number") {
    if (!Number.isFinite(value)) throw new TypeError(`${place}: ${value} is not JSON`);
    return;
  }
  if (Array.isArray(value)) {
    for (let i = 0; i < value.length; i++) refuseWhatJsonLoses(value[i], `${place}[${i}]`);
    return;
  }
  if (typeof value !== "object") throw new TypeError(`${place}: ${typeof value} is not JSON`);

  const prototype: unknown = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) throw new TypeError(`${place}: only plain objects are JSON`);
  for (const [name, member] of Object.entries(value)) {
    refuseLoneSurrogates(name, `${place}, a name`);
    refuseWhatJsonLoses(member, `${place}.${name}`);
  }
}

function refuseLoneSurrogates(text: string, place: string): void {
  // Under the u flag a paired surrogate is one code point, so this finds only the lone ones.
  if (/\p{Surrogate}/u.test(text)) throw new TypeError(`${place}: a lone surrogate is not text`);
}
