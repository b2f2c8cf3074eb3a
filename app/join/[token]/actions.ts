"use server";

import { headers } from "next/headers";
import { redirect } from "next/navigation";
import { acceptInvitation } from "#lib/services/invite-person";
import { house } from "#lib/services/house";
import { refusalOf, type FormState } from "#lib/edge/form-state";
import { requireSameOrigin } from "#lib/edge/same-origin";
import { JoinForm } from "#lib/edge/schema/session";
import { keepSession } from "#lib/edge/session";

export async function join(token: string, _before: FormState, form: FormData): Promise<FormState> {
  const asked = await headers();
  const input = JoinForm.parse(Object.fromEntries(form));
  const refusal = await refusalOf(async () => {
    requireSameOrigin(asked);
    await keepSession(await acceptInvitation(house(), token, { ...input, agent: asked.get("user-agent") ?? "" }));
  });
  if (refusal) return { ...refusal, values: { signIn: input.signIn } };
  redirect("/p");
}
