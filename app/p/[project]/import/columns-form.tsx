"use client";

import { useActionState, useState } from "react";
import { LENGTH_UNITS } from "#lib/domain/schedule/field";
import { Block } from "../../../_ui/block";
import { ErrorSummary } from "../../../_ui/error-summary";
import { SelectField, TextField } from "../../../_ui/field";
import { TableFrame } from "../../../_ui/table";
import type { FormAction } from "../action-form";
import { fieldNames } from "./names";

export interface ColumnView {
  index: number;
  letter: string;
  hidden: boolean;
  field: string;
  unit: string;
  comma: string;
  /** Units of what the column was last said to be. */
  units: string[];
  faults: string[];
}

interface ColumnsFormProps {
  action: FormAction;
  columns: ColumnView[];
  fields: readonly { value: string; label: string }[];
  requirements: { value: string; label: string }[];
  rows: { number: number; header: boolean; cells: string[] }[];
  faults: { column: number | null; message: string }[];
  types: { value: string; label: string }[];
  words: { word: string; chosen: string }[];
  settings: Record<"headerRow" | "firstRow" | "everyType" | "hiddenRows" | "originLatitude" | "originLongitude" | "bearing" | "gridUnit", string>;
  onGrid: boolean;
}

const LENGTHS = new Set(["top elevation", "bottom elevation", "jacket height", "inside diameter"]);

/** The file as it is, with what each column is over it. Nothing is read of a length before its unit is chosen. */
export function ColumnsForm({ action, columns, fields, requirements, rows, faults, types, words, settings, onGrid }: ColumnsFormProps) {
  const [state, send, pending] = useActionState(action, null);
  const [chosen, setChosen] = useState<Record<number, string>>(() => Object.fromEntries(columns.map(({ index, field }) => [index, field])));
  const grid = onGrid || Object.values(chosen).some((field) => field.startsWith("grid"));
  const errors = state ? state.faults : faults.map(({ column, message }) => ({ field: column === null ? "headerRow" : fieldNames.field(column), message }));
  return (
    <form action={send} className="columns-form" aria-label="What the columns are">
      {errors.length > 0 && (
        <ErrorSummary title={state?.message ?? (errors.length === 1 ? "1 thing is not known yet." : `${errors.length} things are not known yet.`)} errors={errors.map(({ field, message }) => ({ message, href: `#${field ?? "headerRow"}` }))} />
      )}
      <TableFrame label="Columns of the file">
        <table className="table import-table">
          <caption className="hide">Columns of the file, and its first rows</caption>
          <thead>
            <tr><th scope="col"><span className="hide">Row</span></th>{columns.map(({ index, letter, hidden }) => <th key={index} scope="col" className={hidden ? "column-hidden" : undefined}>{letter}{hidden && <small>hidden in the file</small>}</th>)}</tr>
            <tr className="column-is">
              <th scope="row">is</th>
              {columns.map((column) => (
                <td key={column.index} className={column.hidden ? "column-hidden" : undefined}>
                  <ColumnChoice column={column} chosen={chosen[column.index] ?? column.field} choose={(field) => setChosen((before) => ({ ...before, [column.index]: field }))} fields={fields} requirements={requirements} />
                </td>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ number, header, cells }) => (
              <tr key={number} className={header ? "file-header" : undefined}>
                <th scope="row" className="num">{number}</th>
                {cells.map((text, index) => <td key={index} className={columns[index]?.hidden ? "column-hidden" : undefined}>{text}</td>)}
              </tr>
            ))}
          </tbody>
        </table>
      </TableFrame>
      <p className="letter">Black is the file as written. Columns keep what they are here for the next file with the same headers.</p>
      <div className="import-settings">
        {words.length > 0 && (
          <Block title="Words for the pile type" note="asked once for each word">
            <div className="pad settings-grid">
              {words.map(({ word, chosen: type }) => (
                <SelectField key={word} id={fieldNames.type(word)} name={fieldNames.type(word)} label={word} defaultValue={type}>
                  <option value="">not matched yet</option>
                  {types.map(({ value, label }) => <option key={value} value={value}>{label}</option>)}
                </SelectField>
              ))}
            </div>
          </Block>
        )}
        <Block title="Rows of the file">
          <div className="pad settings-grid">
            <TextField id="headerRow" name="headerRow" label="Row with the names of the columns" hint="Empty where there is none." inputMode="numeric" defaultValue={settings.headerRow} maxLength={6} />
            <TextField id="firstRow" name="firstRow" label="First row with a pile" inputMode="numeric" defaultValue={settings.firstRow} maxLength={6} />
            <SelectField id="hiddenRows" name="hiddenRows" label="Rows hidden in the file" defaultValue={settings.hiddenRows}>
              <option value="leave out">leave out</option>
              <option value="read">read</option>
            </SelectField>
            <SelectField id="everyType" name="everyType" label="Type, where no column says it" defaultValue={settings.everyType}>
              <option value="">a column says it</option>
              {types.map(({ value, label }) => <option key={value} value={value}>{label}</option>)}
            </SelectField>
          </div>
        </Block>
        {grid && (
          <Block title="Local grid" note="worked out to WGS 84">
            <div className="pad settings-grid">
              <TextField id="originLatitude" name="originLatitude" label="Origin, latitude" unit="°" inputMode="decimal" defaultValue={settings.originLatitude} />
              <TextField id="originLongitude" name="originLongitude" label="Origin, longitude" unit="°" inputMode="decimal" defaultValue={settings.originLongitude} />
              <TextField id="bearing" name="bearing" label="Bearing of the y axis from true north" unit="°" inputMode="decimal" defaultValue={settings.bearing} />
              <SelectField id="gridUnit" name="gridUnit" label="Unit of the grid" defaultValue={settings.gridUnit}>
                <option value="">not chosen yet</option>
                {["m", "ft", "mm", "in"].map((unit) => <option key={unit}>{unit}</option>)}
              </SelectField>
            </div>
          </Block>
        )}
      </div>
      <button className="button button-go" disabled={pending}>Read the rows</button>
    </form>
  );
}

