"use client";

import { Children, useActionState, useState, type ReactNode } from "react";
import { many } from "#lib/domain/many";
import { ErrorSummary } from "../../../_ui/error-summary";
import type { FormAction } from "../action-form";

interface Option {
  value: string;
  label: string;
}

interface CardFormProps {
  action: FormAction;
  proposed: number;
  /** Every point that takes photos now. */
  open: (Option & { subjects: { id: string; name: string }[] })[];
  groups: { letter: string; certainty: string; photos: { id: string; name: string; subject: string | null }[]; proposal: Option | null; candidates: Option[] }[];
  /** One drawn group for each. */
  children: ReactNode;
}

/** What becomes of each group: nothing is chosen before the person chooses, and what is proposed is taken by one button. Works without scripts. */
export function CardForm({ action, proposed, open, groups, children }: CardFormProps) {
  const [state, send, pending] = useActionState(action, null);
  const drawn = Children.toArray(children);
  return (
    <form action={send} className="card-form" id="card" aria-label="Where the photos go">
      {state && <ErrorSummary title={state.message} errors={state.faults.map(({ field, message }) => ({ message, href: field ? `#card-${field}` : "#card" }))} />}
      <ul className="card-groups">
        {groups.map((group, position) => (
          <li key={group.letter} className="card-group" id={`card-${group.letter}`}>
            {drawn[position]}
            <GroupChoice group={group} open={open} />
          </li>
        ))}
      </ul>
      <div className="button-row card-actions">
        <button className="button button-go" name="intent" value="proposed" disabled={pending}>{proposed > 0 ? `Take the ${proposed} proposed` : "Do what is chosen"}</button>
        {proposed > 0 && <button className="button" name="intent" value="chosen" disabled={pending}>Only what is chosen</button>}
      </div>
      <p className="letter">Each photo is kept as the camera wrote it, and counts only after its own verdicts. Groups without a choice and without a proposal wait here. What is left out goes off the card.</p>
    </form>
  );
}

function GroupChoice({ group: { letter, photos, proposal, candidates }, open }: Pick<CardFormProps, "open"> & { group: CardFormProps["groups"][number] }) {
  const [choice, setChoice] = useState("");
  const [other, setOther] = useState("");
  const offered = proposal ? [] : candidates;
  const target = choice === "other" ? other : choice === "take" ? (proposal?.value ?? "") : choice.startsWith("to:") ? choice.slice(3) : (proposal?.value ?? "");
  const subjects = open.find(({ value }) => value === target)?.subjects ?? [];
  return (
    <div className="card-choice">
      <fieldset className="choice choice-row">
        <legend className="hide">Group {letter}, {many(photos.length, "photo")}</legend>
        <div className="options">
          {proposal && <Radio letter={letter} value="take" choose={setChoice}>take {photos.length}</Radio>}
          {offered.map(({ value, label }) => <Radio key={value} letter={letter} value={`to:${value}`} choose={setChoice}>{label}</Radio>)}
          <Radio letter={letter} value="other" choose={setChoice}>other …</Radio>
          <Radio letter={letter} value="out" choose={setChoice}>leave out</Radio>
        </div>
      </fieldset>
      {proposal && <input type="hidden" name={`proposal-${letter}`} value={proposal.value} />}
      {photos.map(({ id }) => <input key={id} type="hidden" name={`photo-${letter}`} value={id} />)}
      <details className="card-more">
        <summary>Another point, or which photo shows what</summary>
        <label className="card-select">
          <span>Point, for “other”</span>
          <select name={`other-${letter}`} value={other} onChange={(event) => { setOther(event.target.value); setChoice("other"); }}>
            <option value="">Choose</option>
            {open.map(({ value, label }) => <option key={value} value={value}>{label}</option>)}
          </select>
        </label>
        {subjects.length > 0 && photos.map(({ id, name, subject }) => (
          <label key={id} className="card-select">
            <span>{name}</span>
            <select name={`subject-${id}`} defaultValue={subject ?? ""}>
              <option value="">as proposed</option>
              {subjects.map((one) => <option key={one.id} value={one.id}>{one.name}</option>)}
            </select>
          </label>
        ))}
      </details>
    </div>
  );
}

function Radio({ letter, value, choose, children }: { letter: string; value: string; choose(value: string): void; children: ReactNode }) {
  return <label><input type="radio" name={`choice-${letter}`} value={value} onChange={() => choose(value)} /><span>{children}</span></label>;
}
