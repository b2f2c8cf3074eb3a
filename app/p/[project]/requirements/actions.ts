"use server";

import { z } from "zod";
import { DomainError } from "#lib/domain/refusal";
import type { Values } from "#lib/domain/requirement/draft-quantity";
import { POINT_KINDS } from "#lib/domain/point/state";
import { addCustomPoint, addType, discardDraft, removeCustomPoint, removeQuantity, saveLine, saveQuantity, saveTitle, saveType, startDraft } from "#lib/services/revision-draft";
import { reviewRevision } from "#lib/services/review-revision";
import type { FormState } from "#lib/edge/form-state";
import { formAsking } from "#lib/edge/page";
import { answerForm, readForm, showAgain } from "../form-input";
import { readRevisionFile, type FileState } from "./read-file";
import { factsOf, TypeFactsForm } from "./type-facts";

/** A place in the requirements of a project: where a form leads back to. */
export interface At {
  project: string;
  /** Of the draft as the person saw it. */
  digest: string;
}

/** Every field as one text: what may be chosen more than once is a list with commas. */
function textsOf(form: FormData): Values {
  const names = new Set([...form.keys()].filter((name) => !name.startsWith("$")));
  return Object.fromEntries([...names].map((name) => [name, form.getAll(name).filter((one) => typeof one === "string").join(", ")]));
}

/** Does the work of a form; what was typed comes back whole when it is refused. */
async function answer(form: FormData, work: () => Promise<unknown>): Promise<FormState> {
  const refusal = await answerForm(form, work);
  return refusal && { ...refusal, values: textsOf(form) };
}

const sheet = ({ project }: At): string => `/p/${project}/requirements`;

export async function start(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answer(form, async () => {
    const asking = await formAsking(project, "draft revision");
    await startDraft(asking, { kind: "approved" });
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/requirements`);
}

const BareForm = TypeFactsForm.extend({ title: z.string().trim().min(1, "Say what the revision is for.").max(400) });

export async function startBare(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answer(form, async () => {
    const asking = await formAsking(project, "draft revision");
    const { title, ...facts } = readForm(BareForm, form);
    await startDraft(asking, { kind: "bare", title, facts: factsOf(facts) });
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/requirements`);
}

export async function keepQuantity(at: At & { line: string; id: string | null; types: string[] }, _before: FormState, form: FormData): Promise<FormState> {
  const values = textsOf(form);
  const refusal = await answer(form, async () => {
    const asking = await formAsking(at.project, "draft revision");
    const types = at.id === null ? form.getAll("types").map(String) : at.types;
    await saveQuantity(asking, { digest: at.digest, line: at.line, id: at.id, types, values });
  });
  if (refusal) return refusal;
  showAgain(`${sheet(at)}/${at.line}?kept=${at.id ?? "new"}`);
}

export async function takeQuantityOut(at: At & { line: string; id: string; types: string[] }, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answer(form, async () => {
    const asking = await formAsking(at.project, "draft revision");
    await removeQuantity(asking, { digest: at.digest, line: at.line, types: at.types, quantity: at.id });
  });
  if (refusal) return refusal;
  showAgain(`${sheet(at)}/${at.line}`);
}

export async function keepLine(at: At & { line: string }, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answer(form, async () => {
    const asking = await formAsking(at.project, "draft revision");
    await saveLine(asking, { digest: at.digest, line: at.line, values: textsOf(form) });
  });
  if (refusal) return refusal;
  showAgain(`${sheet(at)}/${at.line}?kept=point`);
}

const NewPointForm = z.object({
  name: z.string().trim().min(1, "Give the point a name.").max(400),
  kind: z.enum(POINT_KINDS, "Choose the kind."),
  waitedFor: z.enum(["yes", "no"], "Say whether the next points wait for it."),
});

export async function addOnePoint(at: At & { after: string }, _before: FormState, form: FormData): Promise<FormState> {
  let line = at.after;
  const refusal = await answer(form, async () => {
    const asking = await formAsking(at.project, "draft revision");
    const { waitedFor, ...input } = readForm(NewPointForm, form);
    ({ line } = await addCustomPoint(asking, { ...input, digest: at.digest, after: at.after, types: form.getAll("types").map(String), waitedFor: waitedFor === "yes" }));
  });
  if (refusal) return refusal;
  showAgain(`${sheet(at)}/${line}`);
}

export async function takePointOut(at: At & { line: string }, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answer(form, async () => {
    const asking = await formAsking(at.project, "draft revision");
    await removeCustomPoint(asking, { digest: at.digest, line: at.line });
  });
  if (refusal) return refusal;
  showAgain(sheet(at));
}

export async function keepType(at: At & { type: string }, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answer(form, async () => {
    const asking = await formAsking(at.project, "draft revision");
    await saveType(asking, { digest: at.digest, type: at.type, values: textsOf(form) });
  });
  if (refusal) return refusal;
  showAgain(`${sheet(at)}/design?type=${at.type}&kept=design`);
}

export async function addOneType(at: At, _before: FormState, form: FormData): Promise<FormState> {
  let type = "";
  const refusal = await answer(form, async () => {
    const asking = await formAsking(at.project, "draft revision");
    const facts = factsOf(readForm(TypeFactsForm, form));
    ({ type } = facts);
    await addType(asking, { digest: at.digest, facts });
  });
  if (refusal) return refusal;
  showAgain(`${sheet(at)}/design?type=${type}`);
}

export async function keepTitle(at: At, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answer(form, async () => {
    const asking = await formAsking(at.project, "draft revision");
    await saveTitle(asking, { digest: at.digest, title: String(form.get("title") ?? "") });
  });
  if (refusal) return refusal;
  showAgain(`${sheet(at)}/design?kept=title`);
}

export async function discard(at: At, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answer(form, async () => {
    const asking = await formAsking(at.project, "draft revision");
    if (form.get("sure") !== "yes") throw new DomainError("invalid", "The draft is still there.", [{ field: "sure", message: "Say that it shall be discarded." }]);
    await discardDraft(asking, { digest: at.digest });
  });
  if (refusal) return refusal;
  showAgain(sheet(at));
}

const ReviewForm = z.object({ id: z.uuid(), outcome: z.enum(["reviewed", "sent back"], "Say whether it is reviewed or sent back."), words: z.string().max(2_000) });

export async function review(at: At, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answer(form, async () => {
    const asking = await formAsking(at.project, "review revision");
    await reviewRevision(asking, { ...readForm(ReviewForm, form), digest: at.digest });
  });
  if (refusal) return refusal;
  showAgain(sheet(at));
}

/** Reads a file of a revision and says what it holds; puts it into the draft's place only when that is asked for. */
export async function readFile(at: At, before: FileState, form: FormData): Promise<FileState> {
  let state: FileState = before;
  const refusal = await answer(form, async () => {
    const asking = await formAsking(at.project, "draft revision");
    state = await readRevisionFile(asking, at.digest || null, form);
  });
  if (refusal) return { refusal, read: null, text: String(form.get("text") ?? "") };
  if (state.read?.kept) showAgain(sheet(at));
  return state;
}
