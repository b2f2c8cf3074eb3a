"use server";

import { z } from "zod";
import { overridable, overrideWith } from "#lib/domain/plan/override";
import { OverrideSchema } from "#lib/domain/plan/plan";
import { DomainError } from "#lib/domain/refusal";
import { getPile } from "#lib/db/pile";
import { formAsking } from "#lib/edge/page";
import type { FormState } from "#lib/edge/form-state";
import { addOverride, endOverride } from "#lib/services/override-pile";
import { loadSheet } from "#lib/services/sheet";
import { answerForm, readForm, showAgain } from "../../form-input";

const line = (message: string, most: number) => z.string(message).trim().min(1, message).max(most, `At most ${most} characters.`);

const NewOverride = z.object({
  id: z.uuid(),
  requirement: z.string().min(1, "Choose which one changes."),
  first: z.string().trim().transform((text) => text.replace("−", "-")),
  second: z.string().trim().transform((text) => text.replace("−", "-")),
  drawing: line("Name the drawing that says so.", 120),
  words: line("Say in words what the drawing asks for.", 400),
});
const EndedOverride = z.object({ id: z.uuid(), override: z.string().min(1, "Choose which one is taken back.") });

/** Changes one requirement of one pile by the numbers of its drawing. */
export async function add(project: string, mark: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "change requirement");
    const { id, requirement, first, second, drawing, words } = readForm(NewOverride, form);
    const { read } = asking.house.db;
    const pile = await getPile(read, asking.project.id, { mark });
    const sheet = await loadSheet(read, asking.project, pile.id, await asking.house.now(asking.project));
    const target = overridable(sheet.lines).find((one) => [one.line, one.kind, one.id].join("|") === requirement);
    if (!target) throw new DomainError("invalid", "This requirement is not changed like this.", [{ field: "requirement", message: "This pile has no such requirement. Choose another." }]);
    const change = overrideWith(target, first, second);
    if (typeof change === "string") throw new DomainError("invalid", "1 thing stops this from being recorded.", [{ field: "first", message: change }]);
    await addOverride(asking, { id, pileId: pile.id, override: { line: target.line, change, drawing, words } });
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/piles/${encodeURIComponent(mark)}`);
}

/** Takes a requirement of one pile back: the type's holds again. */
export async function end(project: string, mark: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "change requirement");
    const { id, override } = readForm(EndedOverride, form);
    const pile = await getPile(asking.house.db.read, asking.project.id, { mark });
    const holding = pile.overrides[Number(override)];
    const named = holding && OverrideSchema.safeParse(holding.override);
    if (!named?.success) throw new DomainError("conflict", "This requirement does not hold any more. Load the pile again.");
    await endOverride(asking, { id, pileId: pile.id, override: named.data });
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/piles/${encodeURIComponent(mark)}`);
}
