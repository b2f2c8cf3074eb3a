"use server";

import { z } from "zod";
import { getPile } from "#lib/db/pile";
import { acceptPile } from "#lib/services/accept-pile";
import type { FormState } from "#lib/edge/form-state";
import { formAsking } from "#lib/edge/page";
import { answerForm, readForm, showAgain } from "./form-input";

const AcceptForm = z.object({
  id: z.uuid(),
  mark: z.string("Choose the pile.").min(1, "Choose the pile."),
  words: z.string().max(2_000, "At most 2000 characters."),
  password: z.string().max(1_000),
});

/** The owner accepts a pile, from its own sheet or from the closeout sheet. */
export async function accept(project: string, back: "pile" | "closeout", _before: FormState, form: FormData): Promise<FormState> {
  let path = `/p/${project}/closeout`;
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "accept pile");
    const { id, mark, words, password } = readForm(AcceptForm, form);
    const pile = await getPile(asking.house.db.read, asking.project.id, { mark });
    await acceptPile(asking, { id, pileId: pile.id, words, password });
    if (back === "pile") path = `/p/${project}/piles/${encodeURIComponent(pile.mark)}`;
  });
  if (refusal) return refusal;
  showAgain(path);
}
