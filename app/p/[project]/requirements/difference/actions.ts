"use server";

import { z } from "zod";
import { APPLIES } from "#lib/domain/plan/compose";
import type { FormState } from "#lib/edge/form-state";
import { formAsking } from "#lib/edge/page";
import { issueRevision, type ChangeAnswer } from "#lib/services/issue-revision";
import { answerForm, readForm, showAgain } from "../../form-input";

const Approval = z.object({
  id: z.uuid(),
  letter: z.string().regex(/^[A-Z]$/),
  impactDigest: z.string(),
  appliesFrom: z.string(),
  words: z.string().max(2_000, "At most 2000 characters."),
  password: z.string(),
});
const Applied = z.enum(APPLIES);

export async function approve(project: string, _before: FormState, form: FormData): Promise<FormState> {
  let letter = "";
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "approve revision");
    const input = readForm(Approval, form);
    letter = input.letter;
    await issueRevision(asking, { ...input, answers: answersOf(form) });
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/requirements/difference?to=${letter}`);
}

/** One answer of the form covers every line that changes with it: "T:12 T:15", the project sheet as ":P1". */
function answersOf(form: FormData): ChangeAnswer[] {
  return [...form].flatMap(([name, value]) => {
    const number = /^covers-(\d{1,3})$/.exec(name)?.[1];
    const applies = number === undefined ? null : Applied.safeParse(form.get(`answer-${number}`));
    if (!applies?.success) return [];
    return String(value).split(" ").map((place): ChangeAnswer => {
      const [type = "", line = ""] = place.split(":");
      return { type: type || null, line, applies: applies.data };
    });
  });
}
