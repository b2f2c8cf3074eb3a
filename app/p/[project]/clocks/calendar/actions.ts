"use server";

import { formAsking } from "#lib/edge/page";
import { refusalOf, type FormState } from "#lib/edge/form-state";
import { makeCalendarLink, revokeCalendarLink } from "#lib/services/calendar-link";
import { showAgain } from "../../form-input";

export interface LinkState {
  refusal: FormState;
  /** Path of the new link, shown once. */
  path: string | null;
}

export async function makeLink(project: string, _before: LinkState, _form: FormData): Promise<LinkState> {
  let path: string | null = null;
  const refusal = await refusalOf(async () => {
    const { token } = await makeCalendarLink(await formAsking(project, "see project"));
    path = `/calendar/${token}`;
  });
  return { refusal, path };
}

export async function stopLink(project: string, _before: FormState, _form: FormData): Promise<FormState> {
  const refusal = await refusalOf(async () => revokeCalendarLink(await formAsking(project, "see project")));
  if (refusal) return refusal;
  showAgain(`/p/${project}/clocks/calendar`);
}
