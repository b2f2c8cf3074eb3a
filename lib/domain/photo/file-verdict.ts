import type { PhotoFlag, PhotoFlagCode } from "#lib/domain/photo/flag";
import type { FileVerdict } from "#lib/domain/photo/verdict";

/** Which flags make which verdict, the first that applies. A file that is on record already is that, whatever else it is. */
const VERDICTS: readonly (readonly [FileVerdict, readonly PhotoFlagCode[]])[] = [
  ["repeat", ["DUP_EXACT", "DUP_PIXELS"]],
  ["edited", ["SOFTWARE_EDITED", "SYNTHETIC_DECLARED"]],
  ["look-alike", ["DUP_NEAR"]],
];

export interface FileFinding {
  readonly verdict: FileVerdict;
  /** What was measured. */
  readonly words: string;
}

/**
 * What a photo's file is, from its flags: *repeat* (the same bytes or the same pixels are on record) before *edited* (saved by
 * an editor, or declared as generated) before *look-alike* (within the limit of a photo on record) before *original*.
 * *Original* says that nothing of this was found, not that nothing was done.
 *
 * @param flags All flags of the photo, merged.
 */
export function fileVerdict(flags: readonly PhotoFlag[]): FileFinding {
  for (const [verdict, codes] of VERDICTS) {
    const found = flags.filter(({ code }) => codes.includes(code));
    if (found.length > 0) return { verdict, words: found.map(({ measured }) => measured).join("; ") };
  }
  return { verdict: "original", words: "no editor named, no repeat and no look-alike found" };
}
