import { PAPERS, type Paper } from "#lib/closeout/paper";
import type { Fault } from "#lib/domain/refusal";

/** What a selection may hold; more is cut off, because it is no selection that a person made. */
const MOST_NAMES = 400;

export interface TagQuery {
  /** Bents whose tags are wanted; empty for all of them. */
  bents: string[];
  paper: Paper;
  faults: Fault[];
}

/** What the query of a tag sheet holds, for the description of the API. */
export const TAG_QUERY = {
  bents: "Bent, may be given several times; without it every bent",
  paper: `${Object.keys(PAPERS).join(" or ")}; A4 without it`,
};

/** Reads the query of a tag sheet: what cannot be read is told at its field, and the rest still holds. */
export function readTagQuery(query: URLSearchParams): TagQuery {
  const bents = [...new Set(query.getAll("bents").slice(0, MOST_NAMES).map((one) => one.trim()).filter(Boolean))];
  const asked = query.get("paper") ?? "A4";
  const paper = (Object.keys(PAPERS) as Paper[]).find((one) => one.toLowerCase() === asked.trim().toLowerCase());
  const faults = paper ? [] : [{ field: "paper", message: `${asked.slice(0, 40)} is no paper that tags are laid out for. Choose A4 or Letter.` }];
  return { bents, paper: paper ?? "A4", faults };
}

/** The address of the same selection, for links to its print. */
export function tagSearch({ bents, paper }: Pick<TagQuery, "bents" | "paper">): string {
  const query = new URLSearchParams(bents.map((bent) => ["bents", bent]));
  query.set("paper", paper);
  return `?${query.toString()}`;
}
