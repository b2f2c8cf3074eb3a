"use server";

import { headers } from "next/headers";
import { z } from "zod";
import { formAsking, ownPath } from "#lib/edge/page";
import { refusalOf, type FormState } from "#lib/edge/form-state";
import { recordTemperature } from "#lib/services/record-temperature";
import { showAgain } from "../../form-input";

const Point = z.object({ project: z.string().max(40), sheet: z.string().max(64), line: z.string().max(4) });
const Text = z.string().max(60).catch("");
const TemperatureForm = z.object({ temperature: Text, unit: Text, at: Text });

export async function logTemperature(_before: FormState, form: FormData): Promise<FormState> {
  const { project, sheet, line } = Point.parse(Object.fromEntries(form));
  const values = TemperatureForm.parse(Object.fromEntries(form));
  const refusal = await refusalOf(async () => {
    const asking = await formAsking(project, "read temperature");
    const at = values.at || new Date(await asking.house.now(asking.project)).toISOString();
    await recordTemperature(asking, { sheet, line, at, temperature: values.temperature, unit: values.unit || null });
  });
  if (refusal) return { ...refusal, values };
  showAgain(ownPath((await headers()).get("x-asked-for")) ?? `/p/${project}`);
}
