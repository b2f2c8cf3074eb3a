"use server";

import { z } from "zod";
import { formAsking } from "#lib/edge/page";
import type { FormState } from "#lib/edge/form-state";
import { answerLikeness } from "#lib/services/answer-likeness";
import { answerForm, readForm, showAgain } from "../../../../form-input";

const ANSWERS = { earlier: "same, belongs to the other", later: "same, belongs to this", two: "two pictures", cannot: "cannot tell" } as const;

const LikenessForm = z.object({
  id: z.uuid(),
  answer: z.enum(["earlier", "later", "two", "cannot"], "Choose an answer."),
  words: z.string().max(2_000, "At most 2,000 characters."),
});

/** Keeps what a decision maker says of two photos. The later photo is the one that the answer is about. */
export async function answer(project: string, shown: string, later: string, earlier: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "answer likeness");
    const { id, answer: chosen, words } = readForm(LikenessForm, form);
    await answerLikeness(asking, { id, photoId: later, otherId: earlier, answer: ANSWERS[chosen], words });
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/photos/${encodeURIComponent(shown)}/beside/${encodeURIComponent(shown === later ? earlier : later)}`);
}
