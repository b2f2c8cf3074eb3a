"use client";

import { useActionState } from "react";
import { Button } from "../_ui/button";
import { ErrorSummary } from "../_ui/error-summary";
import { TextField } from "../_ui/field";
import { enter } from "./actions";

/** `name` and `password` stand in the fields already where a demonstration's person was chosen. */
export function SignInForm({ name, password, next }: { name: string; password: string; next: string }) {
  const [refusal, send, pending] = useActionState(enter, null);
  return (
    <form className="cover-form" action={send} aria-label="Sign in">
      {refusal && <ErrorSummary title="You are not signed in" errors={[{ message: refusal.message, href: "#sign-in-name" }]} />}
      <input type="hidden" name="next" value={next} />
      <TextField
        id="sign-in-name" name="signIn" label="Name" autoComplete="username" autoCapitalize="none" spellCheck={false} required
        defaultValue={refusal?.values?.signIn ?? name}
      />
      <TextField id="sign-in-password" name="password" type="password" label="Password" autoComplete="current-password" required defaultValue={password} />
      <Button weight="go" disabled={pending}>Sign in</Button>
    </form>
  );
}
