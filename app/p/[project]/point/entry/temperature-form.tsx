"use client";

import { useActionState } from "react";
import { Block } from "../../../../_ui/block";
import { Button } from "../../../../_ui/button";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { SelectField, TextField, ValueField } from "../../../../_ui/field";
import { logTemperature } from "./temperature-actions";
import type { PointId } from "./actions";
import { PointInputs } from "./point-inputs";

/** One reading of a thermometer for a clock: the value, its unit, and when it was read. Empty time: now. */
export function TemperatureForm({ point }: { point: PointId }) {
  const [state, action, pending] = useActionState(logTemperature, null);
  const fault = (field: string) => state?.faults.find((one) => one.field === field)?.message;
  const id = (name: string) => `temperature-${point.line}-${name}`;
  return (
    <Block title="Log temperature" note={`point ${point.line}`} id={`temperature-${point.line}`}>
      <form action={action} className="temperature pad">
        <PointInputs point={point} />
        {state && <ErrorSummary title={state.message} errors={state.faults.map(({ field, message }) => ({ message, href: `#${id(field ?? "temperature")}` }))} />}
        <ValueField id={id("temperature")} name="temperature" label="Temperature" error={fault("temperature")} defaultValue={state?.values?.temperature} />
        <SelectField id={id("unit")} name="unit" label="Unit" defaultValue={state?.values?.unit ?? "°C"}>
          <option>°C</option>
          <option>°F</option>
        </SelectField>
        <TextField id={id("at")} name="at" type="datetime-local" label="Read at" hint="Left empty: now" error={fault("at")} defaultValue={state?.values?.at} />
        <Button disabled={pending}>Log temperature</Button>
      </form>
    </Block>
  );
}
