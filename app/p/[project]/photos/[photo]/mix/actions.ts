"use server";

import { z } from "zod";
import { formAsking } from "#lib/edge/page";
import type { FormState } from "#lib/edge/form-state";
import { AreaFields } from "#lib/edge/schema/photo";
import { checkStreaks } from "#lib/services/check-streaks";
import { answerForm, readForm, showAgain } from "../../../form-input";

const CheckForm = AreaFields.extend({ id: z.uuid() });

/** Keeps where the person marked the mix, with what is measured there. */
export async function keep(project: string, photo: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "check streaks");
    const { id, ...area } = readForm(CheckForm, form);
    await checkStreaks(asking, { id, photoId: photo, area });
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/photos/${encodeURIComponent(photo)}/mix`);
}
