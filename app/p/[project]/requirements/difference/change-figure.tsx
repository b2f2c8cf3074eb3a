import type { ChangeView, FigureView, RowView } from "#lib/services/change-view";
import type { ImpactFinding } from "#lib/domain/plan/compose";
import { FlagTriangle } from "../../../../_ui/mark";
import { TableFrame } from "../../../../_ui/table";
import { axisScale, AxisHead, LimitStrip, ValueLine, type AxisScale } from "./moving-limit";

/** One change: what it is, the limit that moves, and every signed value on one axis. */
export function ChangeFigure({ change, from, to }: { change: ChangeView; from: string; to: string }) {
  const { number, title, place, follows, parts, figures, none, own } = change;
  const [first, ...others] = figures;
  return (
    <div className="change">
      <div className="change-head">
        <FlagTriangle n={to} hand="held" />
        <div>
          <h2>{number} {title}</h2>
          <p className="letter">{place}{follows.map((words) => <span key={words} className="follows">{words}</span>)}</p>
        </div>
        {first && first.rows.length === 0 && <Strip figure={first} from={from} to={to} none={none} />}
      </div>
      {[...(first && first.rows.length > 0 ? [first] : []), ...others.filter(({ rows }) => rows.length > 0)].map((figure) => <FigureTable key={figure.key} figure={figure} from={from} to={to} title={title} label={`Change ${number}, ${figure.title}`} named={figures.length > 1} />)}
      {first && first.rows.length > 0 && none && <p className="letter none">{none}</p>}
      {!first && none && <p className="letter none">{none}</p>}
      {own.map((words) => <p className="letter none" key={words}>{words}.</p>)}
      <details className="as-table" open={figures.every(({ rows }) => rows.length === 0) || undefined}>
        <summary>What changes, as a table</summary>
        <TableFrame label={`What change ${number} changes`}>
          <table className="table">
            <caption className="hide">{title}: revision {from} and revision {to}</caption>
            <thead><tr><th scope="col">Requirement</th><th scope="col">Point</th><th scope="col">{from}</th><th scope="col">{to}</th></tr></thead>
            <tbody>{parts.map(({ line, name, was, now }) => <tr key={`${line} ${name}`}><th scope="row">{name}</th><td>{line}</td><td className="replaced">{was}</td><td className="required"><b>{now}</b></td></tr>)}</tbody>
          </table>
        </TableFrame>
      </details>
    </div>
  );
}

function Strip({ figure: { axis, title }, from, to, none }: { figure: FigureView; from: string; to: string; none: string }) {
  if (!axis) return null;
  return <div className="change-strip"><LimitStrip axis={axis} scale={axisScale(axis, [])} from={from} to={to} title={title} words={none ? "no value yet" : ""} />{none && <p className="letter none">{none}</p>}</div>;
}

const MARKS: Record<ImpactFinding, { symbol: string; hand: string }> = {
  "would fail": { symbol: "v-fails", hand: "hand-bad" },
  "needs a value": { symbol: "v-tell", hand: "hand-doubt" },
  "still meets": { symbol: "v-meets", hand: "hand-ink" },
};

function FigureTable({ figure, from, to, title, label, named }: { figure: FigureView; from: string; to: string; title: string; label: string; named: boolean }) {
  const { axis, rows } = figure;
  const scale = axis && axisScale(axis, rows.map(({ value }) => value));
  return (
    <TableFrame label={label}>
      <table className={axis ? "table impact" : "table impact impact-words"}>
        <caption className={named ? "letter" : "hide"}>{figure.title}</caption>
        <thead>
          <tr>
            <th scope="col">Pile</th>
            <th scope="col">Stands at</th>
            {axis && scale && <th scope="col" className="axis"><span className="hide">Against the limits</span><AxisHead axis={axis} scale={scale} from={from} to={to} /></th>}
            <th scope="col" className="impact-value">{axis ? unitWord(axis.unit) : figure.key === "recorded" ? "Signed" : "What"}</th>
            <th scope="col">Under {to}</th>
            <th scope="col">{figure.key === "recorded" ? "What followed" : "If retroactive"}</th>
          </tr>
        </thead>
        <tbody>{rows.map((row) => <ImpactRow key={row.key} row={row} axis={axis} scale={scale} title={title} />)}</tbody>
      </table>
    </TableFrame>
  );
}

const UNIT_WORDS: Record<string, string> = { h: "Hours", in: "Inches", "": "Value" };

function unitWord(unit: string): string {
  return UNIT_WORDS[unit] ?? unit;
}

function ImpactRow({ row, axis, scale, title }: { row: RowView; axis: FigureView["axis"]; scale: AxisScale | null; title: string }) {
  const { mark, standsAt, value, shown, finding, amount, retroactive } = row;
  const { symbol, hand } = MARKS[finding];
  return (
    <tr>
      <th scope="row" className="num">{mark}</th>
      <td className="stands-at">{standsAt}</td>
      {axis && scale && <td className="axis"><ValueLine row={row} axis={axis} scale={scale} title={title} /></td>}
      <td className="num impact-value"><b>{axis && value !== null ? value : shown}</b>{(!axis || value === null) && amount && <small>{amount}</small>}</td>
      <td><span className={`verdict ${hand}`}><svg width="16" height="16" aria-hidden="true"><use href={`#${symbol}`} /></svg><span>{finding}</span></span></td>
      <td className="letter retroactive">{retroactive}</td>
    </tr>
  );
}
