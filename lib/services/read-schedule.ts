import { randomUUID } from "node:crypto";
import { requirementSet, revisionInForce } from "#lib/domain/plan/plan";
import { DomainError, type Fault } from "#lib/domain/refusal";
import type { RequirementSet } from "#lib/domain/requirement/set";
import { applyAnswers, type ImportRun, type SchedulePile } from "#lib/domain/schedule/apply-answers";
import { compareSchedule, type ScheduleDifference } from "#lib/domain/schedule/compare";
import { typeWords } from "#lib/domain/schedule/data-row";
import type { GridReading } from "#lib/domain/schedule/grid";
import { columnOf, mappingFaults, toRemember, type Mapping, type MappingFault } from "#lib/domain/schedule/mapping";
import { proposeMapping } from "#lib/domain/schedule/propose";
import { readRows } from "#lib/domain/schedule/read-rows";
import type { ReadRow } from "#lib/domain/schedule/row";
import { MOST_BYTES, readGrid, readPaste } from "#lib/schedule-file/read-grid";
import type { Tx } from "#lib/db/client";
import { listPiles } from "#lib/db/pile";
import { listRevisions, type Project } from "#lib/db/project";
import { beginScheduleDraft, changeScheduleDraft, dropScheduleDraft, findScheduleDraft, listColumnMemory, rememberColumns, type ScheduleDraft } from "#lib/db/schedule-draft";
import { sha256 } from "#lib/records/canonical";
import type { PileFacts } from "#lib/records/kind";
import { inProject, requireMember, type Asking } from "#lib/services/ask";
import { factsOf, importSchedule } from "#lib/services/import-schedule";

/** Farther than so many radii from the middle of the site is another site. */
const FAR_RADII = 20;
/** Longest title of a schedule: it stands as the drawing of the overrides that name none. */
const TITLE = 120;

/** Takes a schedule's file whole, before anything of it is read. A body longer than the limit is refused on the way. */
export async function receiveSchedule(asking: Asking, { fileName, stream, declaredLength, sheet }: { fileName: string; stream: AsyncIterable<Uint8Array>; declaredLength?: number; sheet: string | null }): Promise<void> {
  await requireMember(asking.house.db.read, asking, "import piles");
  const tooLarge = new DomainError("invalid", `The file is larger than ${MOST_BYTES / 1024 ** 2} MB. Send the sheet with the piles only.`);
  if ((declaredLength ?? 0) > MOST_BYTES) throw tooLarge;
  const chunks: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of stream) {
    length += chunk.byteLength;
    if (length > MOST_BYTES) throw tooLarge;
    chunks.push(chunk);
  }
  const bytes = Buffer.concat(chunks);
  await begin(asking, fileName.slice(-TITLE) || "Schedule", bytes, readGrid(bytes, fileName, sheet));
}

/** Takes cells that were copied out of a spreadsheet. */
export async function pasteSchedule(asking: Asking, text: string): Promise<void> {
  await begin(asking, "Pasted schedule", Buffer.from(text), readPaste(text));
}

async function begin(asking: Asking, title: string, bytes: Uint8Array, reading: GridReading): Promise<void> {
  if (!reading.ok) throw new DomainError("invalid", reading.message);
  const { grid } = reading;
  await inProject(asking, "import piles", async (tx, { personId }, at) => {
    const sets = await setsInForce(tx, asking.project, at);
    const mapping = proposeMapping(grid, await listColumnMemory(tx, asking.project.id), sets);
    await beginScheduleDraft(tx, { projectId: asking.project.id, personId }, { id: randomUUID(), title, sha256: sha256(bytes), grid, mapping }, at);
  });
}

/** Keeps what the columns are. Faults do not stop it: they are shown at their columns until they are mended. */
export async function mapSchedule(asking: Asking, mapping: Mapping): Promise<void> {
  await withDraft(asking, async (tx, draft, at) => {
    if (mapping.columns.length !== draft.grid.columns.length) throw new DomainError("conflict", "Another file is being read meanwhile. Load the page again.");
    await changeScheduleDraft(tx, draft.id, { mapping }, at);
  });
}

/** Keeps answers to questions; an empty one takes an answer back. */
export async function answerSchedule(asking: Asking, answers: Readonly<Record<string, string>>): Promise<void> {
  await withDraft(asking, async (tx, draft, at) => {
    const next = Object.fromEntries(Object.entries({ ...draft.answers, ...answers }).filter(([, answer]) => answer !== ""));
    await changeScheduleDraft(tx, draft.id, { answers: next }, at);
  });
}

/** Lets go of the schedule that the person was reading; nothing of it was written. */
export async function dropSchedule(asking: Asking): Promise<void> {
  await inProject(asking, "import piles", (tx, { personId }) => dropScheduleDraft(tx, { projectId: asking.project.id, personId }));
}

export interface CommitInput {
  /** Rows that need a person are left aside, and the rest is brought in. */
  withoutAside: boolean;
  changeOrder: string | null;
  /** What happens to piles that the schedule does not name; null where it names all. */
  missing: "take out" | "leave" | null;
  /** Whether a pile removed and one added at its place are one under a new mark; null where there is none. */
  renumbered: "one pile" | "two piles" | null;
  words: string;
}

