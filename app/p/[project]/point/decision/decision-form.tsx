"use client";

import { useActionState, useRef, useState, useSyncExternalStore, type FormEvent, type ReactNode } from "react";
import { photoCounts, unanswered, type GivenAnswer, type JudgedPhoto } from "#lib/domain/point/question";
import type { QuestionGroup } from "#lib/services/decision-photos";
import type { DecisionView } from "#lib/services/decision-view";
import type { FormState } from "#lib/edge/form-state";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { Field } from "../../../../_ui/field";
import { Choice } from "../../../../_ui/choice";
import { FlagList } from "./flag-list";
import { Reasons } from "./reasons";

export interface DecisionFormProps {
  action: (before: FormState, form: FormData) => Promise<FormState>;
  /** Made when the page is drawn, so that sending twice is one decision. */
  id: string;
  submissionId: string;
  mode: "decide" | "reopen";
  releaseLabel: string;
  /** What the plan line says of a release on evidence alone, in words. */
  evidenceOnly: string;
  groups: readonly QuestionGroup[];
  /** Blocks that no answer lifts. */
  blocks: readonly string[];
  photos: readonly JudgedPhoto[];
  needs: DecisionView["needs"];
  hold: boolean;
  /** Days on site, newest first, with their words. */
  days: readonly { day: string; words: string }[];
  /** Points that a reopening puts in doubt. */
  standsOnIt: readonly string[];
}

const SEEN: { value: string; label: string }[] = ["in person", "delegate", "evidence only"].map((value) => ({ value, label: value }));

/** Whether the page's scripts run: without them every button is there and the server says what is missing. */
function useScripts(): boolean {
  return useSyncExternalStore(() => () => undefined, () => true, () => false);
}

/** The decision: flags answered, how and when it was seen, the password, then release, reject or reopen. */
export function DecisionForm(props: DecisionFormProps) {
  const { action, id, submissionId, mode, groups, days, standsOnIt } = props;
  const [state, send, pending] = useActionState(action, null);
  const [answers, setAnswers] = useState<GivenAnswer[]>([]);
  const form = useRef<HTMLFormElement>(null);
  const scripts = useScripts();
  const values = state?.values ?? {};
  const errors = Object.fromEntries((state?.faults ?? []).flatMap(({ field, message }) => (field ? [[field, message]] : [])));
  const answered = groups.filter((group) => group.items.every(({ photo }) => answers.some((one) => one.photo === photo && one.code === group.code))).length;
  const reason = props.blocks.length > 0 ? props.blocks.join(" ") : scripts ? answersReason(props, answers) : null;
  const refused = values.outcome === "reject" || values.outcome === "reopen";
  return (
    <form className="block decision-form" id="decision" ref={form} action={send} onChange={(event) => setAnswers(answersIn(event, groups))} aria-label="Decision">
      <input type="hidden" name="id" value={id} />
      <input type="hidden" name="submissionId" value={submissionId} />
      {state && <ErrorSummary title={state.message} errors={state.faults.map(({ field, message }) => ({ message, href: anchorOf(field, groups) }))} />}
      {mode === "decide" && groups.length > 0 && (
        <>
          <h2>Flags to answer <small>{scripts ? `${answered} of ${groups.length} answered` : `${groups.length}`}</small></h2>
          <FlagList groups={groups} values={values} />
        </>
      )}
      <h2>{mode === "decide" ? "Decision" : "Reopen"} <small>server-attested: signed with your password, no passkey</small></h2>
      {mode === "decide" && <HowSeen days={days} values={values} errors={errors} note={props.evidenceOnly} />}
      <div className="decision-acts">
        {mode === "decide" && <ReleaseButton label={props.releaseLabel} reason={reason} lasting={props.blocks.length > 0} pending={pending} />}
        <details className="refuse" open={refused || undefined}>
          <summary className="button button-refuse">{mode === "decide" ? "Reject …" : "Reopen …"}</summary>
          {mode === "reopen" && <HowSeen days={days} values={values} errors={errors} />}
          <Reasons id="refuse" chosen={(values.codes ?? "").split(",")} words={refused ? (values.words ?? "") : ""} errors={refused ? errors : {}} />
          {mode === "reopen" && <p className="why">{consequence(standsOnIt)}</p>}
          <button className="button button-refuse" name="outcome" value={mode === "decide" ? "reject" : "reopen"} disabled={pending}>
            {mode === "decide" ? "Reject" : "Reopen"} this point
          </button>
        </details>
        {mode === "decide" && reason && <p className="why" id="why-not">{reason}</p>}
      </div>
    </form>
  );
}

