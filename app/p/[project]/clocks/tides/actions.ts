"use server";

import { z } from "zod";
import { formAsking } from "#lib/edge/page";
import { refusalOf, type FormState } from "#lib/edge/form-state";
import { keepTideTable, readTideTable } from "#lib/services/keep-tide-table";
import { tidePicture, type TidePictureView } from "#lib/services/tide-view";
import { readForm, showAgain } from "../../form-input";

export interface TideState {
  refusal: FormState;
  values: Record<string, string>;
  /** The table as it was read, drawn before it is kept. */
  picture: TidePictureView | null;
  read: string;
}

const TideForm = z.object({
  id: z.uuid(),
  table: z.string().max(500_000, "At most 500 000 characters. Paste the months of the work only."),
  source: z.string().max(200, "At most 200 characters."),
  clock: z.enum(["own", "site", "fixed"], "Say how its times are written."),
  offset: z.string().max(6, "Such as -04:00."),
  order: z.enum(["", "day first", "month first"]),
  unit: z.literal("").transform(() => null).or(z.enum(["m", "ft"])),
  workLevel: z.string().max(60, "At most 60 characters."),
  allowance: z.string().max(60, "At most 60 characters."),
});

/** Draws a table, or keeps it; the button says which. A file takes the place of what is pasted. */
export async function addTideTable(project: string, _before: TideState, form: FormData): Promise<TideState> {
  const look = form.get("intent") === "look";
  const file = form.get("file");
  if (file instanceof File && file.size > 0) form.set("table", await file.text());
  form.delete("file");
  let picture: TidePictureView | null = null;
  let read = "";
  const refusal = await refusalOf(async () => {
    const asking = await formAsking(project, "keep tides");
    const input = readForm(TideForm, form);
    if (!look) return keepTideTable(asking, input);
    const table = readTideTable(input, asking.project.zone);
    const now = await asking.house.now(asking.project);
    picture = tidePicture(table, asking.project.zone, now);
    read = [`${table.waters.length} waters read.`, ...table.notes].join(" ");
  });
  if (!refusal && !look) showAgain(`/p/${project}/clocks/tides`);
  const typed = [...form.entries()].filter(([name, value]) => typeof value === "string" && !name.startsWith("$") && name !== "id" && name !== "intent");
  return { refusal, picture, read, values: Object.fromEntries(typed.map(([name, value]) => [name, String(value)])) };
}