/** Brings in what was read, once and whole, and remembers what the columns were. */
export async function commitSchedule(asking: Asking, input: CommitInput): Promise<{ added: number; changed: number; removed: number }> {
  const { house, project } = asking;
  const reading = await readingOf(house.db.read, asking, await house.now(project));
  if (!reading?.run || !reading.difference) throw new DomainError("blocked", "Say first what every column is.");
  const { draft, run, difference } = reading;
  const faults = commitFaults(input, reading.run, difference, reading.missing);
  if (faults.length > 0) throw new DomainError("invalid", faults.length === 1 ? "1 thing stops the schedule." : `${faults.length} things stop the schedule.`, faults);

  const moved = input.renumbered === "one pile" ? difference.renumbered : [];
  const movedNow = new Set(moved.map(({ now }) => now.mark));
  const movedWas = new Set(moved.map(({ was }) => was.id));
  const added = difference.added.filter(({ mark }) => !movedNow.has(mark)).map((pile) => ({ id: randomUUID(), ...pile }));
  const changed = [...difference.changed, ...moved].map(({ was, now }) => ({ pileId: was.id, now: factsAlone(now) }));
  const removed = input.missing === "take out" ? reading.missing.filter(({ id }) => !movedWas.has(id)).map(({ id }) => ({ pileId: id, words: input.words.trim() || `Not on ${draft.title}.` })) : [];
  await importSchedule(asking, {
    id: draft.id, title: draft.title, sha256: draft.sha256, rows: run.ready.length + run.aside.length + run.leftOut.length, changeOrder: input.changeOrder?.trim() || null, added, changed, removed, words: input.words.trim(),
  });
  await inProject(asking, "import piles", async (tx, { personId }) => {
    await rememberColumns(tx, project.id, toRemember(draft.grid, draft.mapping));
    await dropScheduleDraft(tx, { projectId: project.id, personId });
  });
  return { added: added.length, changed: changed.length, removed: removed.length };
}

function factsAlone({ bent, row, mark, type, latitude, longitude, overrides, drawn, words }: SchedulePile): PileFacts {
  return { bent, row, mark, type, latitude, longitude, overrides, drawn, words };
}

function commitFaults(input: CommitInput, run: ImportRun, difference: ScheduleDifference<StandingPile>, missing: readonly StandingPile[]): Fault[] {
  const open = run.aside.length;
  return [
    ...(run.stopped ? [{ field: "withoutAside", message: "An answer says that the file is wrong. Send the right one, or change the answer." }] : []),
    ...(open > 0 && !input.withoutAside ? [{ field: "withoutAside", message: `${open === 1 ? "1 row needs" : `${open} rows need`} you. Answer them, or bring in the others and keep these aside.` }] : []),
    ...(missing.length > 0 && input.missing === null ? [{ field: "missing", message: "Say what becomes of the piles that the schedule does not name." }] : []),
    ...(difference.renumbered.length > 0 && input.renumbered === null ? [{ field: "renumbered", message: "Say whether the piles with new marks are the old ones." }] : []),
    ...(difference.changed.length + (input.missing === "take out" ? missing.length : 0) > 0 && !input.changeOrder?.trim() ? [{ field: "changeOrder", message: "Give the number of the change order that changes or takes out piles." }] : []),
  ];
}

export type StandingPile = SchedulePile & { id: string };

export interface ScheduleReading {
  draft: ScheduleDraft;
  sets: readonly RequirementSet[];
  /** Words of the type column. */
  words: string[];
  faults: MappingFault[];
  /** Null while a column has a fault: nothing is read before. */
  rows: ReadRow[] | null;
  run: ImportRun | null;
  difference: ScheduleDifference<StandingPile> | null;
  /** Piles in scope that no row names, not even one that needs a person. */
  missing: StandingPile[];
}

/** The person's schedule read as far as it goes: with its faults, its questions, and what it would change. Null when there is none. */
export async function readingOf(tx: Tx, { project, personId }: Pick<Asking, "project" | "personId">, at: number): Promise<ScheduleReading | null> {
  const draft = await findScheduleDraft(tx, project.id, personId);
  if (!draft) return null;
  const { grid, mapping } = draft;
  const [sets, piles] = await Promise.all([setsInForce(tx, project, at), listPiles(tx, project.id)]);
  const words = typeWords(grid, mapping);
  const faults = mappingFaults(grid, mapping, words, sets);
  if (faults.length > 0) return { draft, sets, words, faults, rows: null, run: null, difference: null, missing: [] };
  const rows = readRows(grid, mapping);
  const { latitude, longitude, radiusM } = project.site;
  const run = applyAnswers(rows, draft.answers, { sets, site: { latitude, longitude, limitM: radiusM * FAR_RADII }, markColumn: columnOf(mapping, "mark") }, draft.title);
  const standing = piles.filter(({ scope }) => scope === "in").map((pile): StandingPile => ({ id: pile.id, ...factsOf(pile) }));
  const difference = compareSchedule(run.ready.map(({ pile }) => pile), standing, mapping, sets);
  const asideMarks = new Set(run.aside.map(({ mark }) => mark));
  return { draft, sets, words, faults, rows, run, difference, missing: difference.removed.filter(({ mark }) => !asideMarks.has(mark)) };
}

async function withDraft(asking: Asking, work: (tx: Tx, draft: ScheduleDraft, at: number) => Promise<void>): Promise<void> {
  await inProject(asking, "import piles", async (tx, { personId }, at) => {
    const draft = await findScheduleDraft(tx, asking.project.id, personId);
    if (!draft) throw new DomainError("conflict", "No schedule is being read. Send the file again.");
    await work(tx, draft, at);
  });
}

/** The requirement sets of the revision in force now. */
async function setsInForce(tx: Tx, project: Project, at: number): Promise<readonly RequirementSet[]> {
  const revisions = await listRevisions(tx, project.id);
  const revision = revisionInForce(revisions, at) ?? revisions[0];
  if (!revision) throw new DomainError("blocked", "No requirement revision is approved yet. The engineer approves one first, so that the rows can be read against it.");
  return revision.revision.sets.flatMap(({ type }) => requirementSet(revision.revision, type) ?? []);
}
