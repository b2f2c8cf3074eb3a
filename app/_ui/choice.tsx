import { useId, type ReactNode } from "react";

export interface ChoiceOption {
  value: string;
  label: ReactNode;
  /** What follows from choosing it: "4 in doubt, 1 needs a value". */
  consequence?: ReactNode;
}

interface ChoiceProps {
  /** The question. */
  legend: ReactNode;
  name: string;
  options: ChoiceOption[];
  /** Only what the person chose before: nothing is chosen for them. */
  chosen?: string;
  hint?: ReactNode;
  error?: ReactNode;
  /** Also the anchor for the error summary: `#id` is the first option. */
  id?: string;
  required?: boolean;
  /** Short answers that stay in one row. */
  inRow?: boolean;
  form?: string;
}

/** One answer out of a few, as framed lines; the chosen one gets the heavy frame. */
export function Choice({ legend, name, options, chosen, hint, error, id, required, inRow = false, form }: ChoiceProps) {
  const ownId = useId();
  const baseId = id ?? ownId;
  const describedBy = [hint && `${baseId}-hint`, error && `${baseId}-error`].filter(Boolean).join(" ") || undefined;
  return (
    <fieldset className={`choice${inRow ? " choice-row" : ""}${error ? " field-bad" : ""}`} aria-describedby={describedBy}>
      <legend>{legend}</legend>
      {hint && <p className="hint" id={`${baseId}-hint`}>{hint}</p>}
      <div className="options">
        {options.map((option, position) => (
          <label key={option.value}>
            <input
              type="radio"
              id={position === 0 ? baseId : undefined}
              name={name}
              value={option.value}
              defaultChecked={option.value === chosen}
              required={required}
              form={form}
            />
            <span>
              {option.label}
              {option.consequence && <small>{option.consequence}</small>}
            </span>
          </label>
        ))}
      </div>
      {error && <p className="error" id={`${baseId}-error`}>{error}</p>}
    </fieldset>
  );
}
