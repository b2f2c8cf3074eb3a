/** Text of a file, with what had to be assumed to read it; null when it is no text. */
export interface DecodedText {
  text: string;
  note: string | null;
}

/**
 * Reads the text of a file: UTF-8, or UTF-16 with its mark, else Windows-1252, which is said. A file with zero bytes or other
 * control characters is no text.
 */
export function decodeText(bytes: Uint8Array): DecodedText | null {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return plainText(new TextDecoder("utf-16le").decode(bytes), null);
  if (first === 0xfe && second === 0xff) return plainText(new TextDecoder("utf-16be").decode(bytes), null);
  try {
    return plainText(new TextDecoder("utf-8", { fatal: true }).decode(bytes), null);
  } catch {
    return plainText(new TextDecoder("windows-1252").decode(bytes), "The file is not UTF-8. It was read as Windows-1252: check letters and signs such as ½ and °.");
  }
}

const CONTROL = /[\u0000-\u0008\u000b\u000e-\u001f]/;

function plainText(text: string, note: string | null): DecodedText | null {
  return CONTROL.test(text) || text.includes("\uFFFD\uFFFD\uFFFD") ? null : { text, note };
}
