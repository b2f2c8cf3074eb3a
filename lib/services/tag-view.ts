import { formatWhen } from "#lib/domain/clock/site-time";
import type { Member } from "#lib/domain/access/member";
import type { Instant } from "#lib/domain/instant";
import { pileCode } from "#lib/domain/photo/tag";
import { requirementSet, revisionInForce } from "#lib/domain/plan/plan";
import type { Fault } from "#lib/domain/refusal";
import type { RequirementSet } from "#lib/domain/requirement/set";
import type { TagPrint } from "#lib/closeout/tag-pdf";
import type { Tx } from "#lib/db/client";
import { logHead } from "#lib/db/journal";
import { listPiles } from "#lib/db/pile";
import { listRevisions, type Project } from "#lib/db/project";
import type { Asking } from "#lib/services/ask";

/** What the printed tag of a pile says. */
export interface PileTag {
  pileId: string;
  mark: string;
  bent: string;
  row: string;
  /** Name of its type; the letter alone where no revision names it. */
  type: string;
  core: RequirementSet["core"] | null;
  /** Elevation of the top as the schedule draws it; null where it does not. */
  top: string | null;
  /** What the code says. */
  code: string;
}

export interface TagView {
  /** Every bent with piles in scope, and how many. */
  bents: { code: string; piles: number }[];
  /** Of the bents that were asked for, by bent and row. */
  tags: PileTag[];
  faults: Fault[];
}

/** The tags of the piles in scope, of some bents or of all. A bent that is not there is told, and the others stand. */
export async function tagView(tx: Tx, project: Project, at: Instant, asked: readonly string[]): Promise<TagView> {
  const [all, revisions] = await Promise.all([listPiles(tx, project.id), listRevisions(tx, project.id)]);
  const piles = all.filter(({ scope }) => scope === "in");
  const revision = revisionInForce(revisions, at)?.revision ?? revisions[0]?.revision ?? null;
  const counts = new Map<string, number>();
  for (const { bent } of piles) counts.set(bent, (counts.get(bent) ?? 0) + 1);
  const unknown = asked.filter((bent) => !counts.has(bent));
  return {
    bents: [...counts].map(([code, count]) => ({ code, piles: count })),
    tags: piles.filter(({ bent }) => asked.length === 0 || asked.includes(bent)).map(({ id, mark, bent, row, type, drawn }): PileTag => {
      const set = revision && requirementSet(revision, type);
      return { pileId: id, mark, bent, row, type: set?.name ?? `Type ${type}`, core: set?.core ?? null, top: drawn?.top ? `${drawn.top.value} ${drawn.top.unit}` : null, code: pileCode(id) };
    }),
    faults: unknown.map((bent) => ({ field: "bents", message: `There is no pile in a bent ${bent.slice(0, 40)}.` })),
  };
}

/** What the print of tags shows, with how far the log had come when it was made. */
export async function tagPrint({ house, project }: Asking, { view, by, at }: { view: TagView; by: Member; at: Instant }): Promise<Omit<TagPrint, "paper">> {
  const head = await logHead(house.db.read, project.id);
  const piles = view.bents.reduce((sum, one) => sum + one.piles, 0);
  return {
    project: project.name,
    author: by.organisation,
    madeAt: new Date(at).toISOString(),
    log: { digest: head?.digest ?? "", words: head ? `entry ${head.seq}; tags are no record` : "no record yet" },
    origin: [`pile list of ${piles} ${piles === 1 ? "pile" : "piles"} in scope`, `${formatWhen(at, project.zone)}, ${by.name}`],
    tags: view.tags,
  };
}

/** "Bent 05", "Bents 05 and 06", "Bents 05, 06 and 07" */
export function bentWords(tags: readonly Pick<PileTag, "bent">[]): string {
  const bents = [...new Set(tags.map(({ bent }) => bent))];
  const last = bents.at(-1) ?? "";
  return bents.length <= 1 ? `Bent ${last}` : `Bents ${bents.slice(0, -1).join(", ")} and ${last}`;
}
