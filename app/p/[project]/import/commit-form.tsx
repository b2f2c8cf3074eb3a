"use client";

import { useActionState } from "react";
import { Block } from "../../../_ui/block";
import { Choice } from "../../../_ui/choice";
import { ErrorSummary } from "../../../_ui/error-summary";
import { TextAreaField, TextField } from "../../../_ui/field";
import type { FormAction } from "../action-form";

interface CommitFormProps {
  action: FormAction;
  ready: number;
  aside: number;
  stopped: boolean;
  added: number;
  changed: number;
  missing: string[];
  /** "03-C → 03-C1" */
  renumbered: string[];
}

/** Brings in what is ready, once and whole. What would change piles that stand asks for the change order. */
export function CommitForm({ action, ready, aside, stopped, added, changed, missing, renumbered }: CommitFormProps) {
  const [state, send, pending] = useActionState(action, null);
  const errors = Object.fromEntries((state?.faults ?? []).flatMap(({ field, message }) => (field ? [[field, message]] : [])));
  const values = state?.values ?? {};
  const orders = changed + missing.length > 0;
  const reason = stopped ? "An answer says that the file is wrong." : ready === 0 ? "No row is ready." : null;
  return (
    <Block title="Bring in" note={`${added} added, ${changed} changed`}>
      <form action={send} id="commit" className="pad stack" aria-label="Bring the schedule in">
        {state && <ErrorSummary title={state.message} errors={state.faults.map(({ field, message }) => ({ message, href: `#${field ?? "commit"}` }))} />}
        {missing.length > 0 && (
          <Choice
            id="missing" name="missing" legend={`${missing.length} ${missing.length === 1 ? "pile is" : "piles are"} not in the schedule: ${missing.slice(0, 8).join(", ")}${missing.length > 8 ? " …" : ""}`} error={errors.missing} chosen={values.missing}
            options={[{ value: "take out", label: "Take them out of scope", consequence: "They stay with their records, and nothing more is done at them." }, { value: "leave", label: "Leave them", consequence: "The schedule is only a part." }]}
          />
        )}
        {renumbered.length > 0 && (
          <Choice
            id="renumbered" name="renumbered" legend={`New marks at places of old piles: ${renumbered.join(", ")}`} error={errors.renumbered} chosen={values.renumbered}
            options={[{ value: "one pile", label: "One pile, a new mark" }, { value: "two piles", label: "The old one is out, a new one is in" }]}
          />
        )}
        {orders && <TextField id="changeOrder" name="changeOrder" label="Change order" hint="Such as CO-2." defaultValue={values.changeOrder} error={errors.changeOrder} maxLength={60} />}
        <TextAreaField id="words" name="words" label="Words for the record" rows={2} defaultValue={values.words} error={errors.words} maxLength={1_800} />
        {aside > 0 && (
          <label className="check" htmlFor="withoutAside">
            <input type="checkbox" id="withoutAside" name="withoutAside" value="yes" defaultChecked={values.withoutAside === "yes"} aria-describedby={errors.withoutAside ? "withoutAside-error" : undefined} />
            <span>Bring in the {ready} that are ready, and keep the {aside} aside</span>
          </label>
        )}
        {errors.withoutAside && <p className="error" id="withoutAside-error">{errors.withoutAside}</p>}
        {reason === null ? (
          <button className="button button-go" disabled={pending}>Bring in {ready} {ready === 1 ? "pile" : "piles"}</button>
        ) : (
          <>
            <button type="button" className="button button-off" aria-disabled="true" aria-describedby="why-not">Bring in</button>
            <p className="why" id="why-not">{reason}</p>
          </>
        )}
      </form>
    </Block>
  );
}
