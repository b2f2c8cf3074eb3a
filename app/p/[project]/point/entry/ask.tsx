"use client";

import { useId } from "react";
import { fieldName } from "#lib/domain/point/missing";
import type { JudgedEntry } from "#lib/domain/point/judge-entry";
import type { AskView } from "#lib/services/entry-view";
import { DimensionLine } from "../../../../_ui/dimension-line";
import { ValueVerdictMark } from "../../../../_ui/mark";
import { useEntry } from "./entry-state";
import { Keypad } from "./keypad";
import { besideName, intent } from "./fields";

/** One quantity: what it needs, what it is read with, and a row for each value with its verdict beside it. */
export function Ask({ ask }: { ask: AskView }) {
  const { view, rows, addRow } = useEntry();
  const headingId = useId();
  const derivedHere = view.asks.find(({ besideOf }) => besideOf === ask.id);
  const asked = derivedHere ?? ask;
  return (
    <section className="ask" role="group" aria-labelledby={headingId}>
      <div className="ask-head">
        <h3 id={headingId}>{ask.name}</h3>
        <p className="needs">{asked.needs === "recorded" || asked.needs === "stated" ? asked.needs : `needs ${asked.needs}`}</p>
        {derivedHere && <p className="letter">{derivedHere.name}{derivedHere.of ? ` of each ${derivedHere.of}` : ""}. {derivedHere.hint}</p>}
        {ask.hint && <p className="letter">{ask.hint}</p>}
        {[ask, derivedHere].map((one) => one?.override && (
          <p className="letter required" key={one.id}>This pile only: {one.override.drawing} (type: {one.override.was})</p>
        ))}
      </div>
      {ask.instrument && <InstrumentField ask={ask} />}
      {ask.entry.kind === "measured" && <Keypad ask={ask} derived={derivedHere ?? null} />}
      <ol className={ask.of === null ? "rows rows-single" : "rows"}>
        {rows(ask.id).map((item) => <Row key={item ?? "only"} ask={ask} derived={derivedHere ?? null} item={item} />)}
      </ol>
      {ask.of !== null && ask.count === null && <button type="button" className="button more-rows" onClick={addRow}>One more {ask.of}</button>}
    </section>
  );
}

function InstrumentField({ ask }: { ask: AskView }) {
  const { register, start } = useEntry();
  const name = besideName.instrument(ask.id);
  return (
    <div className="field ask-instrument">
      <label htmlFor={name}>Read with {ask.instrument?.class}</label>
      <div className="control">
        <select id={name} {...register(name)} defaultValue={start[name]}>
          <option value="">not named yet</option>
          {ask.instrument?.options.map(({ id, label }) => <option key={id} value={id}>{label}</option>)}
        </select>
      </div>
    </div>
  );
}

/** A value that the tool works out from others of the same point; it follows them as they are typed. */
export function Derived({ ask }: { ask: AskView }) {
  const { judged, rows } = useEntry();
  const headingId = useId();
  return (
    <section className="ask ask-derived" role="group" aria-labelledby={headingId}>
      <div className="ask-head">
        <h3 id={headingId}>{ask.name}</h3>
        <p className="needs">needs {ask.needs}</p>
        {ask.hint && <p className="letter">{ask.hint}</p>}
        {ask.override && <p className="letter required">This pile only: {ask.override.drawing} (type: {ask.override.was})</p>}
      </div>
      {rows(ask.id).map((item) => {
        const value = judged(ask.id, item);
        return (
          <div className={rowClass(value)} key={item ?? "only"} id={fieldName.value(ask.id, item)} tabIndex={-1}>
            <p className="follows">
              <output className="amount num">{value?.measured}</output>
              {value?.verdict && <ValueVerdictMark verdict={value.verdict} />}
            </p>
            <Beneath ask={ask} item={item} value={value} of={ask} />
          </div>
        );
      })}
    </section>
  );
}

function rowClass(value: JudgedEntry | undefined): string {
  return value?.verdict === "fails" ? "row row-bad" : "row";
}

function Row({ ask, derived, item }: { ask: AskView; derived: AskView | null; item: number | null }) {
  const { judged, fields, faultAt, refusal } = useEntry();
  const name = fieldName.value(ask.id, item);
  const own = judged(ask.id, item);
  const followed = derived ? judged(derived.id, item) : undefined;
  const value = followed ?? own;
  const typed = (fields[name] ?? "").trim() !== "";
  // Whole sentences wait until something is typed, or sending was tried: an empty form is not full of faults.
  const fault = typed || refusal ? faultAt(name) : undefined;
  const unread = fault !== undefined && typed && own?.verdict === "not measured" && !own.asked;
  return (
    <li className={rowClass(value)}>
      {item !== null && <label className="row-number" htmlFor={name}><span className="hide">{ask.name}, {ask.of} </span>{item}</label>}
      <Control ask={ask} item={item} describedBy={`${name}-said`} invalid={fault !== undefined || value?.verdict === "fails"} />
      <div className="row-said" id={`${name}-said`}>
        {unread ? null : (
          <>
            {followed && <output className="amount num">{followed.measured || ""}</output>}
            {value && (value.verdict ? <ValueVerdictMark verdict={value.verdict} /> : typed && <span className="letter">recorded</span>)}
          </>
        )}
      </div>
      <Beneath ask={ask} item={item} value={value} of={derived && followed ? derived : ask} fault={fault} />
    </li>
  );
}