/** What every decision says besides its outcome. */
function HowSeen({ days, values, errors, note }: { days: DecisionFormProps["days"]; values: Record<string, string>; errors: Record<string, string>; note?: string }) {
  return (
    <div className="decision-fields">
      <Choice id="seen-as" legend="How did you see it?" name="seenAs" options={SEEN} chosen={values.seenAs} error={errors.seenAs} inRow />
      {note && <p className="letter">{note}</p>}
      <DayChoice days={days} values={values} error={errors.observedOn} />
      <Field id="password" label="Your password, again" error={errors.password}>
        {(control) => <input {...control} type="password" name="password" autoComplete="current-password" />}
      </Field>
    </div>
  );
}

/** Cannot be pressed while something stops it, and says so where it is read; without scripts the server says it. */
function ReleaseButton({ label, reason, lasting, pending }: { label: string; reason: string | null; lasting: boolean; pending: boolean }) {
  if (reason === null) return <button className="button button-go" name="outcome" value="release" disabled={pending}>{label}</button>;
  return <button type="button" className="button button-off" aria-disabled="true" aria-describedby="why-not" data-lasting={lasting || undefined}>{label}</button>;
}

function DayChoice({ days, values, error }: { days: DecisionFormProps["days"]; values: Record<string, string>; error: ReactNode }) {
  const options = [...days.map(({ day, words }) => ({ value: day, label: words })), { value: "other", label: "another day" }];
  return (
    <div className="day-choice">
      <Choice id="observed" legend="When did you look?" name="observed" options={options} chosen={values.observed} error={error} inRow />
      <div className="other-day">
        <Field id="observed-on" label="Day of the observation">
          {(control) => <input {...control} type="date" name="observedOn" max={days[0]?.day} defaultValue={values.observedOn} />}
        </Field>
      </div>
    </div>
  );
}

function consequence(lines: readonly string[]): string {
  if (lines.length === 0) return "Nothing that was sent stands on it. The release stays visible.";
  return `Puts in doubt what stands on it, until it is decided again: ${lines.join(", ")}. The release stays visible.`;
}

/** The answers as they are chosen now: a photo's own before its group's. */
function answersIn({ currentTarget }: FormEvent<HTMLFormElement>, groups: readonly QuestionGroup[]): GivenAnswer[] {
  const data = new FormData(currentTarget);
  const chosen = (name: string): GivenAnswer["answer"] | null => (data.get(name) as GivenAnswer["answer"] | null) ?? null;
  return groups.flatMap(({ number, code, items }) =>
    items.flatMap(({ photo }, index): GivenAnswer[] => {
      const answer = chosen(`answer.${number}.${index}`) ?? chosen(`answer.${number}`);
      return answer ? [{ photo, code, answer }] : [];
    }),
  );
}

/** Why these answers do not allow a release yet; null when they do. */
function answersReason({ groups, photos, needs, hold }: DecisionFormProps, answers: readonly GivenAnswer[]): string | null {
  const asked = groups.flatMap(({ number, code, items }) => items.map(({ photo }) => ({ number, photo, code, title: "", measured: "", limit: "" })));
  const open = new Set(unanswered(asked, answers).map((question) => asked.find(({ photo, code }) => photo === question.photo && code === question.code)?.number));
  if (open.size > 0) return `Answer flag${open.size === 1 ? "" : "s"} ${[...open].join(", ")} to release.`;
  const distinct = photos.filter((photo, index) => photos.findIndex(({ sha256 }) => sha256 === photo.sha256) === index);
  const short = needs.flatMap(({ subject, name, count }) => {
    const counted = distinct.filter((photo) => photo.subject === subject && photoCounts(photo, answers, hold)).length;
    return counted < count ? [`${name}: ${counted} of ${count} photos count with these answers.`] : [];
  });
  return short.length > 0 ? short.join(" ") : null;
}

const ANCHORS: Record<string, string> = { seenAs: "#seen-as", observedOn: "#observed", password: "#password", codes: "#refuse-codes", words: "#refuse-words" };

function anchorOf(field: string | null, groups: readonly QuestionGroup[]): string {
  if (field === "answers" && groups[0]) return `#flag-${groups[0].number}`;
  return ANCHORS[field ?? ""] ?? "#decision";
}
