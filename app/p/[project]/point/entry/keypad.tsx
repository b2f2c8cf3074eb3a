"use client";

import { useId, useRef, useState } from "react";
import { fieldName } from "#lib/domain/point/missing";
import type { JudgedEntry } from "#lib/domain/point/judge-entry";
import type { AskView } from "#lib/services/entry-view";
import { DimensionLine } from "../../../../_ui/dimension-line";
import { ValueVerdictMark, ValueVerdictShape } from "../../../../_ui/mark";
import { useEntry } from "./entry-state";
import { besideName } from "./fields";
import { FRACTION_KEYS, keyed, type Key } from "./keyed";
import "./keypad.css";

const ROWS: readonly (readonly Key[])[] = [["7", "8", "9", "½"], ["4", "5", "6", "¼"], ["1", "2", "3", "⅛"], [".", "0", "del", "1⁄16"]];
/** Lengths that are read on a tape in halves, quarters, eighths and sixteenths. */
const IN_FRACTIONS: ReadonlySet<string> = new Set(["in", "ft"]);
const UNIT_KEYS = 4;

/** Keys large enough for wet gloves, one value after the other, with the verdict above them. */
export function Keypad({ ask, derived }: { ask: AskView; derived: AskView | null }) {
  const { rows } = useEntry();
  const dialog = useRef<HTMLDialogElement>(null);
  const [item, setItem] = useState<number | null>(null);
  const items = rows(ask.id);
  const open = () => {
    setItem(items[0] ?? null);
    dialog.current?.showModal();
  };
  return (
    <>
      <button type="button" className="button keypad-open" onClick={open}>Keypad<span className="hide"> for {ask.name}</span></button>
      <dialog className="keypad" ref={dialog} aria-label={`Keypad, ${ask.name}`}>
        <KeypadSheet ask={ask} derived={derived} items={items} item={item} go={setItem} close={() => dialog.current?.close()} />
      </dialog>
    </>
  );
}

interface SheetProps {
  ask: AskView;
  derived: AskView | null;
  items: readonly (number | null)[];
  item: number | null;
  go(item: number | null): void;
  close(): void;
}

function KeypadSheet({ ask, derived, items, item, go, close }: SheetProps) {
  const { fields, set, judged } = useEntry();
  const inputId = useId();
  const name = fieldName.value(ask.id, item);
  const unitName = besideName.unit(ask.id, item);
  const text = fields[name] ?? "";
  const unit = fields[unitName] ?? ask.units[0] ?? "";
  const at = (one: number | null) => (derived && judged(derived.id, one)) ?? judged(ask.id, one);
  const value = at(item);
  const of = ask.of ?? "value";
  const title = item === null ? ask.name : `${capital(of)} ${item}, ${ask.name.toLowerCase()}`;
  const next = items[items.indexOf(item) + 1];
  const keep = () => (next === undefined ? close() : go(next));
  const leave = () => {
    close();
    document.getElementById(fieldName.reason(derived?.id ?? ask.id, item))?.focus();
  };
  return (
    <div className="keypad-sheet">
      <header className="keypad-head">
        <button type="button" className="button" onClick={close} aria-label="Back to the point">‹</button>
        <h2>{title}</h2>
      </header>
      {item !== null && (
        <div className="keypad-items" role="group" aria-label={`Which ${of}`}>
          {items.map((one) => (
            <button type="button" key={one} aria-pressed={one === item} onClick={() => go(one)}>
              {one}<ItemMark verdict={at(one)?.verdict ?? null} typed={(fields[fieldName.value(ask.id, one)] ?? "") !== ""} />
            </button>
          ))}
        </div>
      )}
      <div className="keypad-value">
        <label htmlFor={inputId}>{ask.name}{derived ? `, needs ${derived.needs} of ${derived.name.toLowerCase()}` : `, needs ${ask.needs}`}</label>
        <div className="keypad-typed">
          <input id={inputId} className="value" inputMode="none" autoComplete="off" value={text} onChange={({ target }) => set(name, target.value)} />
          <output>{unit}</output>
        </div>
        <Said value={value} derived={derived} />
      </div>
      <div className="keypad-keys">
        {ROWS.map((row, index) => (
          <div className="keypad-row" key={index}>
            {row.map((key) => (
              <button type="button" key={key} disabled={key in FRACTION_KEYS && !IN_FRACTIONS.has(unit)} onClick={() => set(name, keyed(text, key))}>{key}</button>
            ))}
            {ask.units[index] && index < UNIT_KEYS && (
              <button type="button" className="keypad-unit" aria-pressed={unit === ask.units[index]} onClick={() => set(unitName, ask.units[index] ?? "")}>{ask.units[index]}</button>
            )}
          </div>
        ))}
      </div>
      <div className="keypad-bar">
        <button type="button" className="button" onClick={leave}>Not measured</button>
        <button type="button" className="button button-go" onClick={keep}>Keep{item === null ? "" : ` ${of} ${item}`}</button>
      </div>
    </div>
  );
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function ItemMark({ verdict, typed }: { verdict: JudgedEntry["verdict"]; typed: boolean }) {
  if (verdict && verdict !== "not measured") return <ValueVerdictShape verdict={verdict} />;
  return typed ? <span className="hide">, recorded</span> : <span className="hide">, empty</span>;
}

/** What follows from the value, its verdict, and where its uncertainty reaches, in words and drawn. */
function Said({ value, derived }: { value: JudgedEntry | undefined; derived: AskView | null }) {
  if (!value?.verdict || value.verdict === "not measured") return <p className="letter keypad-said" role="status">{value?.margin || "Type the value, then keep it."}</p>;
  const { drawn, verdict, measured, margin } = value;
  return (
    <div className="keypad-said" role="status">
      <p className="keypad-verdict"><b>{derived ? `${derived.name} ${measured}` : measured}</b> <ValueVerdictMark verdict={verdict} /></p>
      {drawn && (
        <DimensionLine
          verdict={verdict} value={drawn.value} unit={drawn.unit}
          {...(drawn.min === null ? {} : { min: drawn.min })} {...(drawn.max === null ? {} : { max: drawn.max })} {...(drawn.uncertainty === "0" ? {} : { uncertainty: drawn.uncertainty })}
        />
      )}
      {drawn && drawn.uncertainty !== "0" && <p>With the instrument’s ± {drawn.uncertainty}: {reach(drawn)} {drawn.unit}.</p>}
      {margin && <p>{margin}</p>}
    </div>
  );
}

function reach({ value, uncertainty }: NonNullable<JudgedEntry["drawn"]>): string {
  const ends = [-1, 1].map((sign) => Number((Number(value) + sign * Number(uncertainty)).toPrecision(6)));
  return `from ${ends[0]} to ${ends[1]}`;
}
