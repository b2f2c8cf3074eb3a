"use server";

import { redirect } from "next/navigation";
import { z } from "zod";
import { overridable, overrideWith } from "#lib/domain/plan/override";
import { requirementSet, revisionInForce, type Override } from "#lib/domain/plan/plan";
import { DomainError, type Fault } from "#lib/domain/refusal";
import type { RequirementSet } from "#lib/domain/requirement/set";
import { listRevisions } from "#lib/db/project";
import { formAsking } from "#lib/edge/page";
import { refusalOf, type FormState } from "#lib/edge/form-state";
import { addPile } from "#lib/services/add-pile";
import { OVERRIDE_PLACES, overrideName } from "./names";

const upper = (pattern: RegExp, message: string) => z.string().trim().toUpperCase().regex(pattern, message);
const degrees = (limit: number, message: string) =>
  z.string().trim().transform((text) => text.replace("−", "-")).refine((text) => text === "" || (/^-?\d{1,3}(\.\d{1,10})?$/.test(text) && Math.abs(Number(text)) <= limit), message);

const NewPile = z.object({
  id: z.uuid(),
  bent: upper(/^[0-9A-Z]{1,6}$/, "Give the bent: up to six letters and digits, such as 03."),
  row: upper(/^[0-9A-Z]{1,4}$/, "Give the row: up to four letters and digits, such as C."),
  mark: upper(/^[0-9A-Z][0-9A-Z.-]{0,14}$/, "Give the mark as on the drawing: letters, digits, points and hyphens, such as 03-C."),
  type: z.string("Choose the pile type.").regex(/^[A-Z]$/, "Choose the pile type."),
  latitude: degrees(90, "Latitude lies between -90 and 90 degrees. Write it as 44.00012."),
  longitude: degrees(180, "Longitude lies between -180 and 180 degrees. Write it as -63.50034."),
  words: z.string().trim().max(2_000),
});

export async function addOnePile(_before: FormState, form: FormData): Promise<FormState> {
  const sent = Object.fromEntries([...form].flatMap(([name, value]) => (typeof value === "string" && !name.startsWith("$") ? [[name, value]] : [])));
  let back = "/p";
  const refusal = await refusalOf(async () => {
    const asking = await formAsking(sent.project ?? "", "add pile");
    const read = NewPile.safeParse(sent);
    const faults: Fault[] = read.success ? [] : read.error.issues.map(({ path, message }) => ({ field: String(path[0] ?? "bent"), message }));
    const revision = revisionInForce(await listRevisions(asking.house.db.read, asking.project.id), await asking.house.now(asking.project));
    const set = revision && requirementSet(revision.revision, sent.type ?? "");
    const overrides = readOverrides(sent, set ?? null);
    faults.push(...overrides.faults);
    if (!read.success || faults.length > 0) throw new DomainError("invalid", faults.length === 1 ? "1 thing stops the pile from being added." : `${faults.length} things stop the pile from being added.`, faults);
    const { latitude, longitude, ...pile } = read.data;
    await addPile(asking, { ...pile, latitude: latitude || null, longitude: longitude || null, overrides: overrides.read, drawn: null });
    back = `/p/${asking.project.code}/piles/${encodeURIComponent(pile.mark)}`;
  });
  if (refusal) return { ...refusal, values: sent };
  redirect(back);
}

/** The requirements of this pile only, as far as their places are filled in. */
function readOverrides(sent: Record<string, string>, set: RequirementSet | null): { read: Override[]; faults: Fault[] } {
  const read: Override[] = [];
  const faults: Fault[] = [];
  for (const place of OVERRIDE_PLACES) {
    const text = (part: Parameters<typeof overrideName>[1]) => (sent[overrideName(place, part)] ?? "").trim();
    const requirement = text("requirement");
    const filled = (["requirement", "first", "second", "drawing", "words"] as const).some((part) => text(part) !== "");
    if (!filled) continue;
    const fault = (part: Parameters<typeof overrideName>[1], message: string) => faults.push({ field: overrideName(place, part), message: `Requirement ${place}: ${message}` });
    const [type, line, kind, id] = requirement.split("|");
    const target = set && overridable(set.lines).find((one) => one.line === line && one.kind === kind && one.id === id);
    if (requirement === "") fault("requirement", "choose which one changes.");
    else if (!target || type !== set.type) fault("requirement", "it does not belong to the pile type that is chosen.");
    if (text("drawing") === "") fault("drawing", "name the drawing that says so.");
    if (text("words") === "") fault("words", "say in words what the drawing asks for.");
    if (!target || type !== set.type) continue;
    const change = overrideWith(target, text("first").replace("−", "-"), text("second").replace("−", "-"));
    if (typeof change === "string") fault("first", change);
    else read.push({ line: target.line, change, drawing: text("drawing").slice(0, 120), words: text("words").slice(0, 400) });
  }
  return { read, faults };
}
