"use server";

import { randomUUID } from "node:crypto";
import { z } from "zod";
import { DomainError } from "#lib/domain/refusal";
import { COLUMN_UNITS, FIELDS, type ColumnUnit, type Field } from "#lib/domain/schedule/field";
import { MappingSchema, type ColumnMapping, type Mapping } from "#lib/domain/schedule/mapping";
import { findScheduleDraft } from "#lib/db/schedule-draft";
import type { FormState } from "#lib/edge/form-state";
import { formAsking } from "#lib/edge/page";
import { undoSchedule } from "#lib/services/import-schedule";
import { answerSchedule, commitSchedule, dropSchedule, mapSchedule, pasteSchedule } from "#lib/services/read-schedule";
import { answerForm, readForm, showAgain } from "../form-input";
import { fieldNames } from "./names";

const at = (project: string, step: string): string => `/p/${project}/import?step=${step}`;

export async function paste(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "import piles");
    await pasteSchedule(asking, String(form.get("text") ?? ""));
  });
  if (refusal) return refusal;
  showAgain(at(project, "columns"));
}

export async function drop(project: string): Promise<void> {
  await dropSchedule(await formAsking(project, "import piles"));
  showAgain(at(project, "file"));
}

export async function mapColumns(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "import piles");
    const draft = await findScheduleDraft(asking.house.db.read, asking.project.id, asking.personId);
    if (!draft) throw new DomainError("conflict", "No schedule is being read. Send the file again.");
    await mapSchedule(asking, readMapping(form, draft.grid.columns.length));
  });
  if (refusal) return refusal;
  showAgain(at(project, "rows"));
}

function readMapping(form: FormData, columns: number): Mapping {
  const text = (name: string): string => String(form.get(name) ?? "").trim();
  const whole = (name: string): number | null => (/^\d{1,6}$/.test(text(name)) ? Number(text(name)) : null);
  const usesGrid = Array.from({ length: columns }, (_, index) => text(fieldNames.field(index))).some((field) => field.startsWith("grid"));
  const mapping = {
    headerRow: whole("headerRow"),
    firstRow: whole("firstRow") ?? 1,
    columns: Array.from({ length: columns }, (_, index) => readColumn(text, index)),
    types: Object.fromEntries([...form.entries()].flatMap(([name, value]) => (name.startsWith(fieldNames.type("")) && value !== "" ? [[name.slice(fieldNames.type("").length), String(value)]] : []))),
    everyType: text("everyType") || null,
    grid: usesGrid ? { origin: { latitude: text("originLatitude"), longitude: text("originLongitude") }, bearingDeg: text("bearing"), unit: text("gridUnit") } : null,
    hiddenRows: text("hiddenRows") === "read" ? "read" : "leave out",
  };
  const read = MappingSchema.safeParse(mapping);
  if (read.success) return read.data;
  const faults = read.error.issues.map(({ path, message }) => (path[0] === "grid" ? { field: GRID_FIELDS[String(path.at(-1))] ?? "bearing", message: "Give the grid's origin and bearing as plain decimal numbers, such as 44.00012." } : { field: null, message }));
  throw new DomainError("invalid", "The columns cannot be kept as they are.", faults);
}

const GRID_FIELDS: Record<string, string> = { latitude: "originLatitude", longitude: "originLongitude", bearingDeg: "bearing", unit: "gridUnit" };

function readColumn(text: (name: string) => string, index: number): ColumnMapping {
  const chosen = text(fieldNames.field(index));
  const [, line, kind, id] = /^requirement\|([^|]+)\|(quantity|wait)\|(.+)$/.exec(chosen) ?? [];
  const field: Field = line ? "requirement" : (FIELDS.find((one) => one === chosen) ?? "leave out");
  const unit: ColumnUnit | null = COLUMN_UNITS.find((one) => one === text(fieldNames.unit(index))) ?? null;
  const comma = text(fieldNames.comma(index));
  return {
    field, unit,
    comma: comma === "decimal" || comma === "thousands" ? comma : null,
    requirement: line && id && (kind === "quantity" || kind === "wait") ? { line, kind, id } : null,
  };
}

export async function answerRows(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "import piles");
    const answers = [...form.entries()].flatMap(([name, value]) => (name.startsWith(fieldNames.answer("")) ? [[name.slice(fieldNames.answer("").length), String(value)] as const] : []));
    await answerSchedule(asking, Object.fromEntries(answers));
  });
  if (refusal) return refusal;
  showAgain(at(project, "rows"));
}

const Commit = z.object({
  withoutAside: z.literal("yes").optional(),
  changeOrder: z.string().trim().max(60, "At most 60 characters.").optional(),
  missing: z.enum(["take out", "leave"]).optional(),
  renumbered: z.enum(["one pile", "two piles"]).optional(),
  words: z.string().trim().max(1_800, "At most 1,800 characters.").optional(),
});

export async function commit(project: string, _before: FormState, form: FormData): Promise<FormState> {
  let done = { added: 0, changed: 0, removed: 0 };
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "import piles");
    const input = readForm(Commit, form);
    done = await commitSchedule(asking, {
      withoutAside: input.withoutAside === "yes", changeOrder: input.changeOrder || null, missing: input.missing ?? null, renumbered: input.renumbered ?? null, words: input.words ?? "",
    });
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/import?done=${done.added}-${done.changed}-${done.removed}`);
}

const Undo = z.object({ words: z.string().trim().min(1, "Say why it is taken back.").max(1_800, "At most 1,800 characters.") });

export async function undo(project: string, scheduleId: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "import piles");
    await undoSchedule(asking, { id: randomUUID(), scheduleId, words: readForm(Undo, form).words });
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/import`);
}
