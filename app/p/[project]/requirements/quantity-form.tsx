"use client";

import { useCallback, useMemo } from "react";
import { UNIT_SYMBOLS } from "#lib/domain/quantity/unit";
import { readQuantity, ruleOfValues, type Values } from "#lib/domain/requirement/draft-quantity";
import { FOLLOW_WORDS, type Followed, type FollowingSet } from "#lib/domain/requirement/follow";
import { isRuleForm, RULE_FIELDS, RULE_FORMS, type RuleField } from "#lib/domain/requirement/rule-field";
import { FOLLOWED, type Quantity } from "#lib/domain/requirement/set";
import type { FormAction } from "../action-form";
import { DraftChoice, DraftForm, DraftSelect, DraftText, useTexts, type DraftFields } from "./draft-form";
import { GRADES_LIST, GradeScales } from "./grade-scales";
import { TryValue } from "./try-value";
import { movedWords } from "./moved-words";

/** What a quantity may name: points before this one, and what the point measures and shows. */
export interface QuantityOffers {
  points: readonly { value: string; label: string }[];
  quantities: readonly { value: string; label: string }[];
  photos: readonly { value: string; label: string }[];
  instruments: readonly string[];
}

export interface QuantityFormProps {
  action: FormAction;
  line: string;
  values: Values;
  /** Types of the row with their short names; the limit of each in the revision before. */
  types: readonly { type: string; label: string; was: string | null }[];
  /** The quantity of each type as it stands in the draft; null where it is new. */
  before: Readonly<Record<string, Quantity | null>>;
  isNew: boolean;
  offers: QuantityOffers;
  /** The types' facts with the lines that follow from them. */
  following: readonly FollowingSet[];
  closeHref: string;
}

/** The open quantity: what is asked, one number for each type, and what a value would come to. */
export function QuantityForm({ action, line, values, types, before, isNew, offers, following, closeHref }: QuantityFormProps) {
  const check = useCallback((typed: Values) => {
    const chosen = isNew ? Object.fromEntries((typed.types ?? "").split(",").map((type) => type.trim()).filter(Boolean).map((type) => [type, null])) : before;
    if (Object.keys(chosen).length === 0) return [{ field: "types", message: "Choose the types that are asked for it." }];
    const read = readQuantity({ ...typed, id: typed.id || "new" }, chosen);
    return "faults" in read ? read.faults : [];
  }, [before, isNew]);
  return (
    <DraftForm
      action={action} name="quantity" label={isNew ? "A quantity of this point" : `Quantity ${values.name ?? ""}`} submit={isNew ? "Add this quantity" : "Keep this quantity"}
      values={values} check={check} beside={<a className="button" href={closeHref}>Close</a>}
    >
      {(fields) => <Fields {...{ fields, line, types, isNew, offers, following, before }} />}
    </DraftForm>
  );
}

type FieldsProps = Pick<QuantityFormProps, "line" | "types" | "isNew" | "offers" | "following" | "before"> & { fields: DraftFields };

