"use client";

import { fieldName } from "#lib/domain/point/missing";
import type { Fault } from "#lib/domain/refusal";
import { Block } from "../../../../_ui/block";
import { Button } from "../../../../_ui/button";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { Ask, Derived } from "./ask";
import { ENTRY_FORM, sendByScript, useEntry } from "./entry-state";
import { besideName, intent } from "./fields";
import { PointInputs } from "./point-inputs";
import { DocumentField, Subject } from "./photos";

/** The entry of a point: what it asks for in the order in which it is done, then when, then what shows it. */
export function EntryForm({ submissionId }: { submissionId: string }) {
  const { view, point, refusal, action, dispatch, press } = useEntry();
  const { hrefOf } = useLinks();
  const counted = view.subjects.reduce((sum, { count }) => sum + count, 0);
  return (
    <form id={ENTRY_FORM} className="entry" action={action} onSubmit={sendByScript(dispatch)} noValidate>
      {/* What the Enter key presses: it keeps the draft, and never sends or confirms anything. */}
      <button className="hide" name="intent" value={intent.keep} tabIndex={-1} aria-hidden="true" data-enter="">Keep draft</button>
      <PointInputs point={point} />
      <input type="hidden" name="id" value={submissionId} />
      {refusal && (
        <ErrorSummary title={refusal.message} errors={refusal.faults.map(({ field, message }) => ({ message, href: hrefOf(field) }))} />
      )}
      <div className="entry-columns">
        <div className="stack">
          <Proposal />
          <Weather />
          <Block title="Values" note={view.maySend ? undefined : "a draft for the crew lead"}>
            {view.asks.length === 0 && <p className="pad">Nothing is measured at this point.</p>}
            {view.asks.filter(({ besideOf }) => besideOf === null).map((ask) => (ask.entry.kind === "derived" ? <Derived key={ask.id} ask={ask} /> : <Ask key={ask.id} ask={ask} />))}
          </Block>
          {view.lots.length > 0 && <Block title="Lots"><div className="pad stack">{view.lots.map((lot) => <LotField key={lot.use} {...lot} />)}</div></Block>}
        </div>
        <div className="stack">
          {(view.subjects.length > 0 || view.documents.length > 0) && (
            <Block title={view.subjects.length > 0 ? "Photos" : "Documents"} note={counted > 0 ? `${counted} are needed` : undefined}>
              <noscript><p className="pad doubtful">Photos and documents are sent by a script, and scripts are off. Values can be kept and sent without them.</p></noscript>
              {view.subjects.map((subject) => <Subject key={subject.id} subject={subject} />)}
              {view.documents.map((one) => <DocumentField key={one.id} document={one} />)}
            </Block>
          )}
          <Block title="When" note="the site's clock">
            <div className="pad stack">
              {view.times && (!view.writing.workBegan || !view.writing.workEnded) && (
                <Pressed words={`Use ${view.times.words}`} act={intent.times} press={press} />
              )}
              <TimeField name="workBegan" label="Work began" />
              <TimeField name="workEnded" label="Work ended" />
            </div>
          </Block>
          <Block title="Remarks"><div className="pad"><Remarks /></div></Block>
          {view.maySend && <Missing />}
        </div>
      </div>
    </form>
  );
}

/** What is still missing, each a link to its field. */
function Missing() {
  const { faults, hrefOf } = useLinks();
  return (
    <Block title="Before it is sent" hand={faults.length > 0 ? "held" : "ink"}>
      <div className="missing">
        <p className="pad" role="status"><b>{faults.length === 0 ? "Nothing is missing." : faults.length === 1 ? "1 thing is missing." : `${faults.length} things are missing.`}</b></p>
        {faults.length > 0 && (
          <ul>
            {alike(faults).map(({ field, message, more }) => <li key={`${field} ${message}`}><a href={hrefOf(field)}><span>{message}{more > 0 && <span className="letter"> And {more} more like it.</span>}</span></a></li>)}
          </ul>
        )}
      </div>
    </Block>
  );
}

/** One line for each quantity: the first of its rows, and how many more lack the same. */
function alike(faults: readonly Fault[]): (Fault & { more: number })[] {
  const keyOf = ({ field }: Fault) => (field ?? "").split(".").slice(0, 2).join(".");
  return faults.flatMap((fault, index) => {
    const first = faults.findIndex((other) => keyOf(other) === keyOf(fault)) === index;
    return first ? [{ ...fault, more: faults.filter((other) => keyOf(other) === keyOf(fault)).length - 1 }] : [];
  });
}

/** Where each fault is mended: at its field, or at the access check of the shift. */
function useLinks() {
  const { view, point, faults } = useEntry();
  const gate = gatePath(point.project, view.head.mark, view.facts.gate?.line);
  return { faults, hrefOf: (field: string | null) => (field === "gate" ? gate : `#${field ?? ENTRY_FORM}`) };
}

