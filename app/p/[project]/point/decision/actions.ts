"use server";

import { z } from "zod";
import { OUTCOMES, REASON_CODES, SEEN_AS, type ReasonCode } from "#lib/domain/point/history";
import { DomainError } from "#lib/domain/refusal";
import { AnswerSchema, FLAG_ANSWERS, type Answer } from "#lib/records/kind";
import { checkSubmission } from "#lib/services/check-submission";
import { decidePoint } from "#lib/services/decide-point";
import { refusalOf, type FormState } from "#lib/edge/form-state";
import { formAsking } from "#lib/edge/page";
import { showAgain } from "../../form-input";

/** Which point the form stands at; bound to the action when the page is drawn. */
export interface PointPlace {
  project: string;
  sheet: string;
  line: string;
  href: string;
}

const Codes = z.array(z.enum(Object.keys(REASON_CODES) as [ReasonCode, ...ReasonCode[]]));
const Common = { id: z.uuid(), submissionId: z.string().min(1), codes: Codes, words: z.string().max(2_000) };

const DecideForm = z.object({
  ...Common,
  outcome: z.enum(OUTCOMES),
  seenAs: z.enum(SEEN_AS, "Say how you saw it."),
  observedOn: z.iso.date("Say on which day you looked."),
  password: z.string().max(1_000),
});

const CheckForm = z.object({ ...Common, outcome: z.enum(["checked", "sent back"]) });

/** Releases, rejects or reopens the point, and shows it as it then stands. */
export async function decide(place: PointPlace, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await refusalOf(async () => {
    const asking = await formAsking(place.project, "decide point");
    const day = text(form, "observed");
    const input = parsed(DecideForm, {
      id: text(form, "id"),
      submissionId: text(form, "submissionId"),
      outcome: text(form, "outcome"),
      seenAs: text(form, "seenAs"),
      observedOn: day === "other" ? text(form, "observedOn") : day,
      codes: form.getAll("codes"),
      words: text(form, "words"),
      password: text(form, "password"),
    });
    await decidePoint(asking, { sheet: place.sheet, line: place.line, ...input, answers: answersOf(form) });
  });
  if (refusal) return { ...refusal, values: valuesOf(form) };
  showAgain(place.href);
}

/** The QC manager's own check, or the return to the crew. */
export async function check(place: PointPlace, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await refusalOf(async () => {
    const asking = await formAsking(place.project, "check submission");
    const input = parsed(CheckForm, {
      id: text(form, "id"),
      submissionId: text(form, "submissionId"),
      outcome: text(form, "outcome"),
      codes: form.getAll("codes"),
      words: text(form, "words"),
    });
    await checkSubmission(asking, { sheet: place.sheet, line: place.line, ...input });
  });
  if (refusal) return { ...refusal, values: valuesOf(form) };
  showAgain(place.href);
}

function text(form: FormData, name: string): string {
  const value = form.get(name);
  return typeof value === "string" ? value : "";
}

function parsed<T>(schema: z.ZodType<T>, input: unknown): T {
  const result = schema.safeParse(input);
  if (result.success) return result.data;
  const faults = result.error.issues.map(({ path, message }) => ({ field: String(path[0] ?? ""), message }));
  throw new DomainError("invalid", faults.length === 1 ? "1 thing is missing." : `${faults.length} things are missing.`, faults);
}

const Items = z.array(z.object({ photo: z.string().nullable(), code: z.string() }));

/** The answer of a group serves each of its photos that has none of its own. */
function answersOf(form: FormData): Answer[] {
  return form.getAll("flag").flatMap((number) => {
    const key = String(number);
    const items = Items.safeParse(jsonOf(text(form, `flag.${key}`)));
    if (!items.success) return [];
    return items.data.flatMap(({ photo, code }, index): Answer[] => {
      const answer = z.enum(FLAG_ANSWERS).safeParse(text(form, `answer.${key}.${index}`) || text(form, `answer.${key}`));
      const given = AnswerSchema.safeParse({ photo, code, answer: answer.data, words: text(form, `answerWords.${key}`).trim() });
      return given.success ? [given.data] : [];
    });
  });
}

function jsonOf(written: string): unknown {
  try {
    return JSON.parse(written);
  } catch {
    return null;
  }
}

/** What was typed, for the form to show again; the password is typed again. */
function valuesOf(form: FormData): Record<string, string> {
  const kept = [...form.keys()].filter((name) => name !== "password" && name !== "id" && !name.startsWith("$") && !name.startsWith("flag"));
  return Object.fromEntries([...new Set(kept)].map((name) => [name, form.getAll(name).map(String).join(",")]));
}