function Fields({ fields, line, types, isNew, offers, following, before }: FieldsProps) {
  const texts = useTexts(fields);
  const form = texts.form;
  const shown = isNew ? types.filter(({ type }) => (texts.types ?? "").split(",").map((one) => one.trim()).includes(type)) : types;
  const kept = form === "all of" || form === "any of";
  return (
    <>
      {isNew && (
        <div className="form-grid">
          <DraftText fields={fields} name="name" label="What is measured or stated" />
          <DraftChoice fields={fields} name="types" legend="On types" many options={types.map(({ type, label }) => ({ value: type, label }))} />
        </div>
      )}
      {kept
        ? <p className="letter">{form === "all of" ? "Every one of several rules has to hold" : "One of several rules has to hold"}: such a rule is written in the file of the set.</p>
        : <DraftChoice fields={fields} name="form" legend="Form of the rule" hideLegend options={RULE_FORMS.map((one) => ({ value: one, label: RULE_FIELDS[one].short }))} />}
      {isRuleForm(form) && (
        <div className="rule-limits">
          <div>
            <Limits {...{ fields, types: shown, offers, texts }} of={RULE_FIELDS[form].fields} />
            {form === "grade" && <GradeScales texts={texts} types={shown} />}
            <Follows {...{ line, texts, types: shown, following, before }} />
          </div>
          <TryValue texts={texts} types={shown} />
        </div>
      )}
      <details className="rule-details" open={isNew || DETAIL_FIELDS.some((name) => fields.errorAt(name)) || shown.some(({ type }) => fields.errorAt(`count-${type}`) ?? fields.errorAt(`sampleN-${type}`)) || undefined}>
      <summary>{detailWords(texts)}</summary>
      <Many fields={fields} types={shown} texts={texts} />
      <div className="form-grid rule-more">
        {!isNew && <DraftText fields={fields} name="name" label="Name" />}
        <DraftText fields={fields} name="instrument" label="Measured with, a class of instrument" list="requirement-instruments" />
        <div className="rule-pair">
          <DraftText fields={fields} name="accuracyValue" label="accurate to ±" inputMode="decimal" short />
          <DraftSelect fields={fields} name="accuracyKind" label="which is" options={[{ value: "per cent", label: "% of the value" }, { value: "absolute", label: "in the unit" }]} />
        </div>
        {form === "min" && <DraftSelect fields={fields} name="follows" label="The limit" options={[{ value: "", label: "is the specification's own" }, ...FOLLOWED.map((one) => ({ value: one, label: `follows: ${one}` }))]} />}
        <DraftText fields={fields} name="hint" label="Hint for the crew" />
      </div>
      </details>
      <datalist id="requirement-instruments">{offers.instruments.map((one) => <option key={one} value={one} />)}</datalist>
    </>
  );
}

const DETAIL_FIELDS = ["name", "instrument", "accuracyValue", "accuracyKind", "follows", "hint", "many", "of"];

/** What is folded away, in one line: "tape, ± 0.1 in the unit · one value". */
function detailWords({ instrument, accuracyValue, accuracyKind, many, of }: Values): string {
  const accuracy = accuracyValue ? `± ${accuracyValue} ${accuracyKind === "per cent" ? "%" : "in the unit"}` : "no accuracy asked";
  return [instrument ? `measured with ${instrument}, ${accuracy}` : "no instrument", many === "each" ? `one for each ${of ?? ""}` : "one value", "name, hint"].join(" · ");
}

/** The numbers of a rule, a column for each type, and what is shared behind them. */
function Limits({ fields, types, of, offers, texts }: { fields: DraftFields; types: FieldsProps["types"]; of: readonly RuleField[]; offers: QuantityOffers; texts: Values }) {
  const own = of.filter((one) => one.own);
  const worked = texts.form === "min" && texts.follows !== "" && texts.follows !== "overlap" && texts.follows !== undefined;
  const shared = of.filter((one) => !one.own).map((field) => <Shared key={field.name} {...{ fields, field, offers }} />);
  const numbers = own.map((field) => types.map(({ type, label }) => (
    <DraftText
      key={`${field.name} ${type}`} fields={fields} name={`${field.name}-${type}`} short={field.kind !== "words"} inputMode={field.kind === "number" ? "decimal" : field.kind === "whole" ? "numeric" : undefined}
      label={<>{label} <span className="letter">{`${field.label}${field.optional ? ", if any" : ""}`}</span></>} readOnly={worked && field.name === "limit"} list={texts.form === "grade" ? GRADES_LIST : undefined}
    />
  )));
  const hints = own.map(({ hint }) => hint).filter(Boolean).map((hint) => <p key={hint} className="hint">{hint}</p>);
  // One number each and two short words fit into one line.
  if (own.length === 1 && of.length <= 3 && of.every(({ kind }) => kind !== "rows")) return <div className="limit-fields">{numbers}{shared}{hints}</div>;
  return (
    <div className="stack">
      {own.length > 0 && <div className={`limit-fields limit-types limit-types-${Math.min(types.length, 4)}`}>{numbers}</div>}
      {shared.length > 0 && <div className="limit-fields limit-shared">{shared}</div>}
      {hints}
    </div>
  );
}

