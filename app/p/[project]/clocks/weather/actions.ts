"use server";

import { z } from "zod";
import { formAsking } from "#lib/edge/page";
import { refusalOf, type FormState } from "#lib/edge/form-state";
import { readWeather, recordWeather } from "#lib/services/record-weather";
import { weighWeather, type MarginView } from "#lib/services/weather-view";
import { readForm, showAgain } from "../../form-input";

export interface WeatherState {
  refusal: FormState;
  values: Record<string, string>;
  weighed: MarginView | null;
}

const text = z.string().max(60, "At most 60 characters.");
const WeatherForm = z.object({ id: z.uuid(), title: z.string().max(120, "At most 120 characters."), at: text, air: text, airUnit: text, humidity: text, surface: text, surfaceUnit: text });

/** Works out the margin of a reading, or records it; the button says which. */
export async function addWeather(project: string, _before: WeatherState, form: FormData): Promise<WeatherState> {
  const look = form.get("intent") === "look";
  let weighed: MarginView | null = null;
  const refusal = await refusalOf(async () => {
    const asking = await formAsking(project, "read temperature");
    const input = readForm(WeatherForm, form);
    if (!look) return recordWeather(asking, input);
    const now = await asking.house.now(asking.project);
    // Where it was read is asked for when it is recorded.
    const reading = readWeather({ ...input, title: input.title || "not recorded" }, asking.project.zone, now);
    weighed = await weighWeather(asking.house.db.read, asking.project, now, reading);
  });
  if (!refusal && !look) showAgain(`/p/${project}/clocks/weather`);
  const typed = [...form.entries()].filter(([name, value]) => typeof value === "string" && !name.startsWith("$") && name !== "id" && name !== "intent");
  return { refusal, weighed, values: Object.fromEntries(typed.map(([name, value]) => [name, String(value)])) };
}
