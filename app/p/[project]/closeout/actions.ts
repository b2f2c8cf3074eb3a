"use server";

import { z } from "zod";
import { getPile } from "#lib/db/pile";
import { acceptPile } from "#lib/services/accept-pile";
import { issueCloseout } from "#lib/services/issue-closeout";
import type { FormState } from "#lib/edge/form-state";
import { formAsking } from "#lib/edge/page";
import { answerForm, readForm, showAgain } from "../materials/form-input";

const IssueForm = z.object({ id: z.uuid(), kind: z.enum(["interim", "final"]) });

export async function issue(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "issue closeout");
    await issueCloseout(asking, readForm(IssueForm, form));
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/closeout`);
}

const AcceptForm = z.object({
  id: z.uuid(),
  mark: z.string("Choose the pile.").min(1, "Choose the pile."),
  words: z.string().max(2_000, "At most 2000 characters."),
  password: z.string().max(1_000),
});

export async function accept(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "accept pile");
    const { id, mark, words, password } = readForm(AcceptForm, form);
    const pile = await getPile(asking.house.db.read, asking.project.id, { mark });
    await acceptPile(asking, { id, pileId: pile.id, words, password });
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/closeout`);
}
