"use client";

import { useActionState } from "react";
import { Choice } from "../../../_ui/choice";
import { ErrorSummary } from "../../../_ui/error-summary";
import { FlagTriangle } from "../../../_ui/mark";
import type { FormAction } from "../action-form";
import { fieldNames } from "./names";

interface QuestionView {
  number: number;
  id: string;
  message: string;
  detail: string;
  answer: string | null;
  answers: { value: string; label: string }[];
}

/** The questions about rows; nothing is chosen before a person chooses. */
export function AnswersForm({ action, questions }: { action: FormAction; questions: QuestionView[] }) {
  const [state, send, pending] = useActionState(action, null);
  return (
    <form action={send} aria-label="Answers about rows" className="answers">
      {state && <ErrorSummary title={state.message} errors={state.faults.map(({ message }) => ({ message, href: "#answers" }))} />}
      {questions.map(({ number, id, message, detail, answer, answers }) => (
        <div className="answer" key={id}>
          <FlagTriangle n={number} hand={answer === null ? "bad" : "doubt"} />
          <Choice legend={message} hint={detail} name={fieldNames.answer(id)} options={answers} inRow {...(answer === null ? {} : { chosen: answer })} />
        </div>
      ))}
      <div className="pad"><button className="button" disabled={pending}>Keep the answers</button></div>
    </form>
  );
}
