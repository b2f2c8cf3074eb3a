/** Longest text kept from one metadata field, in characters. Common practice, no source. */
export const CLAIM_TEXT_LIMIT = 256;

// Replaced: control characters (C0, DEL, C1), the mark a decoder leaves for invalid UTF-8, lone surrogates, and the
// invisible characters that turn the reading direction or hide inside a word.
const UNSAFE =
  /[\u0000-\u001f\u007f-\u009f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufffd]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

const REPLACEMENT = "\u00b7";

/** One text of a file, made fit to be stored and shown. */
export interface ClaimText {
  /** The text without its padding; null when nothing but padding is left. */
  readonly text: string | null;
  /** False when characters were replaced or the text was cut: the file holds something else than is shown. */
  readonly intact: boolean;
}

/**
 * Makes a text found in a file safe to keep: padding (NUL and blanks at the end, blanks in front) goes, every control character,
 * invalid UTF-8 mark, lone surrogate or direction mark becomes "·", and the rest past {@link CLAIM_TEXT_LIMIT} is cut.
 */
export function claimText(raw: string): ClaimText {
  const unpadded = raw.replace(/[\u0000 ]+$/, "").trimStart();
  const safe = unpadded.replace(UNSAFE, REPLACEMENT);
  const cut = Array.from(safe).slice(0, CLAIM_TEXT_LIMIT).join("");

  return { text: cut === "" ? null : cut, intact: cut === unpadded };
}
