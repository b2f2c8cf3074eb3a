"use client";

import { useActionState } from "react";
import { ErrorSummary } from "../../../_ui/error-summary";
import { TextAreaField } from "../../../_ui/field";
import type { FileState } from "./read-file";

const NOT_YET: FileState = { refusal: null, read: null, text: "" };

/** Reads a file of a revision, says what it holds, and keeps it only when that is asked for. */
export function FileForm({ action, letter, hasDraft }: { action: (before: FileState, form: FormData) => Promise<FileState>; letter: string; hasDraft: boolean }) {
  const [{ refusal, read, text }, send, pending] = useActionState(action, NOT_YET);
  return (
    <form className="draft-form pad" action={send} id="file" aria-label="Read a file">
      {refusal && <ErrorSummary title={refusal.message} errors={refusal.faults.map(({ field, message }) => ({ message, href: field === "text" ? "#file-text" : "#file" }))} />}
      {read && <ReadWords read={read} />}
      <div className="field">
        <label htmlFor="file-file">File of a revision</label>
        <div className="control"><input type="file" id="file-file" name="file" accept="application/json,.json" /></div>
      </div>
      <TextAreaField key={text.length} id="file-text" name="text" label="or its text" rows={8} defaultValue={text} spellCheck={false} className="code" />
      <div className="button-row draft-keep">
        <button className="button" name="intent" value="read" disabled={pending}>Read it</button>
        {read && <button className="button button-go" name="intent" value="keep" disabled={pending}>{hasDraft ? `Put it in the place of draft ${letter}` : `Begin draft ${letter} with it`}</button>}
      </div>
    </form>
  );
}

function ReadWords({ read }: { read: NonNullable<FileState["read"]> }) {
  return (
    <div className="file-read" role="status">
      <p><b>{read.title}</b>{read.writtenAs && read.writtenAs !== read.letter ? `. Written as revision ${read.writtenAs}; it is kept as draft ${read.letter}.` : `. Draft ${read.letter}.`}</p>
      <ul>{read.types.map(({ type, name, points, quantities }) => <li key={type}><b>{type}</b> {name}: {points} points, {quantities} quantities</li>)}</ul>
      {read.changes !== null && <p>{read.changes === 0 ? `Asks for the same as revision ${read.base}.` : `${read.changes} ${read.changes === 1 ? "change" : "changes"} since revision ${read.base}.`} Nothing is kept yet.</p>}
    </div>
  );
}
