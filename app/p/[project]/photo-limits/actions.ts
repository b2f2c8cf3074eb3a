"use server";

import { formAsking } from "#lib/edge/page";
import type { FormState } from "#lib/edge/form-state";
import { PhotoLimitsForm } from "#lib/edge/schema/photo-limits";
import { setPhotoLimits } from "#lib/services/set-photo-limits";
import { answerForm, readForm, showAgain } from "../form-input";

/** Sets the limits for photos that are received from here on. */
export async function setLimits(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "set photo limits");
    await setPhotoLimits(asking, readForm(PhotoLimitsForm, form));
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/photo-limits`);
}
