"use client";

import { useActionState, useSyncExternalStore } from "react";
import { ErrorSummary } from "../../../_ui/error-summary";
import { SelectField, TextField } from "../../../_ui/field";
import type { Invited, InviteState } from "./actions";

interface InviteFormProps {
  action: (before: InviteState, form: FormData) => Promise<InviteState>;
  organisations: readonly { id: string; name: string; part: string }[];
  roles: readonly string[];
}

const NOT_YET: InviteState = { refusal: null, invited: null };

/** Invites one person by a link that is shown once. */
export function InviteForm({ action, organisations, roles }: InviteFormProps) {
  const [{ refusal, invited }, send, pending] = useActionState(action, NOT_YET);
  const values = refusal?.values ?? {};
  const errors = Object.fromEntries((refusal?.faults ?? []).flatMap(({ field, message }) => (field ? [[field, message]] : [])));
  return (
    <form className="action-form pad" action={send} id="invite" aria-label="Invite a person">
      {refusal && <ErrorSummary title={refusal.message} errors={refusal.faults.map(({ field, message }) => ({ message, href: field ? `#invite-${field}` : "#invite" }))} />}
      {invited && <Link invited={invited} />}
      <TextField id="invite-name" name="name" label="Name, as it stands in the record" autoComplete="off" defaultValue={values.name} error={errors.name} />
      <SelectField key={values.organisationId} id="invite-organisationId" name="organisationId" label="Organisation" defaultValue={values.organisationId ?? ""} error={errors.organisationId}>
        <option value="">Choose</option>
        {organisations.map(({ id, name, part }) => <option key={id} value={id}>{name}, {part}</option>)}
      </SelectField>
      <fieldset className={errors.roles ? "roles field-bad" : "roles"} aria-describedby={errors.roles ? "invite-roles-error" : undefined}>
        <legend>Roles</legend>
        <div className="role-list">
          {roles.map((role, position) => (
            <label key={role}><input type="checkbox" name="roles" value={role} id={position === 0 ? "invite-roles" : undefined} defaultChecked={values.roles?.split(",").includes(role)} /> <span>{role}</span></label>
          ))}
        </div>
        {errors.roles && <p className="error" id="invite-roles-error">{errors.roles}</p>}
      </fieldset>
      <button className="button" disabled={pending}>Make the link</button>
    </form>
  );
}

/** With its host as the browser knows it; before scripts, the path alone. */
function Link({ invited }: { invited: Invited }) {
  const origin = useSyncExternalStore(() => () => undefined, () => window.location.origin, () => "");
  return (
    <div className="invited" role="status">
      <p><b>Link for {invited.name}</b>, good once and for a week. It is shown here and never again.</p>
      <p className="code">{origin}{invited.path}</p>
    </div>
  );
}
