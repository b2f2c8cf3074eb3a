import type { Instant } from "#lib/domain/instant";
import { GridSchema, type Grid } from "#lib/domain/schedule/grid";
import { MappingSchema, RememberedSchema, type Mapping, type Remembered } from "#lib/domain/schedule/mapping";
import type { Tx } from "#lib/db/client";

/** A schedule that one person is reading: its cells, what its columns are, and the answers given so far. */
export interface ScheduleDraft {
  id: string;
  title: string;
  sha256: string;
  grid: Grid;
  mapping: Mapping;
  /** Question to the answer that was chosen. */
  answers: Record<string, string>;
  updatedAt: Instant;
}

/** The person's own schedule in a project; one at a time. */
export async function findScheduleDraft(tx: Tx, projectId: string, personId: string): Promise<ScheduleDraft | null> {
  const row = await tx.scheduleDraft.findFirst({ where: { projectId, personId }, orderBy: { updatedAt: "desc" } });
  if (!row) return null;
  return {
    id: row.id, title: row.title, sha256: row.sha256, grid: GridSchema.parse(JSON.parse(row.grid)), mapping: MappingSchema.parse(JSON.parse(row.mapping)),
    answers: JSON.parse(row.answers) as Record<string, string>, updatedAt: row.updatedAt.getTime(),
  };
}

/** Puts a schedule in the place of the one that the person was reading. */
export async function beginScheduleDraft(tx: Tx, owner: { projectId: string; personId: string }, draft: Omit<ScheduleDraft, "updatedAt" | "answers">, at: Instant): Promise<void> {
  await tx.scheduleDraft.deleteMany({ where: owner });
  const { id, title, sha256, grid, mapping } = draft;
  await tx.scheduleDraft.create({ data: { ...owner, id, title, sha256, grid: JSON.stringify(grid), mapping: JSON.stringify(mapping), answers: "{}", updatedAt: new Date(at) } });
}

export async function changeScheduleDraft(tx: Tx, id: string, change: { mapping?: Mapping; answers?: Record<string, string> }, at: Instant): Promise<void> {
  const { mapping, answers } = change;
  await tx.scheduleDraft.update({
    where: { id },
    data: { updatedAt: new Date(at), ...(mapping ? { mapping: JSON.stringify(mapping) } : {}), ...(answers ? { answers: JSON.stringify(answers) } : {}) },
  });
}

export async function dropScheduleDraft(tx: Tx, owner: { projectId: string; personId: string }): Promise<void> {
  await tx.scheduleDraft.deleteMany({ where: owner });
}

/** What columns of a project's schedules were before, by their header. */
export async function listColumnMemory(tx: Tx, projectId: string): Promise<Record<string, Remembered>> {
  const rows = await tx.columnMemory.findMany({ where: { projectId } });
  return Object.fromEntries(
    rows.flatMap(({ header, body }) => {
      const read = RememberedSchema.safeParse(JSON.parse(body));
      return read.success ? [[header, read.data]] : [];
    }),
  );
}

export async function rememberColumns(tx: Tx, projectId: string, columns: Readonly<Record<string, Remembered>>): Promise<void> {
  for (const [header, remembered] of Object.entries(columns)) {
    const body = JSON.stringify(remembered);
    await tx.columnMemory.upsert({ where: { projectId_header: { projectId, header } }, create: { projectId, header, body }, update: { body } });
  }
}
