"use server";

import { redirect } from "next/navigation";
import { z } from "zod";
import { getPile } from "#lib/db/pile";
import { formAsking } from "#lib/edge/page";
import { refusalOf, type FormState } from "#lib/edge/form-state";
import { acceptPile } from "#lib/services/accept-pile";

const Text = z.string().max(2_000).catch("");
const AcceptForm = z.object({ project: Text, id: z.uuid().catch(() => crypto.randomUUID()), pileId: Text, words: Text, password: Text });

export async function accept(_before: FormState, form: FormData): Promise<FormState> {
  const input = AcceptForm.parse(Object.fromEntries(form));
  let back = "/p";
  const refusal = await refusalOf(async () => {
    const asking = await formAsking(input.project, "accept pile");
    await acceptPile(asking, input);
    const { mark } = await getPile(asking.house.db.read, asking.project.id, { id: input.pileId });
    back = `/p/${asking.project.code}/piles/${encodeURIComponent(mark)}`;
  });
  if (refusal) return { ...refusal, values: { words: input.words } };
  redirect(back);
}
