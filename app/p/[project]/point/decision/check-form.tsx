"use client";

import { useActionState } from "react";
import type { FormState } from "#lib/edge/form-state";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { Reasons } from "./reasons";

interface CheckFormProps {
  action: (before: FormState, form: FormData) => Promise<FormState>;
  id: string;
  submissionId: string;
  /** False once it is checked: then it can only be sent back. */
  mayCheck: boolean;
}

const ANCHORS: Record<string, string> = { codes: "#back-codes", words: "#back-words" };

/** The QC manager's own sign-off on what the crew sent, or its return with reasons. */
export function CheckForm({ action, id, submissionId, mayCheck }: CheckFormProps) {
  const [state, send, pending] = useActionState(action, null);
  const errors = Object.fromEntries((state?.faults ?? []).flatMap(({ field, message }) => (field ? [[field, message]] : [])));
  const values = state?.values ?? {};
  return (
    <form className="block decision-form" id="check" action={send} aria-label="QC check">
      <input type="hidden" name="id" value={id} />
      <input type="hidden" name="submissionId" value={submissionId} />
      {state && <ErrorSummary title={state.message} errors={state.faults.map(({ field, message }) => ({ message, href: ANCHORS[field ?? ""] ?? "#check" }))} />}
      <h2>QC check <small>before it is decided</small></h2>
      <div className="decision-acts">
        {mayCheck && <button className="button button-go" name="outcome" value="checked" disabled={pending}>Checked</button>}
        <details className="refuse" open={values.outcome === "sent back" || undefined}>
          <summary className="button button-refuse">Send back …</summary>
          <Reasons id="back" chosen={(values.codes ?? "").split(",")} words={values.words ?? ""} errors={errors} />
          <button className="button button-refuse" name="outcome" value="sent back" disabled={pending}>Send back to the crew</button>
        </details>
        <p className="why">{mayCheck ? "Checked: you have looked at every value and photo. It then waits for who decides it." : "You have checked it. It waits for who decides it."}</p>
      </div>
    </form>
  );
}
