"use client";

import { useActionState } from "react";
import type { FormState } from "#lib/edge/form-state";
import { ButtonNotAvailable } from "../../../_ui/button";
import { Choice } from "../../../_ui/choice";
import { ErrorSummary } from "../../../_ui/error-summary";
import { Field, TextField } from "../../../_ui/field";
import { ActionForm, type FormAction } from "../action-form";

interface IssueFormProps {
  action: (before: FormState, form: FormData) => Promise<FormState>;
  id: string;
  /** How many things a final package still lacks. */
  open: number;
}

/** Interim is always possible; final only when nothing is open. */
export function IssueForm({ action, id, open }: IssueFormProps) {
  const [state, send, pending] = useActionState(action, null);
  return (
    <form action={send} className="issue-form" id="issue" aria-label="Issue a closeout package">
      <input type="hidden" name="id" value={id} />
      {state && <ErrorSummary title={state.message} errors={state.faults.map(({ message }) => ({ message, href: "#issue" }))} />}
      <div className="issue-acts">
        {open > 0
          ? <ButtonNotAvailable reason={`${open} item${open === 1 ? " is" : "s are"} open.`}>Issue as final</ButtonNotAvailable>
          : <button className="button button-go" name="kind" value="final" disabled={pending}>Issue as final</button>}
        <button className={open > 0 ? "button button-go" : "button"} name="kind" value="interim" disabled={pending}>Issue as interim</button>
      </div>
      {pending && <p className="letter" role="status">The package is being written. This page comes back when it is done.</p>}
    </form>
  );
}

/** The owner's acceptance of one pile, signed with the password. */
export function AcceptForm({ action, id, marks }: { action: FormAction; id: string; marks: readonly string[] }) {
  return (
    <ActionForm action={action} name="accept" submit="Accept this pile" label="Accept a pile" fields={(values, errors) => (
      <>
        <input type="hidden" name="id" value={id} />
        <Choice id="accept-mark" legend="Pile" name="mark" inRow options={marks.map((mark) => ({ value: mark, label: mark }))} chosen={values.mark} error={errors.mark} />
        <TextField id="accept-words" name="words" label="Words that go with the acceptance" hint="May stay empty." defaultValue={values.words} maxLength={2_000} error={errors.words} />
        <Field id="accept-password" label="Your password, again" hint="Server-attested: signed with your password, no passkey." error={errors.password}>
          {(control) => <input {...control} type="password" name="password" autoComplete="current-password" />}
        </Field>
      </>
    )} />
  );
}
