"use server";

import { headers } from "next/headers";
import { redirect } from "next/navigation";
import { house } from "#lib/services/house";
import { signIn } from "#lib/services/sign-in";
import { refusalOf, type FormState } from "#lib/edge/form-state";
import { ownPath } from "#lib/edge/page";
import { requireSameOrigin } from "#lib/edge/same-origin";
import { SignInForm } from "#lib/edge/schema/session";
import { endSession, keepSession } from "#lib/edge/session";
import { keepTheme, THEMES } from "#lib/edge/theme";

export async function enter(_before: FormState, form: FormData): Promise<FormState> {
  const asked = await headers();
  const input = SignInForm.parse(Object.fromEntries(form));
  const refusal = await refusalOf(async () => {
    requireSameOrigin(asked);
    await keepSession(await signIn(house(), { ...input, agent: asked.get("user-agent") ?? "" }));
  });
  if (refusal) return { ...refusal, values: { signIn: input.signIn } };
  redirect(ownPath(input.next) ?? "/p");
}

export async function leave(): Promise<void> {
  requireSameOrigin(await headers());
  await endSession();
  redirect("/sign-in");
}

/** Day or night on this device. The page that was open is drawn again. */
export async function chooseTheme(form: FormData): Promise<void> {
  const asked = await headers();
  requireSameOrigin(asked);
  await keepTheme(THEMES.find((theme) => theme === form.get("theme")) ?? null);
  redirect(ownPath(asked.get("x-asked-for")) ?? "/p");
}
