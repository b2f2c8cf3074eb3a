"use client";

import { Choice } from "../../../../../../_ui/choice";
import { TextAreaField } from "../../../../../../_ui/field";
import { ActionForm, type FormAction } from "../../../../action-form";

interface AnswerFormProps {
  action: FormAction;
  id: string;
  sameFile: boolean;
  places: { earlier: string; later: string };
  outcomes: Record<"earlier" | "later" | "two" | "cannot", string>;
}

/** Whether it is one picture, and to which point it belongs. Nothing is chosen before the person chooses. */
export function AnswerForm({ action, id, sameFile, places, outcomes }: AnswerFormProps) {
  return (
    <ActionForm action={action} name="likeness" submit="Keep this answer" label="Is it the same picture?" fields={(values, errors) => (
      <div className="pad stack">
        <input type="hidden" name="id" value={id} />
        <Choice
          key={values.answer} id="likeness-answer" name="answer" legend="Is it the same picture?" chosen={values.answer} error={errors.answer}
          options={[
            { value: "earlier", label: `Same picture, it belongs to ${places.earlier}`, consequence: outcomes.earlier },
            { value: "later", label: `Same picture, it belongs to ${places.later}`, consequence: outcomes.later },
            ...(sameFile ? [] : [{ value: "two", label: "Two pictures", consequence: outcomes.two }]),
            { value: "cannot", label: "Cannot tell", consequence: outcomes.cannot },
          ]}
        />
        <TextAreaField id="likeness-words" name="words" label="Reason, goes with the photo that does not count" maxLength={2000} defaultValue={values.words} error={errors.words} />
      </div>
    )} />
  );
}
