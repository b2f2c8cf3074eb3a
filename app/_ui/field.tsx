import { useId, type InputHTMLAttributes, type ReactNode, type SelectHTMLAttributes, type TextareaHTMLAttributes } from "react";

interface FieldWords {
  label: ReactNode;
  /** Also the anchor for the error summary: `#id`. Without it, one is made. */
  id?: string;
  hint?: ReactNode;
  error?: ReactNode;
  /** Stands at the right inside the field's line: "in", "°F". */
  unit?: ReactNode;
}

/** What the control inside a field must carry so that its hint and its error are read with it. */
export interface ControlProps {
  id: string;
  "aria-describedby": string | undefined;
  "aria-invalid": true | undefined;
}

/** Label above, heavy base line, hint under, error under in red. `children` draws the control with the given properties. */
export function Field({ label, id, hint, error, unit, children }: FieldWords & { children: (control: ControlProps) => ReactNode }) {
  const ownId = useId();
  const controlId = id ?? ownId;
  const describedBy = [hint && `${controlId}-hint`, error && `${controlId}-error`].filter(Boolean).join(" ");
  return (
    <div className={error ? "field field-bad" : "field"}>
      <label htmlFor={controlId}>{label}</label>
      <div className="control">
        {children({ id: controlId, "aria-describedby": describedBy || undefined, "aria-invalid": error ? true : undefined })}
        {unit && <span className="unit" aria-hidden="true">{unit}</span>}
      </div>
      {hint && <p className="hint" id={`${controlId}-hint`}>{hint}</p>}
      {error && <p className="error" id={`${controlId}-error`}>{error}</p>}
    </div>
  );
}

type Own<T> = FieldWords & Omit<T, keyof FieldWords>;

export function TextField({ label, id, hint, error, unit, ...rest }: Own<InputHTMLAttributes<HTMLInputElement>>) {
  return <Field {...{ label, id, hint, error, unit }}>{(control) => <input type="text" {...rest} {...control} />}</Field>;
}

/** A measured value: numeric keys on a phone, large figures, nothing corrected by the keyboard. */
export function ValueField(props: Own<InputHTMLAttributes<HTMLInputElement>>) {
  return <TextField inputMode="decimal" autoComplete="off" autoCorrect="off" spellCheck={false} className="value" {...props} />;
}

export function TextAreaField({ label, id, hint, error, unit, ...rest }: Own<TextareaHTMLAttributes<HTMLTextAreaElement>>) {
  return <Field {...{ label, id, hint, error, unit }}>{(control) => <textarea rows={3} {...rest} {...control} />}</Field>;
}

export function SelectField({ label, id, hint, error, unit, children, ...rest }: Own<SelectHTMLAttributes<HTMLSelectElement>>) {
  return <Field {...{ label, id, hint, error, unit }}>{(control) => <select {...rest} {...control}>{children}</select>}</Field>;
}
