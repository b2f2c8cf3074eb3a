"use client";

import { useActionState, useSyncExternalStore } from "react";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { ActionForm, type FormAction } from "../../action-form";
import type { LinkState } from "./actions";

/** Makes the person's link, which is shown once; the one before stops. */
export function MakeLink({ action, has }: { action(before: LinkState, form: FormData): Promise<LinkState>; has: boolean }) {
  const [{ refusal, path }, send, pending] = useActionState(action, { refusal: null, path: null });
  // With its host as the browser knows it; before scripts, the path alone.
  const origin = useSyncExternalStore(() => () => undefined, () => window.location.origin, () => "");
  return (
    <form action={send} id="link" aria-label="Calendar link" className="stack">
      {refusal && <ErrorSummary title={refusal.message} errors={refusal.faults.map(({ message }) => ({ message, href: "#link" }))} />}
      {path && (
        <div className="calendar-link" role="status">
          <p><b>Your link.</b> It is shown here and never again. Whoever has it can read these times.</p>
          <p className="code">{origin}{path}</p>
        </div>
      )}
      <div className="button-row"><button className="button button-go" disabled={pending}>{has || path ? "Make a new link" : "Make my link"}</button></div>
      {(has || path) && <p className="letter">A new link stops the one before.</p>}
    </form>
  );
}

export function StopLink({ action }: { action: FormAction }) {
  return <ActionForm action={action} name="stop-link" submit="Stop my link" label="Stop the calendar link" fields={() => null} />;
}
