"use client";

import { SelectField, TextField } from "../../../_ui/field";
import { ActionForm, type FormAction } from "../action-form";

export function QualificationForm({ action, id, people }: { action: FormAction; id: string; people: readonly { personId: string; name: string }[] }) {
  return (
    <ActionForm action={action} name="qualification" submit="Record it" label="Record a qualification" fields={(values, errors) => (
      <>
        <input type="hidden" name="id" value={id} />
        <SelectField key={values.personId} id="qualification-personId" name="personId" label="Person" defaultValue={values.personId ?? ""} error={errors.personId}>
          <option value="">Choose</option>
          {people.map((one) => <option key={one.personId} value={one.personId}>{one.name}</option>)}
        </SelectField>
        <TextField id="qualification-certificate" name="certificate" label="Certificate, with its number" defaultValue={values.certificate} error={errors.certificate} />
        <TextField id="qualification-expiresOn" name="expiresOn" type="date" label="Good to" defaultValue={values.expiresOn} error={errors.expiresOn} />
      </>
    )} />
  );
}
