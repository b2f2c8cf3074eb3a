"use client";

import { SelectField, TextField, ValueField } from "../../../../_ui/field";
import { ActionForm, type FormAction } from "../../action-form";

interface Choosable {
  value: string;
  label: string;
}

/** A requirement of this pile only, by its drawing. Points that are signed are not offered: they stay as they were signed. */
export function OverrideForm({ action, id, requirements }: { action: FormAction; id: string; requirements: readonly Choosable[] }) {
  return (
    <ActionForm action={action} name="override" submit="Change it on this pile" label="Change a requirement on this pile" opener="Change a requirement by drawing" fields={(values, errors) => (
      <div className="form-grid">
        <input type="hidden" name="id" value={id} />
        <SelectField key={values.requirement} id="override-requirement" name="requirement" label="Requirement of an open point" defaultValue={values.requirement ?? ""} error={errors.requirement}>
          <option value="">Choose</option>
          {requirements.map(({ value, label }) => <option key={value} value={value}>{label}</option>)}
        </SelectField>
        <ValueField id="override-first" name="first" label="New limit" hint="In the unit of the type's." defaultValue={values.first} error={errors.first} />
        <ValueField id="override-second" name="second" label="Upper end, of a range" defaultValue={values.second} error={errors.second} />
        <TextField id="override-drawing" name="drawing" label="Drawing" hint="S-114 rev. 2, note 5" maxLength={120} defaultValue={values.drawing} error={errors.drawing} />
        <TextField id="override-words" name="words" label="In words" maxLength={400} defaultValue={values.words} error={errors.words} />
      </div>
    )} />
  );
}

export function EndOverrideForm({ action, id, holding }: { action: FormAction; id: string; holding: readonly Choosable[] }) {
  return (
    <ActionForm action={action} name="end-override" submit="Take it back" label="Take a requirement of this pile back" opener="Take one back" fields={(values, errors) => (
      <div className="form-grid">
        <input type="hidden" name="id" value={id} />
        <SelectField key={values.override} id="end-override-override" name="override" label="Requirement of this pile" hint="The type's holds again for what is not signed." defaultValue={values.override ?? ""} error={errors.override}>
          <option value="">Choose</option>
          {holding.map(({ value, label }) => <option key={value} value={value}>{label}</option>)}
        </SelectField>
      </div>
    )} />
  );
}
