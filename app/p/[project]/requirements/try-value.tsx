"use client";

import { useEffect, useId, useRef, useState } from "react";
import { ratioErrorPct } from "#lib/domain/estimate/ratio";
import { Decimal } from "#lib/domain/quantity/decimal";
import { parseMeasured } from "#lib/domain/quantity/measured";
import { dimensionOf, fromSi, type Unit } from "#lib/domain/quantity/unit";
import { ruleOfValues, type Values } from "#lib/domain/requirement/draft-quantity";
import { findingOf, judgeFinding, workedOut, type Finding, type Verdict } from "#lib/domain/requirement/judge";
import { itemRule, type ItemRule } from "#lib/domain/requirement/rule";
import { requirementWords } from "#lib/domain/requirement/words";
import { DimensionLine } from "../../../_ui/dimension-line";
import { ValueVerdictMark } from "../../../_ui/mark";

/** A value that somebody might bring, held against the rule as it is typed: nothing of it is kept. */
export function TryValue({ texts, types }: { texts: Values; types: readonly { type: string; label: string; was: string | null }[] }) {
  const [typed, setTyped] = useState("");
  const [chosen, setChosen] = useState(types.at(-1)?.type ?? "");
  const id = useId();
  const field = useRef<HTMLInputElement>(null);
  // Somebody may have typed before the scripts were there.
  useEffect(() => setTyped(field.current?.value ?? ""), []);
  const type = types.find((one) => one.type === chosen) ?? types.at(-1);
  const rule = type && ruleOfValues(texts, type.type);
  const item = rule && itemRule(rule);
  const unit = item ? unitOf(item) : null;
  if (!type || (item && !isTried(item))) return null;
  const tried = item && typed.trim() !== "" ? findingFor(item, typed, unit) : null;
  const verdict = item && tried && typeof tried !== "string" ? judgeFinding(item, tried) : null;
  return (
    <div className="try">
      <div className="try-fields">
        {types.length > 1 && (
          <div className="field">
            <label htmlFor={`${id}-type`}>try on</label>
            <div className="control"><select id={`${id}-type`} value={type.type} onChange={({ target }) => setChosen(target.value)}>{types.map((one) => <option key={one.type} value={one.type}>{one.label}</option>)}</select></div>
          </div>
        )}
        <div className="field field-short">
          <label htmlFor={id}>{`try a value${unit ? `, ${unit}` : ""}`}</label>
          <div className="control"><input id={id} className="value" ref={field} onChange={({ target }) => setTyped(target.value)} inputMode={unit ? "decimal" : undefined} placeholder={item ? exampleOf(item) : undefined} autoComplete="off" /></div>
        </div>
      </div>
      <div className="try-answer" role="status">
        {!rule && <p className="letter">The rule is not whole yet.</p>}
        {rule && !verdict && (typeof tried === "string" ? <p className="letter">{tried}</p> : <Drawn item={item} verdict={null} />)}
        {rule && verdict && (
          <>
            <Drawn item={item} verdict={verdict} />
            <p className="try-words">{verdict.verdict && <ValueVerdictMark verdict={verdict.verdict} word={verdict.margin || verdict.verdict} />}</p>
          </>
        )}
        {type.was && rule && <p className="letter">Before: <span className="replaced">{type.was}</span>. Now: {requirementWords(rule)}.</p>}
      </div>
    </div>
  );
}

function Drawn({ item, verdict }: { item: ItemRule | null | undefined; verdict: Verdict | null }) {
  const read = verdict ?? (item && judgeFinding(item, workedOut(new Decimal(0), "1")));
  if (!read?.drawn) return null;
  const { limits: { unit, min, max }, valueSi } = read.drawn;
  const shown = (si: Decimal | string): string => fromSi(si, unit).toDecimalPlaces(4).toString();
  return (
    <DimensionLine
      verdict={verdict?.verdict ?? "not measured"} unit={unit} value={verdict ? shown(valueSi) : null}
      {...(min ? { min: shown(min.si) } : {})} {...(max ? { max: shown(max.si) } : {})}
    />
  );
}

function isTried({ form }: ItemRule): boolean {
  return form !== "statement" && form !== "recorded" && form !== "pot life" && form !== "all of" && form !== "any of";
}

function unitOf(item: ItemRule): Unit | null {
  switch (item.form) {
    case "min": case "max": case "range": case "nominal":
      return item.unit;
    case "elapsed": case "cure": case "equivalent age":
      return "h";
    case "maturity":
      return "°C·h";
    default:
      return null;
  }
}

function exampleOf(item: ItemRule): string | undefined {
  return item.form === "ratio" ? "1013 : 385" : undefined;
}

/** What was typed, ready to be judged, or why it cannot be read. */
function findingFor(item: ItemRule, typed: string, unit: Unit | null): Finding | string {
  if (item.form === "ratio") {
    const [a = "", b = ""] = typed.split(":").map((one) => one.trim());
    if (!/^\d+(\.\d+)?$/.test(a) || !/^\d+(\.\d+)?$/.test(b) || Number(a) === 0 || Number(b) === 0) return "Write both amounts, such as 1013 : 385.";
    const errorPct = ratioErrorPct({ massA: a, massB: b, a: item.a, b: item.b });
    return errorPct ? workedOut(errorPct.div(100), "%") : "Both parts of the ratio are more than nothing.";
  }
  if (item.form === "count") return /^\d{1,4}$/.test(typed.trim()) ? { kind: "count", count: Number(typed) } : "Write a whole number.";
  if (item.form === "exact" || item.form === "grade") return { kind: "words", words: typed.trim() };
  if (unit === null) return "Tried where it is measured.";
  const read = parseMeasured(typed, { dimension: dimensionOf(unit), unit });
  if (!read.ok) return read.problem.message;
  return findingOf({ kind: "measured", quantity: "tried", item: null, measured: read.measured, instrumentId: null }, new Decimal(0));
}