function Shared({ fields, field, offers }: { fields: DraftFields; field: RuleField; offers: QuantityOffers }) {
  const { name, label, kind, hint, optional } = field;
  const none = optional ? [{ value: "", label: "none" }] : [];
  switch (kind) {
    case "unit":
      return <DraftSelect fields={fields} name={name} label={label} options={[...none, ...UNIT_SYMBOLS.map((unit) => ({ value: unit, label: unit === "1" ? "a pure number" : unit }))]} />;
    case "choice":
      return <DraftSelect fields={fields} name={name} label={label} options={field.options ?? []} />;
    case "line":
      return <DraftSelect fields={fields} name={name} label={label} options={offers.points} />;
    case "quantity":
      return <DraftSelect fields={fields} name={name} label={label} options={offers.quantities} />;
    case "photo":
      return <DraftSelect fields={fields} name={name} label={label} options={[{ value: "", label: "no photo" }, ...offers.photos]} />;
    case "rows":
      return <div className="limit-wide"><DraftText fields={fields} name={name} label={label} hint={hint} rows={5} /></div>;
    default:
      return <DraftText fields={fields} name={name} label={label} hint={hint} />;
  }
}

/** One value, or one for each bar, bolt or face: all of them, or a sample. */
function Many({ fields, types, texts }: { fields: DraftFields; types: FieldsProps["types"]; texts: Values }) {
  return (
    <div className="rule-many">
      <DraftSelect fields={fields} name="many" label="Asked for" options={[{ value: "one", label: "one value" }, { value: "each", label: "list all: one for each" }]} />
      {texts.many === "each" && (
        <>
          <DraftText fields={fields} name="of" label="of what" hint="bar, bolt, face, lift" />
          {types.map(({ type, label }) => (
            <div className="rule-sample" key={type}>
              <DraftText fields={fields} name={`count-${type}`} label={<>{label} <span className="letter">how many; empty: as there are</span></>} inputMode="numeric" short />
              <DraftText fields={fields} name={`sampleN-${type}`} label={<><span className="letter">checked </span>n</>} inputMode="numeric" short />
              <DraftText fields={fields} name={`sampleAccept-${type}`} label={<><span className="letter">may fail </span>c</>} inputMode="numeric" short />
            </div>
          ))}
          <p className="hint">Checked left empty: all of them. A sample of n is accepted with at most c that fail.</p>
        </>
      )}
    </div>
  );
}

/** What a change here moves at other points, before it is kept. */
function Follows({ line, texts, types, following, before }: Pick<FieldsProps, "line" | "types" | "following" | "before"> & { texts: Values }) {
  const moves = useMemo(() => {
    const rules = Object.fromEntries(types.map(({ type }) => [type, ruleOfValues(texts, type)]));
    return movedWords({ line, quantity: texts.id ?? "", follows: texts.follows ?? "", rules, following, before });
  }, [texts, types, following, line, before]);
  const by = FOLLOWED.find((one): one is Followed => one === texts.follows);
  if (!by || texts.form !== "min") return null;
  return (
    <div className="rule-follows letter" role="status">
      <p>{by === "overlap" ? "This overlap is the sheet's design: other limits follow from it." : `This limit follows from the design of its type: ${FOLLOW_WORDS[by]}. Change it under Design and data sheets.`}</p>
      {moves.length > 0 && <p>Moves with it: {moves.join("; ")}.</p>}
    </div>
  );
}
