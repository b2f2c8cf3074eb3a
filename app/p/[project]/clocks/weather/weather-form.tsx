"use client";

import { useActionState } from "react";
import { SelectField, TextField, ValueField } from "../../../../_ui/field";
import { ErrorSummary } from "../../../../_ui/error-summary";
import type { WeatherState } from "./actions";
import { Margins } from "./margins";

interface Props {
  action(before: WeatherState, form: FormData): Promise<WeatherState>;
  id: string;
  /** Instruments that humidity is read with. */
  instruments: readonly string[];
}

/** One reading of the weather by hand. The margin over the dew point is worked out before it is recorded, or without recording it. */
export function WeatherForm({ action, id, instruments }: Props) {
  const [{ refusal, values, weighed }, send, pending] = useActionState(action, { refusal: null, values: {}, weighed: null });
  const error = (field: string) => refusal?.faults.find((one) => one.field === field)?.message;
  const degrees = (name: "airUnit" | "surfaceUnit", label: string) => (
    <SelectField key={`${name} ${values[name]}`} id={`weather-${name}`} name={name} label={label} defaultValue={values[name] ?? "°C"}><option>°C</option><option>°F</option></SelectField>
  );
  return (
    <form action={send} id="weather" aria-label="Weather by hand" className="weather-form pad">
      <input type="hidden" name="id" value={id} />
      {refusal && <ErrorSummary title={refusal.message} errors={refusal.faults.map(({ field, message }) => ({ message, href: field ? `#weather-${field}` : "#weather" }))} />}
      <div className="weather-fields">
        <ValueField id="weather-air" name="air" label="Air" defaultValue={values.air} error={error("air")} />
        {degrees("airUnit", "Unit of air")}
        <ValueField id="weather-humidity" name="humidity" label="Relative humidity" unit="%" defaultValue={values.humidity} error={error("humidity")} />
        <ValueField id="weather-surface" name="surface" label="Surface of the pile" hint="Under the deck, not the air's. Empty where it was not read." defaultValue={values.surface} error={error("surface")} />
        {degrees("surfaceUnit", "Unit of surface")}
        <TextField id="weather-at" name="at" type="datetime-local" label="Read at" hint="Left empty: now" defaultValue={values.at} error={error("at")} />
        <TextField id="weather-title" name="title" label="Read with, or where" list="weather-instruments" maxLength={120} defaultValue={values.title} error={error("title")} />
        <datalist id="weather-instruments">{instruments.map((mark) => <option key={mark} value={mark} />)}</datalist>
      </div>
      {weighed && <div className="weather-weighed" role="status"><p className="letter">Dew point {weighed.dewPoint}. Not recorded yet.</p><Margins view={weighed} /></div>}
      <div className="button-row">
        <button className="button" name="intent" value="look" disabled={pending}>Work out the margin</button>
        <button className="button button-go" name="intent" value="record" disabled={pending}>Record this reading</button>
      </div>
    </form>
  );
}
