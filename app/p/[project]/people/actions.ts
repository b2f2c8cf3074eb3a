"use server";

import { z } from "zod";
import { ROLES } from "#lib/domain/requirement/set";
import { invitePerson } from "#lib/services/invite-person";
import { recordQualification } from "#lib/services/keep-register";
import type { FormState } from "#lib/edge/form-state";
import { formAsking } from "#lib/edge/page";
import { answerForm, readForm, showAgain } from "../form-input";

const QualificationForm = z.object({
  id: z.uuid(),
  personId: z.string().min(1, "Choose the person."),
  certificate: z.string().trim().min(1, "Give the certificate, with its number.").max(400),
  expiresOn: z.iso.date("Give the day on which it ends."),
});

export async function addQualification(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "keep people");
    await recordQualification(asking, readForm(QualificationForm, form));
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/people`);
}

/** The link of a new invitation. It is given here once and kept nowhere. */
export interface Invited {
  name: string;
  path: string;
  expiresAt: number;
}

export type InviteState = { refusal: FormState; invited: Invited | null };

export async function invite(project: string, _before: InviteState, form: FormData): Promise<InviteState> {
  let invited: Invited | null = null;
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "keep people");
    const text = (name: string): string => String(form.get(name) ?? "");
    const roles = z.array(z.enum(ROLES)).parse(form.getAll("roles"));
    const { token, expiresAt } = await invitePerson(asking, { name: text("name"), organisationId: text("organisationId"), roles });
    invited = { name: text("name").trim(), path: `/join/${token}`, expiresAt };
  });
  return { refusal: refusal && { ...refusal, values: { ...refusal.values, roles: form.getAll("roles").join(",") } }, invited };
}
