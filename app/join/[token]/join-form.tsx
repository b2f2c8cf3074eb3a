"use client";

import { useActionState } from "react";
import type { FormState } from "#lib/edge/form-state";
import { Button } from "../../_ui/button";
import { ErrorSummary } from "../../_ui/error-summary";
import { TextField } from "../../_ui/field";

export function JoinForm({ action }: { action: (before: FormState, form: FormData) => Promise<FormState> }) {
  const [refusal, send, pending] = useActionState(action, null);
  const faultOf = (name: string): string | undefined => refusal?.faults.find(({ field }) => field === name)?.message;
  const errors = refusal?.faults.length ? refusal.faults : [{ field: "signIn", message: refusal?.message ?? "" }];
  return (
    <form className="cover-form" action={send} aria-label="Join">
      {refusal && <ErrorSummary title="You have not joined yet" errors={errors.map(({ field, message }) => ({ message, href: `#join-${field ?? "signIn"}` }))} />}
      <TextField
        id="join-signIn" name="signIn" label="Name to sign in with" hint="Only for signing in. The record carries your name as it stands above."
        autoComplete="username" autoCapitalize="none" spellCheck={false} required defaultValue={refusal?.values?.signIn} error={faultOf("signIn")}
      />
      <TextField id="join-password" name="password" type="password" label="Password" hint="At least 10 characters. You type it again for every sign-off." autoComplete="new-password" required error={faultOf("password")} />
      <Button weight="go" disabled={pending}>Join and sign in</Button>
    </form>
  );
}
