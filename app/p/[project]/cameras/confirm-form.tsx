"use client";

import { TextAreaField } from "../../../_ui/field";
import { ActionForm, type FormAction } from "../action-form";

/** One confirmation for a camera; words may go with it. */
export function ConfirmForm({ action, id, seen, opener }: { action: FormAction; id: string; seen: number; opener?: string }) {
  return (
    <ActionForm action={action} name="clock" submit="Confirm this clock" label="Confirm this clock" opener={opener} fields={(values, errors) => (
      <>
        <input type="hidden" name="id" value={id} />
        <input type="hidden" name="seen" value={seen} />
        <TextAreaField id="clock-words" name="words" label="Words, if any" rows={2} maxLength={2000} defaultValue={values.words} error={errors.words} />
      </>
    )} />
  );
}
