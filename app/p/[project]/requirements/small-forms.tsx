"use client";

import { POINT_KINDS } from "#lib/domain/point/state";
import { JACKET_FACTS } from "#lib/domain/requirement/draft-design";
import { Choice } from "../../../_ui/choice";
import { TextAreaField, TextField } from "../../../_ui/field";
import { KIND_WORDS } from "../../../_ui/mark";
import { ActionForm, type FormAction } from "../action-form";

type Errors = Record<string, string>;

/** The next revision begins as the one before stands. */
export function StartForm({ action, from, letter }: { action: FormAction; from: string; letter: string }) {
  return <ActionForm action={action} name="start" submit={`Begin revision ${letter} from ${from}`} label={`Begin revision ${letter}`} fields={() => null} />;
}

function TypeFields({ form, values, errors }: { form: string; values: Errors; errors: Errors }) {
  const text = (name: string, label: string, hint?: string) => <TextField key={name} id={`${form}-${name}`} name={name} label={label} hint={hint} inputMode={name === "type" || name === "name" ? undefined : "decimal"} defaultValue={values[name]} error={errors[name]} autoComplete="off" />;
  return (
    <div className="form-grid">
      {text("type", "Type, one letter")}
      {text("name", "Name of the type")}
      <Choice id={`${form}-core`} name="core" legend="Core" inRow chosen={values.core} error={errors.core} options={[{ value: "H", label: "H" }, { value: "square", label: "square" }, { value: "round", label: "round" }]} />
      {text("coreWidthIn", "Width across the pile, in")}
      {JACKET_FACTS.map(([name, label]) => text(name, label))}
    </div>
  );
}

/** A revision from the catalogue's points, with no number of any specification in it. */
export function StartBareForm({ action, letter }: { action: FormAction; letter: string }) {
  return (
    <ActionForm action={action} name="bare" submit={`Begin revision ${letter} without numbers`} label={`Begin revision ${letter} without numbers`} opener="Begin from the catalogue’s points" fields={(values, errors) => (
      <>
        <TextField id="bare-title" name="title" label="What the revision is for" defaultValue={values.title} error={errors.title} />
        <TypeFields form="bare" values={values} errors={errors} />
      </>
    )} />
  );
}

export function AddTypeForm({ action }: { action: FormAction }) {
  return <ActionForm action={action} name="type" submit="Add this type" label="Add a pile type" opener="Add a pile type" fields={(values, errors) => <TypeFields form="type" values={values} errors={errors} />} />;
}

export function TitleForm({ action, title }: { action: FormAction; title: string }) {
  return <ActionForm action={action} name="title" submit="Keep the title" label="Title of the revision" fields={(values, errors) => <TextField id="title-title" name="title" label="What the revision is for" defaultValue={values.title ?? title} error={errors.title} />} />;
}

/** A point of the project's own behind this one: 15a after 15. */
export function AddPointForm({ action, after, types }: { action: FormAction; after: string; types: readonly { type: string; label: string }[] }) {
  return (
    <ActionForm action={action} name="add-point" submit="Add this point" label={`A point after ${after}`} opener={`Add a point after ${after}`} fields={(values, errors) => (
      <div className="form-grid">
        <TextField id="add-point-name" name="name" label="Name of the point" defaultValue={values.name} error={errors.name} />
        <Choice id="add-point-kind" name="kind" legend="Kind" inRow chosen={values.kind} error={errors.kind} options={POINT_KINDS.map((kind) => ({ value: kind, label: `${kind}, ${KIND_WORDS[kind]}` }))} />
        <fieldset className={errors.types ? "choice choice-row field-bad" : "choice choice-row"} aria-describedby={errors.types ? "add-point-types-error" : undefined}>
          <legend>On types</legend>
          <div className="options">
            {types.map(({ type, label }, position) => <label key={type}><input type="checkbox" id={position === 0 ? "add-point-types" : undefined} name="types" value={type} defaultChecked={values.types?.split(", ").includes(type) ?? true} /><span>{label}</span></label>)}
          </div>
          {errors.types && <p className="error" id="add-point-types-error">{errors.types}</p>}
        </fieldset>
        <Choice
          id="add-point-waitedFor" name="waitedFor" legend={`Points that stand on ${after}`} chosen={values.waitedFor} error={errors.waitedFor}
          options={[{ value: "yes", label: "wait for the new point too" }, { value: "no", label: "do not wait for it" }]}
        />
      </div>
    )} />
  );
}

/** One press that takes something out of the draft; what was approved stays as it is. */
export function TakeOutForm({ action, name, what }: { action: FormAction; name: string; what: string }) {
  return <ActionForm action={action} name={name} submit={what} label={what} fields={() => null} />;
}

export function DiscardForm({ action, letter }: { action: FormAction; letter: string }) {
  return (
    <ActionForm action={action} name="discard" submit="Discard the draft" label="Discard the draft" opener="Discard the draft" fields={(_values, errors) => (
      <Choice id="discard-sure" name="sure" legend={`Discard what is written of revision ${letter}?`} inRow error={errors.sure} options={[{ value: "yes", label: "yes, all of it" }]} />
    )} />
  );
}

/** The QC manager has read it all, or says what has to be mended. */
export function ReviewForm({ action, id }: { action: FormAction; id: string }) {
  return (
    <ActionForm action={action} name="review" submit="Record the review" label="Review the draft" fields={(values, errors) => (
      <>
        <input type="hidden" name="id" value={id} />
        <Choice
          id="review-outcome" name="outcome" legend="You have read every change" chosen={values.outcome} error={errors.outcome}
          options={[{ value: "reviewed", label: "Reviewed", consequence: "It goes to the engineer. A later change undoes it." }, { value: "sent back", label: "Sent back", consequence: "With words on what has to be mended." }]}
        />
        <TextAreaField id="review-words" name="words" label="Words" defaultValue={values.words} error={errors.words} />
      </>
    )} />
  );
}
