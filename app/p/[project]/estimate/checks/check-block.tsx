import type { ReactNode } from "react";
import type { Checks } from "#lib/edge/schema/check";
import type { CheckResult } from "#lib/edge/schema/check/result";
import { Block } from "../../../../_ui/block";
import { SelectField, TextAreaField, TextField } from "../../../../_ui/field";
import { ValueVerdictMark } from "../../../../_ui/mark";

export interface CheckProps {
  checks: Checks;
}

interface CheckBlockProps {
  id: string;
  title: string;
  note: string;
  result: CheckResult | null;
  fields: ReactNode;
  children?: ReactNode;
}

export function CheckBlock({ id, title, note, result, fields, children }: CheckBlockProps) {
  return (
    <Block title={title} note={note} id={id}>
      <div className="pad check">
        <div className="check-fields">{fields}</div>
        <button className="button" formAction={`#${id}`}>Work it out</button>
        {result && (
          <div className="check-result" role="status">
            <p className="check-words">{result.verdict && <ValueVerdictMark verdict={result.verdict} />} {result.words}</p>
            {result.notes.map((one) => <p className="letter" key={one}>{one}</p>)}
            {children}
          </div>
        )}
      </div>
    </Block>
  );
}

interface InputProps extends CheckProps {
  name: string;
  label: string;
  hint?: string;
}

export function Input({ checks: { typed, faults }, name, label, hint }: InputProps) {
  return <TextField id={name} name={name} label={label} hint={hint} defaultValue={typed[name] ?? ""} error={faults.find(({ field }) => field === name)?.message} autoComplete="off" spellCheck={false} />;
}

export function Pick({ checks: { typed, faults }, name, label, hint, options }: InputProps & { options: readonly string[] }) {
  return (
    <SelectField id={name} name={name} label={label} hint={hint} defaultValue={typed[name] ?? ""} error={faults.find(({ field }) => field === name)?.message}>
      <option value="">choose</option>
      {options.map((one) => <option key={one} value={one}>{one}</option>)}
    </SelectField>
  );
}

export function Lines({ checks: { typed, faults }, name, label, hint }: InputProps) {
  return <TextAreaField id={name} name={name} label={label} hint={hint} defaultValue={typed[name] ?? ""} error={faults.find(({ field }) => field === name)?.message} spellCheck={false} />;
}