/** What stands under a row: the question about its unit, how far it is off, its instrument's mark, and the reason that is asked for. */
function Beneath({ ask, item, value, of, fault }: { ask: AskView; item: number | null; value: JudgedEntry | undefined; of: AskView; fault?: string | undefined }) {
  const { register, start, fields, refusal, faultAt } = useEntry();
  const name = fieldName.value(ask.id, item);
  const reason = fieldName.reason(of.id, item);
  const given = (fields[reason] ?? "") !== "";
  const verdict = value?.verdict;
  const asksReason = given || verdict === "fails" || verdict === "cannot tell" || (refusal !== null && verdict === "not measured" && of.entry.kind !== "derived");
  const { drawn } = value ?? {};
  const reasonFault = refusal ? faultAt(reason) : undefined;
  return (
    <>
      {ask.entry.kind === "measured" && <input type="hidden" {...register(besideName.kept(ask.id, item))} defaultValue={start[besideName.kept(ask.id, item)]} />}
      {value?.asked && <UnitQuestion field={name} asked={value.asked} margin={value.margin} />}
      {verdict === "fails" && drawn && !value?.asked && (
        <div className="row-drawn">
          <DimensionLine
            verdict="fails" value={drawn.value} unit={drawn.unit}
            {...(drawn.min === null ? {} : { min: drawn.min })} {...(drawn.max === null ? {} : { max: drawn.max })} {...(drawn.uncertainty === "0" ? {} : { uncertainty: drawn.uncertainty })}
          />
        </div>
      )}
      {value?.margin && !value.asked && verdict !== "meets" && !(verdict === "fails" && drawn) && (
        <p className={verdict === "fails" ? "row-margin bad" : "row-margin"}>{verdict === "meets, inside uncertainty" ? value.margin.split(": ").at(-1) : value.margin}</p>
      )}
      {value?.mark && value.mark !== "instrument not named" && <p className="row-margin doubtful">{value.mark}</p>}
      {fault && !value?.asked && <p className="error">{fault}</p>}
      {asksReason && !value?.asked && (
        <div className={reasonFault ? "field field-bad row-reason" : "field row-reason"}>
          <label htmlFor={reason}>{verdict === "not measured" ? "Or say why it was not measured" : "Mend it, or say why it is sent as it is"}</label>
          <div className="control"><textarea rows={2} id={reason} maxLength={2_000} {...register(reason)} defaultValue={start[reason]} aria-describedby={reasonFault ? `${reason}-error` : undefined} /></div>
          {reasonFault && <p className="error" id={`${reason}-error`}>{reasonFault}</p>}
        </div>
      )}
    </>
  );
}

/** Asked, never converted: the person says which unit was meant. */
function UnitQuestion({ field, asked, margin }: { field: string; asked: NonNullable<JudgedEntry["asked"]>; margin: string }) {
  const { press } = useEntry();
  const button = (words: string, act: string) => (
    <button
      className="button" name="intent" value={act}
      onClick={(event) => {
        event.preventDefault();
        press(act);
      }}
    >
      {words}
    </button>
  );
  return (
    <div className="row-question" role="group" aria-label={`Unit of ${asked.number}`}>
      <p><b>{margin}.</b> Did you mean {asked.number} {asked.other}?</p>
      <div className="button-row">
        {button(`It is ${asked.number} ${asked.other}`, intent.useUnit(field, asked.other))}
        {button(`It is ${asked.number} ${asked.unit}`, intent.keepUnit(field, asked.unit))}
      </div>
    </div>
  );
}

function Control({ ask, item, describedBy, invalid }: { ask: AskView; item: number | null; describedBy: string; invalid: boolean }) {
  const { register, start } = useEntry();
  const name = fieldName.value(ask.id, item);
  const label = item === null ? ask.name : `${ask.name}, ${ask.of ?? "item"} ${item}`;
  const common = { "aria-label": label, "aria-describedby": describedBy, "aria-invalid": invalid || undefined };
  switch (ask.entry.kind) {
    case "measured": {
      const unit = besideName.unit(ask.id, item);
      return (
        <div className="row-control">
          <input className="value" id={name} inputMode="decimal" autoComplete="off" autoCorrect="off" spellCheck={false} maxLength={60} {...register(name)} defaultValue={start[name]} {...common} />
          <select className="row-unit" id={unit} {...register(unit)} defaultValue={start[unit]} aria-label={`Unit of ${label}`}>
            {ask.units.map((one) => <option key={one} value={one}>{one}</option>)}
          </select>
        </div>
      );
    }
    case "count":
      return <div className="row-control"><input className="value" id={name} inputMode="numeric" autoComplete="off" maxLength={5} {...register(name)} defaultValue={start[name]} {...common} /></div>;
    case "stated":
      return (
        <fieldset className="row-answer">
          <legend className="hide">{label}</legend>
          {(["yes", "no"] as const).map((answer, position) => (
            <label key={answer}>
              <input type="radio" id={position === 0 ? name : undefined} value={answer} {...register(name)} defaultChecked={start[name] === answer} aria-describedby={describedBy} />
              <span>{answer}</span>
            </label>
          ))}
        </fieldset>
      );
    case "words":
      return (
        <div className="row-control row-control-words">
          {ask.grades.length > 0 ? (
            <select id={name} {...register(name)} defaultValue={start[name]} {...common}>
              <option value="">not given yet</option>
              {ask.grades.map((grade) => <option key={grade}>{grade}</option>)}
            </select>
          ) : (
            <input id={name} autoComplete="off" autoCapitalize="characters" maxLength={200} {...register(name)} defaultValue={start[name]} {...common} />
          )}
        </div>
      );
    case "derived":
      return null;
  }
}
