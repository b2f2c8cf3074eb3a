import type { Instant } from "#lib/domain/instant";
import type { PileState, PointState } from "#lib/domain/point/state";
import type { Tx } from "#lib/db/client";
import { listCloseouts } from "#lib/db/closeout";
import { listPiles } from "#lib/db/pile";
import { listMembers, type Project } from "#lib/db/project";
import { loadCommon, loadSheet, projectSheet, type Sheet } from "#lib/services/sheet";

export interface CloseoutRow {
  pileId: string;
  mark: string;
  href: string;
  state: PileState;
  words: string;
  cells: { line: string; state: PointState }[];
}

export interface CloseoutView {
  lines: string[];
  rows: CloseoutRow[];
  /** What stands between the project and a final package, one sentence each. */
  openItems: string[];
  released: number;
  planned: number;
  issues: {
    number: number;
    kind: "interim" | "final";
    at: Instant;
    by: string;
    bytes: number;
    sha256: string;
    tagManifestSha256: string;
    href: string;
  }[];
}

const SETTLED: ReadonlySet<PointState> = new Set(["released", "not applicable", "released under concession"]);

/** Loads the project sheet and every pile's sheet, in the order of the plan. */
export async function loadAllSheets(tx: Tx, project: Project, at: Instant): Promise<{ projectSheet: Sheet; sheets: Sheet[] }> {
  const common = await loadCommon(tx, project);
  const sheets: Sheet[] = [];
  for (const pile of await listPiles(tx, project.id)) sheets.push(await loadSheet(tx, project, pile.id, at, common));
  return { projectSheet: projectSheet(project, common, at), sheets };
}

/** How complete the record is: every point of every pile, what is open, and what has been issued. */
export async function closeoutView(tx: Tx, project: Project, at: Instant): Promise<CloseoutView> {
  const { projectSheet: before, sheets } = await loadAllSheets(tx, project, at);
  const [issues, members] = await Promise.all([listCloseouts(tx, project.id), listMembers(tx, project.id)]);
  const cells = sheets.flatMap((sheet) => [...sheet.folded.values()]);
  const planned = cells.filter(({ state }) => state !== "not applicable" && state !== "out of scope");
  return {
    lines: sheets[0]?.lines.map(({ line }) => line) ?? [],
    rows: sheets.flatMap((sheet) => (sheet.pile ? [rowOf(sheet, sheet.pile)] : [])),
    openItems: openItems(before, sheets),
    released: planned.filter(({ state }) => SETTLED.has(state)).length,
    planned: planned.length,
    issues: issues.map(({ number, kind, at: issuedAt, byId, tagManifestSha256, file }) => ({
      number,
      kind,
      at: issuedAt,
      by: members.find(({ personId }) => personId === byId)?.name ?? byId,
      bytes: file?.bytes ?? 0,
      sha256: file?.sha256 ?? "",
      tagManifestSha256,
      href: `/api/v1/projects/${project.code}/closeout/${number}.zip`,
    })),
  };
}

function rowOf(sheet: Sheet, pile: NonNullable<Sheet["pile"]>): CloseoutRow {
  return {
    pileId: pile.id,
    mark: pile.mark,
    href: `/p/${sheet.project.code}/piles/${pile.mark}`,
    state: pile.state,
    words: openWords(sheet) ?? "complete",
    cells: sheet.lines.map(({ line }) => ({ line, state: sheet.folded.get(line)?.state ?? "not open" })),
  };
}

/** What is open on a sheet in a few words, the most pressing first; null when nothing is. */
function openWords(sheet: Sheet): string | null {
  const open = [...sheet.folded.values()].filter(({ state }) => !SETTLED.has(state));
  const [first] = [...open].sort((a, b) => PRESSING.indexOf(a.state) - PRESSING.indexOf(b.state));
  if (!first) return sheet.pile && sheet.pile.state !== "accepted" ? "not accepted yet" : null;
  if (sheet.pile?.state === "not started") return "not started";
  return `${first.line} ${first.state}`;
}

const PRESSING: PointState[] = ["in doubt", "rejected", "expired", "conflict", "QC checked", "submitted", "draft", "open", "notice lapsed", "not open"];

/** Everything required that is open, one sentence a sheet. A final package needs this list to be empty. */
export function openItems(before: Sheet, sheets: readonly Sheet[]): string[] {
  return [before, ...sheets].flatMap((sheet): string[] => {
    const open = sheet.lines.filter(({ line }) => !SETTLED.has(sheet.folded.get(line)?.state ?? "not open"));
    const name = sheet.pile ? `Pile ${sheet.pile.mark}` : "Project sheet";
    if (open.length > 0) {
      const shown = open.slice(0, 4).map(({ line }) => `${line} ${sheet.folded.get(line)?.state ?? "not open"}`);
      const more = open.length > shown.length ? `, and ${open.length - shown.length} more` : "";
      return [`${name}: ${shown.join(", ")}${more}.`];
    }
    return sheet.pile && sheet.pile.state !== "accepted" ? [`${name}: every point is released, and the owner has not accepted it.`] : [];
  });
}
