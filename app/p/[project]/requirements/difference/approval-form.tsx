"use client";

import { useActionState, useId, useState, type FormEvent, type MouseEvent, type ReactNode } from "react";
import type { AnswerOption } from "#lib/services/change-answer";
import { Choice } from "../../../../_ui/choice";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { TextAreaField, TextField } from "../../../../_ui/field";
import type { FormAction } from "../../action-form";

export interface ChangeToAnswer {
  number: number;
  title: string;
  /** The lines that the answer covers, as they are sent. */
  covers: string;
  options: AnswerOption[];
  figure: ReactNode;
}

interface ApprovalFormProps {
  action: FormAction;
  id: string;
  letter: string;
  impactDigest: string;
  /** Who reviewed it, when. */
  reviewed: string;
  counts: ReactNode;
  changes: ChangeToAnswer[];
}

/** Each change with its answer beside it, then from when, why, and the engineer's signature. Works without scripts. */
export function ApprovalForm({ action, id, letter, impactDigest, reviewed, counts, changes }: ApprovalFormProps) {
  const [state, send, pending] = useActionState(action, null);
  const [lacking, setLacking] = useState<{ href: string; words: string } | null>(() => firstLacking(changes, () => ""));
  const reasonId = useId();
  const values = state?.values ?? {};
  const errors = Object.fromEntries((state?.faults ?? []).flatMap(({ field, message }) => (field ? [[field, message]] : [])));
  const look = (form: HTMLFormElement): typeof lacking => {
    const typed = new FormData(form);
    const found = firstLacking(changes, (name) => String(typed.get(name) ?? ""));
    setLacking(found);
    return found;
  };
  const stop = (event: MouseEvent<HTMLButtonElement>): void => {
    const found = event.currentTarget.form && look(event.currentTarget.form);
    if (!found) return;
    event.preventDefault();
    document.getElementById(found.href)?.focus();
  };
  // A form that came back is emptied of its password after this event.
  const lookAfterReset = ({ currentTarget }: FormEvent<HTMLFormElement>): void => void setTimeout(() => look(currentTarget));
  return (
    <form className="difference" action={send} id="approval" onInput={({ currentTarget }) => look(currentTarget)} onReset={lookAfterReset} aria-label={`Approve revision ${letter}`}>
      {state && <ErrorSummary title={state.message} errors={state.faults.map(({ field, message }) => ({ message, href: `#approval${field ? `-${field}` : ""}` }))} />}
      <input type="hidden" name="id" value={id} />
      <input type="hidden" name="letter" value={letter} />
      <input type="hidden" name="impactDigest" value={impactDigest} />
      {changes.map(({ number, title, covers, options, figure }, position) => (
        <section className="change-row" key={number} aria-label={`Change ${number}, ${title}`}>
          {figure}
          <div className="from-when">
            {position === 0 && <><h2><span>From when</span><small>one answer for each change</small></h2>{counts}</>}
            <div className="pad">
              <input type="hidden" name={`covers-${number}`} value={covers} />
              <Choice
                id={`approval-answer-${number}`} name={`answer-${number}`} legend={`Change ${number}, ${title.toLowerCase()}`} chosen={values[`answer-${number}`]} error={errors[`answer-${number}`]}
                options={options.map(({ applies, label, consequence }) => ({ value: applies, label: <b>{label}</b>, consequence }))}
              />
            </div>
            {position === changes.length - 1 && (
              <div className="pad stack terms">
                <TextField id="approval-appliesFrom" name="appliesFrom" type="datetime-local" label="Applies from, site time" hint="Empty: from the moment you approve. Retroactive holds at once." defaultValue={values.appliesFrom} error={errors.appliesFrom} />
                <TextAreaField id="approval-words" name="words" rows={2} label="Why, in words" defaultValue={values.words} error={errors.words} />
                <div className="sign">
                  <TextField id="approval-password" name="password" type="password" autoComplete="current-password" label="Your password" error={errors.password} />
                  <button className={lacking ? "button button-off" : "button button-go"} aria-disabled={lacking ? true : undefined} aria-describedby={reasonId} disabled={pending} onClick={stop}>Approve revision {letter}</button>
                </div>
                <p className="why" id={reasonId}>{lacking ? `${lacking.words} to approve.` : "The answers and the impact shown are part of what you sign."} {reviewed}</p>
              </div>
            )}
          </div>
        </section>
      ))}
    </form>
  );
}

/** What is still to be given, the first of it; null when nothing is. */
function firstLacking(changes: readonly ChangeToAnswer[], typed: (name: string) => string): { href: string; words: string } | null {
  const open = changes.find(({ number }) => typed(`answer-${number}`) === "");
  if (open) return { href: `approval-answer-${open.number}`, words: `Answer change ${open.number}` };
  if (typed("words").trim() === "") return { href: "approval-words", words: "Say why" };
  return typed("password") === "" ? { href: "approval-password", words: "Type your password" } : null;
}
