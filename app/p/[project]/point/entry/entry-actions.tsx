"use client";

import { useEffect, useState } from "react";
import type { Fault } from "#lib/domain/refusal";
import { Button } from "../../../../_ui/button";
import { ENTRY_FORM, useEntry, type Keeping } from "./entry-state";
import { intent } from "./fields";

/** The bar under the thumb: keep the draft, and the next thing, named by what it does. */
export function EntryActions() {
  const { faults, sending, view, keeping } = useEntry();
  const ready = useScripts();
  const [next] = faults;
  return (
    <>
      <p className={keeping.state === "failed" ? "keeping keeping-failed" : "keeping"} role="status">{keptWords(keeping, view.keptAt)}</p>
      <Button form={ENTRY_FORM} name="intent" value={intent.keep} disabled={sending}>Keep draft</Button>
      {!view.maySend ? null : ready && next && next.field !== "gate" ? (
        <Button type="button" weight="go" onClick={() => goTo(next.field)}>{nextWords(next, view.line)}</Button>
      ) : (
        <Button form={ENTRY_FORM} weight="go" disabled={sending}>{sending ? "Sending" : "Send"}</Button>
      )}
    </>
  );
}

/** Whether scripts run: until they do, the solid button sends and the server says what is missing. */
function useScripts(): boolean {
  const [ready, setReady] = useState(false);
  useEffect(() => setReady(true), []);
  return ready;
}

function keptWords(keeping: Keeping, loadedFrom: string | null): string {
  switch (keeping.state) {
    case "as loaded":
      return loadedFrom === null ? "Nothing written yet" : `Draft kept ${loadedFrom}`;
    case "changed":
    case "keeping":
      return "Keeping the draft";
    case "kept":
      return `Draft kept ${keeping.at}`;
    case "failed":
      return keeping.message;
  }
}

function goTo(field: string | null): void {
  const found = field === null ? null : document.getElementById(field);
  found?.scrollIntoView({ block: "center" });
  found?.focus({ preventScroll: true });
}

/** "Next: bar 6", "Next: resin label", "Next: work began". */
function nextWords({ field }: Fault, line: { quantities: { id: string; name: string; rule: { form: string } & { of?: string } }[]; photos: { id: string; name: string }[]; documents: { id: string; name: string }[]; lots: { id: string; name: string }[] }): string {
  const [kind = "", id = "", item] = (field ?? "").split(".");
  const lower = (words: string | undefined) => (words ? words.charAt(0).toLowerCase() + words.slice(1) : "what is missing");
  const quantity = line.quantities.find((one) => one.id === id);
  if (kind === "value" || kind === "reason") return `Next: ${item && quantity?.rule.of ? `${quantity.rule.of} ${item}` : lower(quantity?.name)}`;
  if (kind === "photo") return `Next: photo, ${lower(line.photos.find((one) => one.id === id)?.name)}`;
  if (kind === "document") return `Next: ${lower(line.documents.find((one) => one.id === id)?.name)}`;
  if (kind === "lot") return `Next: ${lower(line.lots.find((one) => one.id === id)?.name)}`;
  return kind === "workBegan" ? "Next: work began" : "Next: work ended";
}
