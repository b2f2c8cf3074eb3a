"use server";

import { z } from "zod";
import { issueCloseout } from "#lib/services/issue-closeout";
import type { FormState } from "#lib/edge/form-state";
import { formAsking } from "#lib/edge/page";
import { answerForm, readForm, showAgain } from "../form-input";

const IssueForm = z.object({ id: z.uuid(), kind: z.enum(["interim", "final"]) });

export async function issue(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "issue closeout");
    await issueCloseout(asking, readForm(IssueForm, form));
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/closeout`);
}
