"use server";

import { formAsking } from "#lib/edge/page";
import type { FormState } from "#lib/edge/form-state";
import { readCardForm } from "#lib/edge/schema/card-form";
import { cardView } from "#lib/services/card-view";
import { takeCardPhotos } from "#lib/services/take-card-photos";
import { answerForm, showAgain } from "../form-input";

/** Puts the photos of the card where the person said, and with the intent "proposed" the groups that are sure where they are proposed. */
export async function take(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "send photo");
    const { open } = await cardView(asking.house.db.read, asking, await asking.house.now(asking.project));
    await takeCardPhotos(asking, readCardForm(form, open));
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/card`);
}
