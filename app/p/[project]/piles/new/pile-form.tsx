"use client";

import { useActionState } from "react";
import { Block } from "../../../../_ui/block";
import { Choice } from "../../../../_ui/choice";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { SelectField, TextAreaField, TextField, ValueField } from "../../../../_ui/field";
import { addOnePile } from "./actions";
import { OVERRIDE_PLACES, overrideName } from "./names";

export const PILE_FORM = "new-pile";

interface PileType {
  type: string;
  name: string;
  requirements: { value: string; label: string }[];
}

/** One pile on the plan: where it stands, what it is, and what its own drawing asks for. */
export function PileForm({ project, id, types }: { project: string; id: string; types: PileType[] }) {
  const [state, action] = useActionState(addOnePile, null);
  const fault = (field: string) => state?.faults.find((one) => one.field === field)?.message;
  const was = (field: string) => state?.values?.[field];
  const common = (field: string) => ({ id: field, name: field, error: fault(field), defaultValue: was(field) });
  return (
    <form id={PILE_FORM} action={action} className="pile-form" key={JSON.stringify(state?.values)}>
      {state && <ErrorSummary title={state.message} errors={state.faults.map(({ field, message }) => ({ message, href: `#${field ?? "bent"}` }))} />}
      <input type="hidden" name="project" value={project} />
      <input type="hidden" name="id" value={id} />
      <Block title="Where it stands">
        <div className="pad pile-place">
          <TextField {...common("bent")} label="Bent" hint="03" maxLength={6} autoCapitalize="characters" />
          <TextField {...common("row")} label="Row" hint="C" maxLength={4} autoCapitalize="characters" />
          <TextField {...common("mark")} label="Mark" hint="03-C, as on the drawing" maxLength={15} autoCapitalize="characters" />
          <ValueField {...common("latitude")} label="Latitude, degrees" hint="44.00012, if known" />
          <ValueField {...common("longitude")} label="Longitude, degrees" hint="-63.50034, if known" />
        </div>
      </Block>
      <Block title="What it is">
        <div className="pad stack">
          <Choice legend="Pile type" name="type" id="type" options={types.map(({ type, name }) => ({ value: type, label: `${type}, ${name}` }))} {...(was("type") ? { chosen: was("type") } : {})} error={fault("type")} />
          <TextAreaField {...common("words")} label="Remarks" maxLength={2_000} rows={2} />
        </div>
      </Block>
      <Block title="Requirements of this pile only" note="by its own drawing">
        <div className="pad stack">
          <p className="letter">A requirement of the type with another number, and the drawing that says so. Leave empty what follows the type.</p>
          {OVERRIDE_PLACES.map((place) => {
            const name = (part: Parameters<typeof overrideName>[1]) => overrideName(place, part);
            const used = ["requirement", "first", "drawing"].some((part) => was(name(part as "first")) || fault(name(part as "first")));
            return (
              <details key={place} open={place === 1 || used}>
                <summary>Requirement {place}</summary>
                <div className="pile-override">
                  <SelectField {...common(name("requirement"))} label="Requirement">
                    <option value="">none</option>
                    {types.map(({ type, name: typeName, requirements }) => (
                      <optgroup key={type} label={`${type}, ${typeName}`}>{requirements.map(({ value, label }) => <option key={value} value={value}>{label}</option>)}</optgroup>
                    ))}
                  </SelectField>
                  <ValueField {...common(name("first"))} label="New limit" />
                  <ValueField {...common(name("second"))} label="Upper end, of a range" />
                  <TextField {...common(name("drawing"))} label="Drawing" hint="S-114 rev. 2, note 5" maxLength={120} />
                  <TextField {...common(name("words"))} label="In words" maxLength={400} />
                </div>
              </details>
            );
          })}
        </div>
      </Block>
    </form>
  );
}
