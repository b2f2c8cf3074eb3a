"use client";

import { zodResolver } from "@hookform/resolvers/zod";
import { startTransition, useActionState, useEffect, useMemo, useState, type ReactNode } from "react";
import { useForm, useWatch, type Control, type UseFormRegister } from "react-hook-form";
import { z } from "zod";
import type { Fault } from "#lib/domain/refusal";
import type { Values } from "#lib/domain/requirement/draft-quantity";
import { ErrorSummary } from "../../../_ui/error-summary";
import type { FormAction } from "../action-form";

/** What may be chosen more than once is an array in the form and a list with commas outside it. */
type Held = Record<string, string | string[] | boolean | null | undefined>;

export interface DraftFields {
  register: UseFormRegister<Held>;
  control: Control<Held>;
  /** What the fields held when the page was drawn, for the page before its scripts. */
  start: Values;
  errorAt(field: string): string | undefined;
  /** Start of the ids: the field of `limit-T` is `#quantity-limit-T`. */
  idOf(field: string): string;
}

interface DraftFormProps {
  action: FormAction;
  name: string;
  label: string;
  submit: string;
  values: Values;
  check(values: Values): Fault[];
  children: (fields: DraftFields) => ReactNode;
  /** Beside the button that keeps it. */
  beside?: ReactNode;
  after?: ReactNode;
}

/**
 * A form of the draft. It says what is wrong at the field before it is sent, sends the same without scripts, and keeps what was typed
 * when the server refuses it.
 */
