"use client";

import { useActionState } from "react";
import { Block } from "../../../../_ui/block";
import { Button } from "../../../../_ui/button";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { TextAreaField, TextField } from "../../../../_ui/field";
import type { FormAction } from "../../action-form";

/** The owner's acceptance: words if there are any, and the password again. */
export function AcceptForm({ action, mark, id }: { action: FormAction; mark: string; id: string }) {
  const [state, send, pending] = useActionState(action, null);
  const fault = (field: string) => state?.faults.find((one) => one.field === field)?.message;
  return (
    <Block title={`Accept pile ${mark}`} note="every point is released">
      <form action={send} className="accept-form pad">
        {state && <ErrorSummary title={state.message} errors={state.faults.map(({ field, message }) => ({ message, href: field === "password" ? "#accept-password" : "#points" }))} />}
        <input type="hidden" name="id" value={id} />
        <input type="hidden" name="mark" value={mark} />
        <TextAreaField id="accept-words" name="words" label="Conditions or remarks, if any" defaultValue={state?.values?.words} maxLength={2_000} />
        <TextField id="accept-password" name="password" type="password" autoComplete="current-password" label="Your password, to sign" error={fault("password")} />
        <div><Button weight="go" disabled={pending}>Accept pile {mark}</Button></div>
      </form>
    </Block>
  );
}
