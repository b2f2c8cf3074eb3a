"use client";

import { useCallback } from "react";
import { DESIGN_PARTS, JACKET_FACTS, readSet, SECTION_FIELDS, type DesignField } from "#lib/domain/requirement/draft-design";
import type { Values } from "#lib/domain/requirement/draft-quantity";
import { followDesign } from "#lib/domain/requirement/follow";
import type { RequirementSet } from "#lib/domain/requirement/set";
import type { FormAction } from "../action-form";
import { DraftForm, DraftSelect, DraftText, useTexts, type DraftFields } from "./draft-form";
import { wordsOfMoved } from "./moved-words";

/** Jacket, design and data sheets of one pile type. */
export function DesignForm({ action, set, values }: { action: FormAction; set: RequirementSet; values: Values }) {
  const check = useCallback((typed: Values) => {
    const read = readSet(typed, set);
    return "faults" in read ? read.faults : [];
  }, [set]);
  return (
    <DraftForm action={action} name="design" label={`Type ${set.type}`} submit={`Keep type ${set.type}`} values={values} check={check}>
      {(fields) => (
        <>
          <Part title="Type and jacket">
            <DraftText fields={fields} name="name" label="Name of the type" />
            <DraftText fields={fields} name="coreWidthIn" label="Width across the pile, in" inputMode="decimal" short />
            {JACKET_FACTS.map(([name, label]) => <DraftText key={name} fields={fields} name={`jacket-${name}`} label={label} inputMode={name.endsWith("In") ? "decimal" : "numeric"} short />)}
          </Part>
          <Part title="Section of the pile">{SECTION_FIELDS[set.core].map((field) => <Fact key={field.name} fields={fields} part="section" field={field} />)}</Part>
          {Object.entries(DESIGN_PARTS).map(([part, { title, fields: facts }]) => (
            <Part key={part} title={title}>{facts.map((field) => <Fact key={field.name} fields={fields} part={part} field={field} />)}</Part>
          ))}
          <Moves fields={fields} set={set} />
        </>
      )}
    </DraftForm>
  );
}

function Part({ title, children }: { title: string; children: React.ReactNode }) {
  return <section className="line-group"><h3>{title}</h3><div className="form-grid design-grid">{children}</div></section>;
}

function Fact({ fields, part, field: { name, label, kind, optional } }: { fields: DraftFields; part: string; field: DesignField }) {
  const words = optional ? `${label}, if any` : label;
  if (kind === "basis") return <DraftSelect fields={fields} name={`${part}-${name}`} label={words} options={[{ value: "mass", label: "mass" }, { value: "volume", label: "volume" }]} />;
  if (kind === "life") return <DraftText fields={fields} name={`${part}-${name}`} label={words} rows={8} hint="Or one line: 40 min at 25, factor 2." />;
  return <DraftText fields={fields} name={`${part}-${name}`} label={words} short={kind !== "words"} />;
}

/** The limits that move with what is typed, before it is kept. */
function Moves({ fields, set }: { fields: DraftFields; set: RequirementSet }) {
  const read = readSet(useTexts(fields), set);
  const moved = "set" in read ? followDesign(read.set).moved : [];
  return <p className="rule-follows letter" role="status">{moved.length > 0 ? `Moves: ${moved.map(wordsOfMoved).join("; ")}.` : "Moves no limit."}</p>;
}
