"use client";

import type { PhotoLimitsView } from "#lib/services/photo-limits-view";
import { TextAreaField, ValueField } from "../../../_ui/field";
import { ActionForm, type FormAction } from "../action-form";
import { LimitTables } from "./limit-table";

/** Every limit as a field, and one reason for what changes. */
export function LimitsForm({ action, id, groups }: { action: FormAction; id: string; groups: PhotoLimitsView["groups"] }) {
  return (
    <ActionForm action={action} name="limits" submit="Set these limits" label="Photo limits" fields={(values, errors) => (
      <>
        <input type="hidden" name="id" value={id} />
        <LimitTables groups={groups} value={({ name, title, unit, value }) => (
          <ValueField id={`limits-${name}`} name={name} label={title} unit={unit} maxLength={17} defaultValue={values[name] ?? String(value)} error={errors[name]} />
        )} />
        <div className="limit-reason">
          <TextAreaField id="limits-words" name="words" label="Reason" hint="It stands in the log beside what changed." rows={2} maxLength={2000} defaultValue={values.words} error={errors.words} />
        </div>
      </>
    )} />
  );
}
