import type { Instant } from "#lib/domain/instant";
import { pileState } from "#lib/domain/point/pile-state";
import type { Tx } from "#lib/db/client";
import { addPointRows, listPiles, listAcceptances, saveProjection, type Pile } from "#lib/db/pile";
import { NO_HISTORY } from "#lib/db/point-record";
import type { Project } from "#lib/db/project";
import { loadCommon, loadSheet, pileSheet, type Common, type Sheet } from "#lib/services/sheet";

/** Writes the projection of one sheet as its records stand at `at`, the instant of the last record that touched it. */
export async function refreshSheet(tx: Tx, project: Project, id: string, at: Instant, common?: Common): Promise<Sheet> {
  const sheet = await loadSheet(tx, project, id, at, common);
  const points = sheet.lines.flatMap((line) => {
    const status = sheet.folded.get(line.line);
    if (!status) return [];
    const since = sheet.history.events.findLast((event) => event.line === line.line)?.at ?? null;
    return [{ line: line.line, state: status.state, attempt: status.attempt, mayBegin: status.mayBegin, since, holdsUntil: status.holdsUntil }];
  });
  const pile = sheet.pile && {
    state: pileState([...sheet.folded.values()], (await listAcceptances(tx, project.id, sheet.pile.id)).at(-1)?.seq ?? 0),
    startedAt: firstWork(sheet),
    holdsUntil: earliest(points.map(({ holdsUntil }) => holdsUntil)),
  };
  await saveProjection(tx, project.id, id, points, pile);
  return sheet;
}

/** Writes the projection of piles that nothing was done at yet. Those of one type without overrides of their own stand alike. */
export async function projectNewPiles(tx: Tx, project: Project, piles: readonly Pile[], at: Instant): Promise<void> {
  const common = await loadCommon(tx, project);
  const alike = new Map<string, Sheet>();
  const rows = piles.flatMap((pile) => {
    const plain = pile.overrides.length === 0 ? alike.get(pile.type) : undefined;
    const sheet = plain ?? pileSheet(project, pile, common, { history: NO_HISTORY, readings: [] }, at);
    if (pile.overrides.length === 0) alike.set(pile.type, sheet);
    return [...sheet.folded.values()].map(({ line, state, attempt, mayBegin }) => ({ sheet: pile.id, line, state, attempt, mayBegin }));
  });
  await addPointRows(tx, project.id, rows);
}

/** Refreshes what a record at a point touches: its pile, or everything where it is a point of the project sheet. */
export async function refreshAfter(tx: Tx, project: Project, sheet: Pick<Sheet, "id" | "pile">, at: Instant): Promise<void> {
  if (sheet.pile) await refreshSheet(tx, project, sheet.id, at);
  else await refreshProject(tx, project, at);
}

/** Refreshes the project sheet and every pile: its points and registers stand under all of them. */
export async function refreshProject(tx: Tx, project: Project, at: Instant): Promise<void> {
  const common = await loadCommon(tx, project);
  if (common.revisions.length === 0) return;
  await refreshSheet(tx, project, project.id, at, common);
  for (const pile of await listPiles(tx, project.id)) await refreshSheet(tx, project, pile.id, at, common);
}

function firstWork({ history }: Sheet): Instant | null {
  const first = history.events.find(({ type }) => type === "submitted");
  return first?.type === "submitted" ? first.workBegan : null;
}

function earliest(instants: readonly (Instant | null)[]): Instant | null {
  const known = instants.filter((one): one is Instant => one !== null);
  return known.length > 0 ? Math.min(...known) : null;
}
