import type { TagVerdict } from "#lib/domain/photo/verdict";

const PILE = "lastlook:pile:";
/** An id as the records have it, and nothing that a damaged code could be read as. */
const PILE_CODE = /^lastlook:pile:([A-Za-z0-9][A-Za-z0-9._:-]{0,63})$/;

/** What the code on a pile's tag says: the pile by its own id, which no renumbering changes. */
export function pileCode(pileId: string): string {
  return `${PILE}${pileId}`;
}

/** The pile's id that a code names; null for any other code. */
export function readPileCode(text: string): string | null {
  return PILE_CODE.exec(text)?.[1] ?? null;
}

export interface TagFinding {
  readonly verdict: TagVerdict;
  /** The finding as a sentence of facts. */
  readonly words: string;
  /** Mark of the pile whose tag was read; null where none was, or where it is not of this project. */
  readonly mark: string | null;
}

/**
 * Which pile's tag is in the picture. A tag that was not read says nothing against the photo: it may be out of the picture,
 * wet or blurred. Where the tags of several piles are in the picture, this pile's is what counts.
 *
 * @param codes  Every code read out of the picture; null while nobody has looked.
 * @param pileId The pile that the photo was sent for; null on the project sheet.
 * @param markOf Mark of a pile of the project by its id; null for no pile of it.
 */
export function tagVerdict(
  codes: readonly string[] | null,
  { pileId, markOf }: { readonly pileId: string | null; readonly markOf: (id: string) => string | null },
): TagFinding {
  if (codes === null) return { verdict: "no tag read", words: "not looked for yet", mark: null };

  const read = codes.map(readPileCode).filter((id): id is string => id !== null);
  if (read.length === 0) return { verdict: "no tag read", words: "no code of a tag in the picture, or none sharp enough", mark: null };
  const own = pileId !== null && read.includes(pileId);
  if (own) return { verdict: "this pile's tag read", words: markOf(pileId) ?? "", mark: markOf(pileId) };

  const [other = ""] = read;
  const mark = markOf(other);
  return { verdict: "another pile's tag", words: mark === null ? "a tag of another project" : `tag of pile ${mark}`, mark };
}
