"use server";

import { z } from "zod";
import { DomainError } from "#lib/domain/refusal";
import { formAsking } from "#lib/edge/page";
import { refusalOf, type FormState } from "#lib/edge/form-state";
import type { Asking } from "#lib/services/ask";
import { whenNear } from "#lib/services/clock-view";
import { entryView } from "#lib/services/entry-view";
import { RawSubmissionSchema, saveDraft } from "#lib/services/save-draft";
import { getLine, loadSheet, type Sheet } from "#lib/services/sheet";
import { submitPoint, type RawSubmission } from "#lib/services/submit-point";
import { withdrawSubmission } from "#lib/services/withdraw-submission";
import { showAgain } from "../../form-input";
import { amended, writingOf, SET_ASIDE } from "./fields";

const PointId = z.object({ project: z.string().max(40), sheet: z.string().max(64), line: z.string().max(4) });
export type PointId = z.infer<typeof PointId>;

const Text = z.string().max(2_000).catch("");
const SendForm = z.object({ id: z.uuid().catch(() => crypto.randomUUID()), intent: Text });
const WithdrawForm = z.object({ id: z.uuid().catch(() => crypto.randomUUID()), submissionId: Text, words: Text });

async function sheetOf(asking: Asking, id: string): Promise<Sheet> {
  return loadSheet(asking.house.db.read, asking.project, id, await asking.house.now(asking.project));
}

function pathOf({ project, pile }: Sheet, line: string): string {
  return pile ? `/p/${project.code}/piles/${encodeURIComponent(pile.mark)}/${line}` : `/p/${project.code}/sheet/${line}`;
}

/** Sends the entry, or does what the pressed button says and keeps the draft. What was typed is kept before it is sent. */
export async function sendEntry(_before: FormState, form: FormData): Promise<FormState> {
  const { project, sheet: sheetId, line: lineId } = PointId.parse(Object.fromEntries(form));
  const { id, intent } = SendForm.parse(Object.fromEntries(form));
  let back = "/p";
  const refusal = await refusalOf(async () => {
    const asking = await formAsking(project, "write draft");
    const sheet = await sheetOf(asking, sheetId);
    const { line } = getLine(sheet, lineId);
    const fields = Object.fromEntries([...form].flatMap(([name, value]) => (typeof value === "string" ? [[name, value]] : [])));
    let draft = writingOf(line, fields, form.getAll(SET_ASIDE).map(String));
    back = pathOf(sheet, lineId);
    if (intent === "proposal" || intent === "times" || intent === "weather") {
      await saveDraft(asking, { sheet: sheetId, line: lineId, draft: checked(draft) });
      draft = amended(line, draft, intent, await entryView(asking.house.db.read, asking, sheet, lineId, asking.member));
    } else if (intent) {
      draft = amended(line, draft, intent, null);
    }
    await saveDraft(asking, { sheet: sheetId, line: lineId, draft: checked(draft) });
    if (!intent) await submitPoint(asking, { id, sheet: sheetId, line: lineId, ...draft });
  });
  if (refusal) return refusal;
  showAgain(intent ? back : `${back}?sent`);
}

export type Kept = { ok: true; at: string } | { ok: false; message: string };

/** Keeps what is being written, while it is being written. */
export async function keepDraft(point: PointId, writing: RawSubmission): Promise<Kept> {
  const { project, sheet, line } = PointId.parse(point);
  let at = "";
  const refusal = await refusalOf(async () => {
    const asking = await formAsking(project, "write draft");
    await saveDraft(asking, { sheet, line, draft: checked(writing) });
    const now = await asking.house.now(asking.project);
    at = whenNear(now, asking.project.zone, now);
  });
  return refusal ? { ok: false, message: refusal.message } : { ok: true, at };
}

function checked(writing: RawSubmission): RawSubmission {
  const read = RawSubmissionSchema.safeParse(writing);
  if (!read.success) throw new DomainError("invalid", "Something is too long to be kept. Shorten it and try again.");
  return read.data;
}

/** Takes a submission back with its reason, while nobody has decided it. */
export async function withdraw(_before: FormState, form: FormData): Promise<FormState> {
  const { project, sheet: sheetId, line } = PointId.parse(Object.fromEntries(form));
  const input = WithdrawForm.parse(Object.fromEntries(form));
  let back = "/p";
  const refusal = await refusalOf(async () => {
    const asking = await formAsking(project, "withdraw submission");
    await withdrawSubmission(asking, { ...input, sheet: sheetId, line });
    back = pathOf(await sheetOf(asking, sheetId), line);
  });
  if (refusal) return { ...refusal, values: { words: input.words } };
  showAgain(back);
}
