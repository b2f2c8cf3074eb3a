"use client";

import { useState, type ChangeEvent, type ReactNode } from "react";
import { useRouter } from "next/navigation";
import { ErrorSummary } from "../../../_ui/error-summary";
import "./csv-form.css";

interface Refused {
  message: string;
  faults: { field: string | null; message: string }[];
}
type Sending = { state: "ready" } | { state: "sending" } | { state: "refused"; refused: Refused } | { state: "received"; words: string };

interface Props {
  /** Where the file goes as it is, without what its choices add. */
  url: string;
  /** Start of the ids in it. */
  name: string;
  label: string;
  /** Names of the choices that go with the file. */
  choices: readonly string[];
  children?: ReactNode;
}

/** Sends a logger's file as it is: chosen, sent, and what was read of it or why nothing was. */
export function CsvForm({ url, name, label, choices, children }: Props) {
  const [sending, setSending] = useState<Sending>({ state: "ready" });
  const router = useRouter();

  async function send(event: ChangeEvent<HTMLInputElement>): Promise<void> {
    const input = event.currentTarget;
    const [file] = input.files ?? [];
    if (!file || !input.form) return;
    setSending({ state: "sending" });
    const query = new URLSearchParams([...new FormData(input.form)].flatMap(([key, value]) => (choices.includes(key) && typeof value === "string" ? [[key, value]] : [])));
    const answer = await put(`${url}?${query}`, file);
    // The same file can be chosen again after it was mended.
    input.value = "";
    setSending(answer);
    if (answer.state === "received") router.refresh();
  }

  return (
    <form className="csv-form pad" id={name} aria-label={label} onSubmit={(event) => event.preventDefault()}>
      {sending.state === "refused" && (
        <ErrorSummary title={sending.refused.message} errors={sending.refused.faults.map(({ field, message }) => ({ message, href: `#${name}-${field !== null && choices.includes(field) ? field : "file"}` }))} />
      )}
      <details className="csv-choices" open={sending.state === "refused" || undefined}>
        <summary>How the file is written</summary>
        {children}
      </details>
      <noscript><p className="doubtful">A file is sent by a script, and scripts are off.</p></noscript>
      <label className="csv-take">
        <input className="hide" id={`${name}-file`} type="file" accept=".csv,.txt,text/csv,text/plain" onChange={(event) => void send(event)} disabled={sending.state === "sending"} />
        <b>{label}</b>
        <span className="letter">CSV, at most 5 MB</span>
      </label>
      <p role="status">{sending.state === "sending" ? "The file is being read." : sending.state === "received" ? sending.words : ""}</p>
    </form>
  );
}

const NOT_SENT: Refused = { message: "No connection. The file was not sent: choose it again.", faults: [] };

async function put(url: string, file: File): Promise<Sending> {
  try {
    const response = await fetch(url, { method: "PUT", body: file, headers: { "content-type": "text/csv", "x-file-name": encodeURIComponent(file.name) } });
    const body = (await response.json()) as { words?: string; detail?: string; errors?: Refused["faults"] };
    if (response.ok) return { state: "received", words: body.words ?? "" };
    const message = body.detail ?? NOT_SENT.message;
    return { state: "refused", refused: { message, faults: (body.errors ?? []).filter((one) => one.message !== message) } };
  } catch {
    return { state: "refused", refused: NOT_SENT };
  }
}
