import { z } from "zod";
import { DomainError } from "#lib/domain/refusal";
import { canonicalText } from "#lib/db/json-text";
import { findDraft, saveDraft as save } from "#lib/db/draft";
import { inProject, type Asking } from "#lib/services/ask";
import { getLine, loadSheet } from "#lib/services/sheet";
import type { RawSubmission } from "#lib/services/submit-point";
import type { Tx } from "#lib/db/client";

/** Shape of what is being written at a point, as forms, drafts and the API know it. */
export const RawSubmissionSchema = z.strictObject({
  workBegan: z.string().max(40),
  workEnded: z.string().max(40),
  values: z
    .array(
      z.strictObject({
        quantity: z.string().max(40),
        item: z.int().min(1).max(200).nullable(),
        text: z.string().max(2_000),
        unit: z.string().max(12).nullable(),
        instrumentId: z.string().max(64).nullable(),
        unitConfirmed: z.boolean(),
        reason: z.string().max(2_000),
      }),
    )
    .max(500),
  lots: z.array(z.strictObject({ use: z.string().max(40), lotId: z.string().max(64) })).max(20),
  setAside: z.array(z.string().max(64)).max(500),
  words: z.string().max(2_000),
});

const EMPTY: RawSubmission = { workBegan: "", workEnded: "", values: [], lots: [], setAside: [], words: "" };

/** What this person last wrote at a point; empty where they wrote nothing. */
export async function loadDraft(tx: Tx, asking: Asking, sheet: string, line: string): Promise<RawSubmission & { savedAt: number | null }> {
  const draft = await findDraft(tx, { sheet, line, personId: asking.personId });
  const read = draft && RawSubmissionSchema.safeParse(JSON.parse(draft.body));
  return read?.success ? { ...read.data, savedAt: draft?.updatedAt ?? null } : { ...EMPTY, savedAt: null };
}

/** Keeps what is being written, so that a reload, a sign-out or an empty battery loses nothing. A draft is no record. */
export async function saveDraft(asking: Asking, { sheet: id, line, draft }: { sheet: string; line: string; draft: RawSubmission }): Promise<void> {
  await inProject(asking, "write draft", async (tx, member, at) => {
    const sheet = await loadSheet(tx, asking.project, id, at);
    if (getLine(sheet, line).line.notApplicable) throw new DomainError("blocked", `Point ${line} does not apply to this pile.`);
    await save(tx, { sheet: id, line, personId: member.personId }, canonicalText(RawSubmissionSchema.parse(draft)), at);
  });
}

