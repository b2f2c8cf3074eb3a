"use client";

import { useActionState } from "react";
import { Button } from "../../../../_ui/button";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { TextAreaField } from "../../../../_ui/field";
import { withdraw, type PointId } from "./actions";
import { PointInputs } from "./point-inputs";

/** Takes a submission back while nobody has decided it. It stays in the record, with the reason. */
export function WithdrawForm({ point, submissionId, id }: { point: PointId; submissionId: string; id: string }) {
  const [state, action, pending] = useActionState(withdraw, null);
  return (
    <details className="withdraw" open={state !== null}>
      <summary>Withdraw what was sent</summary>
      <form action={action} className="stack">
        {state && <ErrorSummary title={state.message} errors={state.faults.map(({ message }) => ({ message, href: "#withdraw-words" }))} />}
        <PointInputs point={point} />
        <input type="hidden" name="id" value={id} />
        <input type="hidden" name="submissionId" value={submissionId} />
        <TextAreaField id="withdraw-words" name="words" label="Why it is withdrawn" hint="It stays in the record with this reason. Photos and values can be sent again." error={state?.faults[0]?.message} defaultValue={state?.values?.words} maxLength={2_000} />
        <div><Button weight="refuse" disabled={pending}>Withdraw</Button></div>
      </form>
    </details>
  );
}
