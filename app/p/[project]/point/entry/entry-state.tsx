"use client";

import { createContext, useActionState, useCallback, useContext, useEffect, useMemo, useRef, useState, useTransition, type FormEvent, type ReactNode } from "react";
import { get, useForm, useWatch, type FieldValues, type UseFormRegister } from "react-hook-form";
import type { EntryJudgement, JudgedEntry, judgeEntry } from "#lib/domain/point/judge-entry";
import { fieldName } from "#lib/domain/point/missing";
import type { Fault } from "#lib/domain/refusal";
import type { FormState } from "#lib/edge/form-state";
import type { EntryView } from "#lib/services/entry-view";
import type { RawSubmission } from "#lib/services/submit-point";
import { keepDraft, sendEntry, type PointId } from "./actions";
import { besideName, changed, fieldsOf, rowsOf, writingOf, type Fields } from "./fields";

export const ENTRY_FORM = "entry";

/** How the draft stands: as it was loaded, changed since, on its way, kept, or not to be kept now. */
export type Keeping = { state: "as loaded" | "changed" | "keeping" } | { state: "kept"; at: string } | { state: "failed"; message: string };

interface EntryState {
  view: EntryView;
  point: PointId;
  register: UseFormRegister<FieldValues>;
  fields: Fields;
  /** What each field starts from, for the page before its scripts. */
  start: Fields;
  rows(quantity: string): (number | null)[];
  addRow(): void;
  judged(quantity: string, item: number | null): JudgedEntry | undefined;
  /** What is still missing, each with its field; empty when it may be sent. */
  faults: readonly Fault[];
  faultAt(field: string): string | undefined;
  /** Sending was tried and refused; from then on everything that is missing is said beside its field. */
  refusal: FormState;
  sending: boolean;
  keeping: Keeping;
  press(asked: string): void;
  /** Puts a text into a field, as the keypad does. */
  set(name: string, text: string): void;
  setAside: readonly string[];
  put(photo: string, aside: boolean): void;
  /** For the form: works before its scripts do. */
  action(form: FormData): void;
  dispatch(form: FormData): void;
}

const Context = createContext<EntryState | null>(null);

export function useEntry(): EntryState {
  const state = useContext(Context);
  if (!state) throw new Error("Outside an entry.");
  return state;
}

/** Names with points become nested objects, the way the form library reads them. */
function nested(fields: Fields): FieldValues {
  const values: FieldValues = {};
  for (const [name, text] of Object.entries(fields)) {
    const path = name.split(".");
    const last = path.pop() as string;
    const at = path.reduce((inner: FieldValues, key) => (inner[key] ??= {}) as FieldValues, values);
    at[last] = text;
  }
  return values;
}

/** Every field of the form with what it starts from. */
function startingFields(view: EntryView, extra: number): Record<string, string> {
  const written = fieldsOf(view.writing);
  const names: [string, string][] = [
    [fieldName.workBegan, ""], [fieldName.workEnded, ""], [besideName.offset("workBegan"), ""], [besideName.offset("workEnded"), ""], [besideName.words, ""],
    ...view.lots.map(({ use }): [string, string] => [fieldName.lot(use), ""]),
    ...view.line.quantities.flatMap((quantity): [string, string][] => {
      const ask = view.asks.find(({ id }) => id === quantity.id);
      const rows = rowsOf(view.line, quantity.rule, view.writing, extra).flatMap((item): [string, string][] => [
        ...(ask?.entry.kind === "derived" ? [] : [[fieldName.value(quantity.id, item), ""] as [string, string]]),
        [fieldName.reason(quantity.id, item), ""],
        ...(ask?.entry.kind === "measured" ? ([[besideName.unit(quantity.id, item), ask.entry.unit], [besideName.kept(quantity.id, item), ""]] as [string, string][]) : []),
      ]);
      return ask?.instrument ? [...rows, [besideName.instrument(quantity.id), ""]] : rows;
    }),
  ];
  return Object.fromEntries(names.map(([name, start]) => [name, written[name] ?? start]));
}

/** Judges while typing with the same rules as the server. They are loaded after the page stands; until then the server's own judgement holds. */
function useJudge(): typeof judgeEntry | null {
  const [judge, setJudge] = useState<typeof judgeEntry | null>(null);
  useEffect(() => {
    void import("#lib/domain/point/judge-entry").then((module) => setJudge(() => module.judgeEntry));
  }, []);
  return judge;
}

const KEEP_AFTER_MS = 900;
const TRY_AGAIN_MS = 8_000;

