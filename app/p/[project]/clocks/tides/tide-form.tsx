"use client";

import { useActionState } from "react";
import { SelectField, TextAreaField, TextField, ValueField } from "../../../../_ui/field";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { TidePicture } from "../tide-picture";
import type { TideState } from "./actions";

interface Props {
  action(before: TideState, form: FormData): Promise<TideState>;
  id: string;
  zone: string;
  now: number;
  /** What the last table was kept with, offered again. */
  last: { source: string; workLevel: string; allowance: string } | null;
}

/** A published table of high and low waters, pasted or as a file; drawn with its working windows before it is kept. */
export function TideForm({ action, id, zone, now, last }: Props) {
  const [{ refusal, values, picture, read }, send, pending] = useActionState(action, { refusal: null, values: {}, picture: null, read: "" });
  const error = (field: string) => refusal?.faults.find((one) => one.field === field)?.message;
  const rowFaults = refusal?.faults.filter(({ field }) => field === "table") ?? [];
  return (
    <form action={send} id="tide" aria-label="Tide table" className="tide-form pad">
      <input type="hidden" name="id" value={id} />
      {refusal && <ErrorSummary title={refusal.message} errors={refusal.faults.map(({ field, message }) => ({ message, href: field ? `#tide-${field}` : "#tide" }))} />}
      <TextAreaField
        id="tide-table" name="table" rows={7} className="tide-rows" spellCheck={false} label="High and low waters" defaultValue={values.table}
        hint="A row each: date and time, height, high or low. Commas, semicolons or tabs between them." error={rowFaults.length > 0 ? `${rowFaults.length} ${rowFaults.length === 1 ? "row has" : "rows have"} to be mended.` : undefined}
      />
      <TextField id="tide-file" name="file" type="file" accept=".csv,.txt,text/csv,text/plain" label="Or a CSV file of them" />
      <div className="tide-fields">
        <TextField id="tide-source" name="source" label="Where it was published" maxLength={200} defaultValue={values.source ?? last?.source} error={error("source")} />
        <SelectField key={`clock ${values.clock}`} id="tide-clock" name="clock" label="Its times are" defaultValue={values.clock ?? ""} error={error("clock")}>
          <option value="">choose</option>
          <option value="own">with an offset in each row</option>
          <option value="site">on the site&apos;s clock</option>
          <option value="fixed">at one offset all along</option>
        </SelectField>
        <TextField id="tide-offset" name="offset" label="That offset" placeholder="-04:00" hint="Where the table keeps one all year." maxLength={6} defaultValue={values.offset} error={error("offset")} />
        <SelectField key={`order ${values.order}`} id="tide-order" name="order" label="Dates such as 03/04/26" defaultValue={values.order ?? ""} error={error("order")}>
          <option value="">as other rows show</option>
          <option>day first</option>
          <option>month first</option>
        </SelectField>
        <SelectField key={`unit ${values.unit}`} id="tide-unit" name="unit" label="Its heights are in" defaultValue={values.unit ?? ""} error={error("unit")}>
          <option value="">as its head says</option>
          <option value="m">m</option>
          <option value="ft">ft</option>
        </SelectField>
        <ValueField id="tide-workLevel" name="workLevel" label="Work stops at" hint="With its unit: 0.8 m, above the table's datum." defaultValue={values.workLevel ?? last?.workLevel} error={error("workLevel")} />
        <ValueField id="tide-allowance" name="allowance" label="Allowance for surge" hint="Taken off the level. 0 m where none is made." defaultValue={values.allowance ?? last?.allowance} error={error("allowance")} />
      </div>
      {picture && (
        <div className="stack" role="status">
          <p><b>{read}</b> Not kept yet.</p>
          <TidePicture picture={picture} zone={zone} now={now} />
        </div>
      )}
      <div className="button-row">
        <button className="button" name="intent" value="look" disabled={pending}>Draw it first</button>
        <button className="button button-go" name="intent" value="keep" disabled={pending}>Keep this table</button>
      </div>
    </form>
  );
}