function ColumnChoice({ column, chosen, choose, fields, requirements }: { column: ColumnView; chosen: string; choose(field: string): void; fields: ColumnsFormProps["fields"]; requirements: ColumnsFormProps["requirements"] }) {
  const { index, letter, unit, comma, units, faults } = column;
  const offered = LENGTHS.has(chosen) ? [...LENGTH_UNITS] : chosen.startsWith("requirement") && chosen === column.field ? units : [];
  const faultId = `${fieldNames.field(index)}-error`;
  return (
    <div className="column-choice">
      <select id={fieldNames.field(index)} name={fieldNames.field(index)} aria-label={`Column ${letter} is`} value={chosen} onChange={({ target }) => choose(target.value)} aria-invalid={faults.length > 0 || undefined} aria-describedby={faults.length > 0 ? faultId : undefined}>
        <option value="leave out">leave out</option>
        {fields.map(({ value, label }) => <option key={value} value={value}>{label}</option>)}
        <optgroup label="a requirement of this pile">{requirements.map(({ value, label }) => <option key={value} value={value}>{label}</option>)}</optgroup>
      </select>
      {offered.length > 0 ? (
        <select name={fieldNames.unit(index)} aria-label={`Unit of column ${letter}`} defaultValue={unit}>
          <option value="">unit?</option>
          {offered.map((one) => <option key={one}>{one}</option>)}
        </select>
      ) : (
        <span className="letter">{chosen === "leave out" ? "" : "no unit"}</span>
      )}
      {(comma !== "" || faults.some((fault) => fault.includes("comma"))) && (
        <select name={fieldNames.comma(index)} aria-label={`Comma in column ${letter}`} defaultValue={comma}>
          <option value="">comma?</option>
          <option value="decimal">0,47 is decimal</option>
          <option value="thousands">1,234 is thousands</option>
        </select>
      )}
      {faults.length > 0 && <p className="error" id={faultId}>{faults.join(" ")}</p>}
    </div>
  );
}