/** Keeps the draft a moment after each change, on the server; what has not reached it yet stays on the phone. */
function useKeeping(point: PointId, person: string, writing: RawSubmission, restore: (writing: RawSubmission) => void): Keeping {
  const text = JSON.stringify(writing);
  const kept = useRef(text);
  const latest = useRef(writing);
  const [keeping, setKeeping] = useState<Keeping>({ state: "as loaded" });
  const local = `lastlook:${person}:${point.sheet}:${point.line}`;
  const keep = useCallback(async () => {
    const sent = JSON.stringify(latest.current);
    if (sent === kept.current) return;
    setKeeping({ state: "keeping" });
    const answer = await keepDraft(point, latest.current).catch(() => null);
    if (!answer?.ok) return setKeeping({ state: "failed", message: answer?.message ?? "No connection. It stays on this phone and is tried again." });
    kept.current = sent;
    if (JSON.stringify(latest.current) !== sent) return setKeeping({ state: "changed" });
    localStorage.removeItem(local);
    setKeeping({ state: "kept", at: answer.at });
  }, [point, local]);

  useEffect(() => {
    const left = localStorage.getItem(local);
    if (left) restore(JSON.parse(left) as RawSubmission);
    // Only what an earlier visit could not send; later changes are the form's own.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [local]);

  useEffect(() => {
    latest.current = writing;
    if (text === kept.current) return;
    localStorage.setItem(local, text);
    setKeeping((before) => (before.state === "failed" ? before : { state: "changed" }));
    const timer = setTimeout(() => void keep(), KEEP_AFTER_MS);
    return () => clearTimeout(timer);
    // `text` is `writing` by value.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [text, keep, local]);

  useEffect(() => {
    if (keeping.state !== "failed") return;
    const timer = setInterval(() => void keep(), TRY_AGAIN_MS);
    return () => clearInterval(timer);
  }, [keeping.state, keep]);
  return keeping;
}

/** What is being written at a point, judged as it is typed; shared by the form and the bar under the thumb. */
export function EntryRoom({ view, point, person, children }: { view: EntryView; point: PointId; person: string; children: ReactNode }) {
  const [extra, setExtra] = useState(0);
  const [setAside, setSetAside] = useState<readonly string[]>(view.writing.setAside);
  const start = useMemo(() => startingFields(view, extra), [view, extra]);
  const { register, control, setValue, reset } = useForm({ defaultValues: nested(start) });
  const values = useWatch({ control });
  const [refusal, dispatchAction] = useActionState(sendEntry, null);
  const [sending, startSending] = useTransition();
  const judge = useJudge();
  const [openedAt] = useState(() => Date.now());

  const fields = useMemo((): Fields => Object.fromEntries(Object.keys(start).map((name) => [name, String(get(values, name) ?? start[name] ?? "")])), [start, values]);
  const writing = useMemo(() => writingOf(view.line, fields, setAside), [view.line, fields, setAside]);
  const keeping = useKeeping(point, person, writing, (left) => {
    reset(nested({ ...start, ...fieldsOf(left) }));
    setSetAside(left.setAside);
  });
  const judgement = useMemo((): EntryJudgement => {
    if (!judge) return view.judgement;
    const photos = view.subjects.flatMap(({ photos: own }) => own).filter(({ id }) => !setAside.includes(id));
    return judge(view.line, writing, { ...view.facts, now: view.facts.now + (Date.now() - openedAt), photos });
  }, [judge, view, writing, setAside, openedAt]);

  const state: EntryState = {
    view, point, register, fields, start, sending, refusal, keeping, setAside,
    faults: judgement.faults,
    faultAt: (field) => judgement.faults.find((fault) => fault.field === field)?.message,
    judged: (quantity, item) => judgement.judged.find((one) => one.quantity === quantity && one.item === item),
    rows: (quantity) => {
      const rule = view.line.quantities.find(({ id }) => id === quantity)?.rule;
      return rule ? rowsOf(view.line, rule, view.writing, extra) : [];
    },
    addRow: () => setExtra((before) => before + 1),
    press: (asked) => {
      for (const [name, text] of Object.entries(changed(fields, asked, view))) setValue(name, text, { shouldDirty: true });
    },
    set: (name, text) => setValue(name, text, { shouldDirty: true }),
    put: (photo, aside) => setSetAside((before) => (aside ? [...before.filter((one) => one !== photo), photo] : before.filter((one) => one !== photo))),
    action: dispatchAction,
    dispatch: (form) => startSending(() => dispatchAction(form)),
  };
  return <Context value={state}>{children}</Context>;
}

/** Sends by script, so that the form keeps what was typed when it is refused. Without scripts the browser sends it itself. */
export function sendByScript(dispatch: EntryState["dispatch"]): (event: FormEvent<HTMLFormElement>) => void {
  return (event) => {
    event.preventDefault();
    const { submitter } = event.nativeEvent as SubmitEvent;
    // The draft is kept by itself, so the Enter key has nothing left to do.
    if (submitter instanceof HTMLElement && submitter.dataset.enter !== undefined) return;
    dispatch(new FormData(event.currentTarget, submitter));
  };
}
