import { differenceOf } from "#lib/domain/requirement/difference";
import { DomainError, type Fault } from "#lib/domain/refusal";
import { readRevisionText } from "#lib/domain/requirement/revision-file";
import type { FormState } from "#lib/edge/form-state";
import type { Asking } from "#lib/services/ask";
import { latestRevision } from "#lib/services/issue-revision";
import { draftLetter, importDraft } from "#lib/services/revision-draft";

/** What a file held, or what stops it from being taken. */
export interface FileState {
  refusal: FormState;
  read: { letter: string; writtenAs: string | null; title: string; types: { type: string; name: string; points: number; quantities: number }[]; changes: number | null; base: string | null; kept: boolean } | null;
  text: string;
}

/** A revision's text is larger than a form's words, and still no file to be streamed. */
const LONGEST = 1024 * 1024;

export async function readRevisionFile(asking: Asking, seen: string | null, form: FormData): Promise<FileState> {
  const file = form.get("file");
  const text = file instanceof File && file.size > 0 ? await file.text() : String(form.get("text") ?? "");
  if (text.length > LONGEST) throw new DomainError("invalid", "The file is larger than 1 MB: it is no revision.", []);
  const tx = asking.house.db.read;
  const letter = await draftLetter(tx, asking.project.id);
  const found = readRevisionText(text, letter);
  if ("faults" in found) return { refusal: { message: stops(found.faults), faults: found.faults.map(shown) }, read: null, text };
  const kept = form.get("intent") === "keep";
  if (kept) await importDraft(asking, found.revision, seen);
  const latest = await latestRevision(tx, asking.project.id);
  const { title, sets } = found.revision;
  return {
    refusal: null, text,
    read: {
      letter, writtenAs: found.writtenAs, title, kept, base: latest?.letter ?? null,
      types: sets.map(({ type, name, lines }) => ({ type, name, points: lines.length, quantities: lines.reduce((sum, line) => sum + line.quantities.length, 0) })),
      changes: latest && differenceOf(latest.revision, found.revision).changes.length,
    },
  };
}

function stops(faults: readonly Fault[]): string {
  return faults.length === 1 ? "1 thing stops this file. Nothing was kept." : `${faults.length} things stop this file. Nothing was kept.`;
}

/** The path stands in the words, since the file has no fields to lead to. */
function shown({ field, message }: Fault): Fault {
  return { field: "text", message: field ? `${field}: ${message}` : message };
}