function gatePath(project: string, mark: string | null, line: string | undefined): string {
  return mark === null || line === undefined ? `#${ENTRY_FORM}` : `/p/${project}/piles/${encodeURIComponent(mark)}/${line}`;
}

/** A button that fills fields: at once by script, by way of the server without. */
function Pressed({ words, act, press }: { words: string; act: string; press(asked: string): void }) {
  return (
    <Button
      name="intent" value={act}
      onClick={(event) => {
        event.preventDefault();
        press(act);
      }}
    >
      {words}
    </Button>
  );
}

/** Yesterday's instruments and lots: named, and taken only when confirmed. */
function Proposal() {
  const { view, fields, press } = useEntry();
  const { proposal } = view;
  if (!proposal) return null;
  const left = [
    ...Object.keys(proposal.instruments).filter((quantity) => !fields[besideName.instrument(quantity)]),
    ...Object.keys(proposal.lots).filter((use) => !fields[fieldName.lot(use)]),
  ];
  if (left.length === 0) return null;
  return (
    <section className="proposal" aria-label="As last time">
      <p><b>As last time?</b> {proposal.words}</p>
      <Pressed words="Confirm" act={intent.proposal} press={press} />
    </section>
  );
}

/** The last weather of the shift: named with its time, and taken only when confirmed. What is typed meanwhile is left alone. */
function Weather() {
  const { view, fields, press } = useEntry();
  const { weather } = view;
  if (!weather || weather.values.some(({ quantity }) => (fields[fieldName.value(quantity, null)] ?? "") !== "")) return null;
  return (
    <section className="proposal" aria-label="Weather as read">
      <p><b>As read?</b> {weather.words}</p>
      <Pressed words="Confirm this weather" act={intent.weather} press={press} />
    </section>
  );
}

function LotField({ use, name, kind, options }: { use: string; name: string; kind: string; options: { id: string; label: string }[] }) {
  const { register, start, refusal, faultAt } = useEntry();
  const field = fieldName.lot(use);
  const fault = refusal ? faultAt(field) : undefined;
  return (
    <div className={fault ? "field field-bad" : "field"}>
      <label htmlFor={field}>{name}</label>
      <div className="control">
        <select id={field} {...register(field)} defaultValue={start[field]} aria-describedby={fault ? `${field}-error` : undefined} aria-invalid={fault ? true : undefined}>
          <option value="">{options.length === 0 ? `no lot of ${kind} is on the register` : "not chosen yet"}</option>
          {options.map(({ id, label }) => <option key={id} value={id}>{label}</option>)}
        </select>
      </div>
      {fault && <p className="error" id={`${field}-error`}>{fault}</p>}
    </div>
  );
}

const TWICE = /write which one: .*?([+-]\d{2}:\d{2}) or .*?([+-]\d{2}:\d{2})/i;

/** A time on the site's clock. In the hour that the clocks repeat it asks which of the two it was. */
function TimeField({ name, label }: { name: "workBegan" | "workEnded"; label: string }) {
  const { register, start, fields, refusal, faultAt } = useEntry();
  const offset = besideName.offset(name);
  const fault = faultAt(name);
  const [, first, second] = TWICE.exec(fault ?? "") ?? [];
  const offsets = first && second ? [first, second] : fields[offset] ? [fields[offset]] : [];
  const shown = refusal || (fields[name] ?? "") !== "" ? fault : undefined;
  return (
    <div className={shown ? "field field-bad" : "field"}>
      <label htmlFor={name}>{label}</label>
      <div className="control"><input type="datetime-local" id={name} {...register(name)} defaultValue={start[name]} aria-describedby={shown ? `${name}-error` : undefined} aria-invalid={shown ? true : undefined} /></div>
      {offsets.length > 0 && (
        <div className="control">
          <select {...register(offset)} defaultValue={start[offset]} aria-label={`${label}: which of the two`}>
            <option value="">which of the two?</option>
            {offsets.map((one, position) => <option key={one} value={one}>{offsets.length > 1 ? (position === 0 ? "the first, " : "the second, ") : ""}{one}</option>)}
          </select>
        </div>
      )}
      {shown && <p className="error" id={`${name}-error`}>{shown}</p>}
    </div>
  );
}

function Remarks() {
  const { register, start } = useEntry();
  return (
    <div className="field">
      <label htmlFor={besideName.words}>Anything to add, in words</label>
      <div className="control"><textarea id={besideName.words} rows={3} maxLength={2_000} {...register(besideName.words)} defaultValue={start[besideName.words]} /></div>
    </div>
  );
}
