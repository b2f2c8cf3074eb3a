import type { ReactNode } from "react";
import { HOUR, type Instant } from "#lib/domain/instant";
import type { TimeSpan } from "../../../../../_ui/sequence-layout";
import { SelectField, TextField } from "../../../../../_ui/field";
import { closer, dayAround, fieldTime, moved, viewQuery, wider, type AskedView } from "./asked-view";

interface ViewToolsProps {
  asked: AskedView;
  whole: TimeSpan;
  zone: string;
  now: Instant;
  /** The sheet, without a query. */
  href: string;
  /** The time of the point that is drawn in detail. */
  pointSpan: TimeSpan | null;
  /** The point that is drawn in detail, asked for or not. */
  drawn: string | null;
  rows: readonly { line: string; name: string }[];
}

const WEEK = 7 * 24 * HOUR;

/** What of the time is shown: links for the common steps, and fields for any other span. The address keeps it. */
export function ViewTools({ asked: { view, point, problems }, whole, zone, now, href, pointSpan, drawn, rows }: ViewToolsProps) {
  const shown = view ?? whole;
  const to = (next: TimeSpan | null, at: string | null = point): string => `${href}${viewQuery({ view: next, point: at }, zone)}`;
  const middle = now >= shown.from && now <= shown.to && !view ? now : (shown.from + shown.to) / 2;
  const same = (one: TimeSpan): boolean => view !== null && view.from === one.from && view.to === one.to;
  const week = { from: now - WEEK, to: now };
  const day = dayAround(middle, zone);
  // Closer to the point that is drawn in detail: the middle of a record with gaps in it shows nothing.
  const near = closer(shown, pointSpan && (pointSpan.from + pointSpan.to) / 2);
  const [before, after, far] = [moved(shown, -1, whole), moved(shown, 1, whole), wider(shown, whole)];
  const error = (field: "from" | "to" | "point") => problems.find((one) => one.field === field)?.message;
  return (
    <>
      <nav className="view-steps" aria-label="Time shown">
        <ul className="view-links">
          <li><a href={to(null)} aria-current={view === null ? "true" : undefined}>Whole</a></li>
          <li><a href={to(week)} aria-current={same(week) ? "true" : undefined}>Last 7 days</a></li>
          <li><a href={to(day)} aria-current={same(day) ? "true" : undefined}>This day</a></li>
          {pointSpan && drawn && <li><a href={to(pointSpan, drawn)} aria-current={same(pointSpan) ? "true" : undefined}>Point {drawn}</a></li>}
        </ul>
        <ul className="view-links">
          <Step href={before && view ? to(before) : null}>Earlier</Step>
          <Step href={near && to(near)}><span aria-hidden="true">+</span> Closer</Step>
          <Step href={view ? to(far) : null}><span aria-hidden="true">−</span> Wider</Step>
          <Step href={after && view ? to(after) : null}>Later</Step>
        </ul>
      </nav>
      <form className="view-form" action={href}>
        <SelectField id="view-point" name="point" label="Photos of point" defaultValue={drawn ?? ""} error={error("point")}>
          {rows.map(({ line, name }) => <option key={line} value={line}>{line} {name}</option>)}
        </SelectField>
        <TextField id="view-from" name="from" type="datetime-local" label="From" defaultValue={view ? fieldTime(view.from, zone) : ""} error={error("from")} />
        <TextField id="view-to" name="to" type="datetime-local" label="To" defaultValue={view ? fieldTime(view.to, zone) : ""} error={error("to")} />
        <button className="button">Show</button>
      </form>
    </>
  );
}

/** A step that leads nowhere keeps its place, and says that it is not available. */
function Step({ href, children }: { href: string | null; children: ReactNode }) {
  return <li>{href === null ? <a role="link" aria-disabled="true" tabIndex={0}>{children}<span className="hide">, not from here: nothing more is on record that way</span></a> : <a href={href}>{children}</a>}</li>;
}