export function DraftForm({ action, name, label, submit, values, check, children, beside, after }: DraftFormProps) {
  const [state, send, pending] = useActionState(action, null);
  const [found, setFound] = useState<readonly Fault[] | null>(null);
  const start = state?.values ? { ...values, ...state.values } : values;
  const schema = useMemo(
    () => z.custom<Held>().superRefine((held, context) => {
      for (const { field, message } of check(textsOf(held))) context.addIssue({ code: "custom", path: [field ?? "root"], message });
    }),
    [check],
  );
  // No default values: each field begins with what stands in it, which somebody may have typed before the scripts were there.
  const { register, control, setValue, handleSubmit, getValues, formState: { errors } } = useForm<Held>({
    resolver: zodResolver<Held, unknown, Held>(schema as z.ZodType<Held, Held>), shouldFocusError: false,
  });
  useEffect(() => {
    for (const [field, value] of Object.entries(getValues())) if (value !== undefined && (textsOf({ [field]: value })[field] ?? "") !== (values[field] ?? "")) setValue(field, value);
    // Once, when the scripts have come.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, []);
  // The same list until it is tried again: whoever writes is not taken back to the summary.
  const summary = useMemo(() => (found ?? state?.faults ?? NONE).map(({ field, message }) => ({ message, href: field ? `#${name}-${field}` : `#${name}` })), [found, state, name]);
  const fields: DraftFields = {
    register, control, start,
    idOf: (field) => `${name}-${field}`,
    errorAt: (field) => (errors[field]?.message as string | undefined) ?? (found === null ? state?.faults.find((one) => one.field === field)?.message : undefined),
  };
  return (
    <form
      className="draft-form" action={send} id={name} aria-label={label} noValidate
      onSubmit={(event) => {
        const form = event.currentTarget;
        void handleSubmit(() => { setFound(null); startTransition(() => send(new FormData(form))); }, () => setFound(check(textsOf(getValues()))))(event);
      }}
    >
      {summary.length > 0 && <ErrorSummary title={found ? stops(found.length) : (state?.message ?? "")} errors={summary} />}
      {summary.length === 0 && state && <ErrorSummary title={state.message} errors={NONE} />}
      {children(fields)}
      <div className="button-row draft-keep"><button className="button button-go" disabled={pending}>{submit}</button>{beside}</div>
      {after}
    </form>
  );
}

const NONE: never[] = [];

function stops(count: number): string {
  return count === 1 ? "1 thing stops this from being kept." : `${count} things stop this from being kept.`;
}

function textsOf(held: Held): Values {
  return Object.fromEntries(Object.entries(held).filter(([, value]) => value !== undefined).map(([name, value]) => [name, Array.isArray(value) ? value.join(", ") : typeof value === "string" ? value : ""]));
}

/** What stands in the fields now, as the texts that rules are read from. */
export function useTexts({ control, start }: DraftFields): Values {
  const held = useWatch({ control }) as Held;
  return useMemo(() => ({ ...start, ...textsOf(held) }), [held, start]);
}

/** A field of one line, with its fault under it. */
export function DraftText({ fields, name, label, unit, hint, readOnly, list, inputMode, short, rows }: {
  fields: DraftFields; name: string; label: ReactNode; unit?: string; hint?: string; readOnly?: boolean; list?: string; inputMode?: "decimal" | "numeric"; short?: boolean; rows?: number;
}) {
  const id = fields.idOf(name);
  const error = fields.errorAt(name);
  const control = {
    id, className: short ? "value" : undefined, readOnly, "aria-invalid": error ? (true as const) : undefined, defaultValue: fields.start[name] ?? "",
    "aria-describedby": [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(" ") || undefined, autoComplete: "off", ...fields.register(name),
  };
  return (
    <div className={`field${error ? " field-bad" : ""}${short ? " field-short" : ""}`}>
      <label htmlFor={id}>{label}</label>
      <div className="control">
        {rows ? <textarea rows={rows} {...control} /> : <input type="text" inputMode={inputMode} list={list} {...control} />}
        {unit && <span className="unit" aria-hidden="true">{unit}</span>}
      </div>
      {hint && <p className="hint" id={`${id}-hint`}>{hint}</p>}
      {error && <p className="error" id={`${id}-error`}>{error}</p>}
    </div>
  );
}

export function DraftSelect({ fields, name, label, options, hint }: { fields: DraftFields; name: string; label: ReactNode; options: readonly { value: string; label: string }[]; hint?: string }) {
  const id = fields.idOf(name);
  const error = fields.errorAt(name);
  return (
    <div className={error ? "field field-bad" : "field"}>
      <label htmlFor={id}>{label}</label>
      <div className="control">
        <select id={id} defaultValue={fields.start[name] ?? ""} aria-invalid={error ? true : undefined} aria-describedby={[hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(" ") || undefined} {...fields.register(name)}>
          {!options.some(({ value }) => value === (fields.start[name] ?? "")) && <option value={fields.start[name] ?? ""}>{fields.start[name] || "Choose"}</option>}
          {options.map(({ value, label: words }) => <option key={value} value={value}>{words}</option>)}
        </select>
      </div>
      {hint && <p className="hint" id={`${id}-hint`}>{hint}</p>}
      {error && <p className="error" id={`${id}-error`}>{error}</p>}
    </div>
  );
}

/** One answer, or with `many` any number of them, as framed lines in a row. */
export function DraftChoice({ fields, name, legend, options, many = false, hideLegend = false, hint }: {
  fields: DraftFields; name: string; legend: ReactNode; options: readonly { value: string; label: ReactNode }[]; many?: boolean; hideLegend?: boolean; hint?: string;
}) {
  const id = fields.idOf(name);
  const error = fields.errorAt(name);
  const chosen = (fields.start[name] ?? "").split(",").map((one) => one.trim());
  return (
    <fieldset className={`choice choice-row draft-choice${error ? " field-bad" : ""}`} aria-describedby={[hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(" ") || undefined}>
      <legend className={hideLegend ? "hide" : undefined}>{legend}</legend>
      <div className="options">
        {options.map(({ value, label }, position) => (
          <label key={value}>
            <input type={many ? "checkbox" : "radio"} id={position === 0 ? id : undefined} value={value} defaultChecked={many ? chosen.includes(value) : value === fields.start[name]} {...fields.register(name)} />
            <span>{label}</span>
          </label>
        ))}
      </div>
      {hint && <p className="hint" id={`${id}-hint`}>{hint}</p>}
      {error && <p className="error" id={`${id}-error`}>{error}</p>}
    </fieldset>
  );
}
