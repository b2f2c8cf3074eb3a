"use client";

import { useActionState, type ReactNode } from "react";
import type { FormState } from "#lib/edge/form-state";
import { ErrorSummary } from "../../_ui/error-summary";

export type FormAction = (before: FormState, form: FormData) => Promise<FormState>;

interface ActionFormProps {
  action: FormAction;
  /** Start of the ids of its fields: a fault at `mark` leads to `#lot-mark`. */
  name: string;
  submit: string;
  label: string;
  /** Folded away behind these words until somebody wants it; a form that came back stays open. */
  opener?: string;
  /** Draws the fields with what was typed before and what is wrong with it. */
  fields: (values: Record<string, string>, errors: Record<string, string>) => ReactNode;
}

/** A form of values that works without scripts: what is wrong stands on top and at its field, and nothing typed is lost. */
export function ActionForm({ action, name, submit, label, opener, fields }: ActionFormProps) {
  const [state, send, pending] = useActionState(action, null);
  const errors = Object.fromEntries((state?.faults ?? []).flatMap(({ field, message }) => (field ? [[field, message]] : [])));
  const form = (
    <form className="action-form" action={send} id={name} aria-label={label}>
      {state && <ErrorSummary title={state.message} errors={state.faults.map(({ field, message }) => ({ message, href: field ? `#${name}-${field}` : `#${name}` }))} />}
      {fields(state?.values ?? {}, errors)}
      <button className="button" disabled={pending}>{submit}</button>
    </form>
  );
  if (!opener) return form;
  return (
    <details className="opener" open={state !== null || undefined}>
      <summary className="button">{opener}</summary>
      {form}
    </details>
  );
}
