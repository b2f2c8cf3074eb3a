"use client";

import { TextField } from "../../../_ui/field";
import { ActionForm, type FormAction } from "../action-form";

/** Takes a whole schedule back, with the reason. */
export function UndoForm({ action, id, title }: { action: FormAction; id: string; title: string }) {
  return (
    <ActionForm
      action={action} name={`undo-${id}`} label={`Take ${title} back`} submit="Take it back" opener="Take back …"
      fields={(values, errors) => <TextField id={`undo-${id}-words`} name="words" label="Why" defaultValue={values.words} error={errors.words} maxLength={1_800} />}
    />
  );
}
