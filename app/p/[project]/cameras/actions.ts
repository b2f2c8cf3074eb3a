"use server";

import { z } from "zod";
import { formAsking } from "#lib/edge/page";
import type { FormState } from "#lib/edge/form-state";
import { confirmCameraClock } from "#lib/services/confirm-camera-clock";
import { answerForm, readForm, showAgain } from "../form-input";
import { cameraHref } from "./camera-href";

const ClockForm = z.object({
  id: z.uuid(),
  seen: z.string().regex(/^\d{1,12}$/, "Load the page again.").transform(Number),
  words: z.string().max(2_000, "At most 2,000 characters."),
});

/** The QC manager confirms how the clock of a camera ran. */
export async function confirmClock(project: string, camera: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "confirm camera");
    await confirmCameraClock(asking, { ...readForm(ClockForm, form), camera });
  });
  if (refusal) return refusal;
  showAgain(cameraHref(project, camera));
}
