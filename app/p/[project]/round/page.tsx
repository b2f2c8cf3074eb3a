import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { formatWhen } from "#lib/domain/clock/site-time";
import { roundView, type RoundNote, type RoundRow, type RoundView } from "#lib/services/round-view";
import { openPage, type PageContext } from "#lib/edge/page";
import { Block } from "../../../_ui/block";
import { Empty } from "../../../_ui/empty";
import { FlagTriangle, KindMark, State } from "../../../_ui/mark";
import { percent } from "../../../_ui/sequence-axis";
import { SheetHead } from "../../../_ui/sheet";
import { pointHref } from "../point/point-href";
import { ProjectFrame } from "../project-frame";
import { roundAxis, type RoundAxis } from "./round-axis";
import { WaitLine } from "./wait-line";
import "./round.css";

export const metadata: Metadata = { title: "Inspector’s round" };

/** Exceptions shown in a row; the rest is counted and stands on the point's own sheet. */
const MOST_EXCEPTIONS = 3;

export default async function RoundPage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params);
  const { house, project, member, at } = context;
  const view = await roundView(house.db.read, project, member, at);
  const axis = roundAxis(at, view.yours.flatMap(({ limit }) => (limit ? [limit.until] : [])), project.zone);
  return (
    <ProjectFrame context={context} sheet="Inspector's round" current="Inspector's round">
      <SheetHead title="Inspector’s round" lead={leadOf(view)} note="Ordered by what can’t wait: covered up next, then what runs out, then what has waited longest." />
      {view.yours.length > 0 ? <Yours rows={view.yours} axis={axis} context={context} /> : <NothingWaits context={context} view={view} />}
      <div className="round-notes">
        {view.toAccept.length > 0 && <ToAccept context={context} piles={view.toAccept} />}
        {view.alike.length > 0 && <Alike context={context} tasks={view.alike} />}
        {view.review.length > 0 && <Notes title="For your review" note="something later touched a decision of yours" notes={view.review} context={context} />}
        {view.others.length > 0 && <Notes title="Not yours, good to know" note="no answer wanted" notes={view.others} context={context} />}
      </div>
    </ProjectFrame>
  );
}

function leadOf({ yours, review, alike, toAccept }: RoundView): string {
  const decide = yours.filter(({ task }) => task === "decide").length;
  const check = yours.length - decide;
  const reviewed = review.reduce((sum, { lines }) => sum + lines.length, 0);
  const said = [
    decide > 0 && `${decide} wait${decide === 1 ? "s" : ""} for your decision`,
    check > 0 && `${check} wait${check === 1 ? "s" : ""} for your check`,
    reviewed > 0 && `${reviewed} point${reviewed === 1 ? "" : "s"} for your review`,
    alike.length > 0 && `${alike.length} pair${alike.length === 1 ? "" : "s"} of photos to look at`,
    toAccept.length > 0 && `${toAccept.length} pile${toAccept.length === 1 ? "" : "s"} may be accepted`,
  ].filter((one) => one !== false);
  return said.length === 0 ? "Nothing waits for you." : `${said.join(", ")}.`;
}

function Alike({ context, tasks }: { context: PageContext; tasks: RoundView["alike"] }) {
  return (
    <Block title="Photos that are alike" note="one of each stands in a release">
      <ul className="round-alike">
        {tasks.map(({ photo, other, marks, words }) => (
          <li key={`${photo} ${other}`}><a href={`/p/${context.project.code}/photos/${photo}/beside/${other}`}><b>{[...new Set(marks)].join(" and ")}</b> {words}</a></li>
        ))}
      </ul>
    </Block>
  );
}

function NothingWaits({ context, view }: { context: PageContext; view: RoundView }) {
  const { member, project } = context;
  const decides = can(member, "decide point", project.id);
  if (view.toAccept.length > 0 || view.review.length > 0 || view.alike.length > 0) return null;
  return (
    <Empty thing="list" title="Nothing waits for you now.">
      {decides ? "A point comes here as soon as the crew has sent it." : `Points are decided by others; as ${member.roles.join(", ")} you see them on the sheets of the piles.`}
    </Empty>
  );
}

function Yours({ rows, axis, context }: { rows: readonly RoundRow[]; axis: RoundAxis; context: PageContext }) {
  return (
    <table className="table round">
      <caption className="hide">What waits for you, the most irreversible first</caption>
      <thead>
        <tr>
          <th scope="col"><span className="hide">Place</span></th>
          <th scope="col">Pile</th>
          <th scope="col">Point</th>
          <th scope="col">State</th>
          <th scope="col" className="round-axis"><Hours axis={axis} /></th>
          <th scope="col">Exceptions only</th>
          <th scope="col"><span className="hide">Open</span></th>
        </tr>
      </thead>
      <tbody>{rows.map((row, place) => <Row key={`${row.mark} ${row.line}`} row={row} place={place + 1} axis={axis} context={context} />)}</tbody>
    </table>
  );
}

function Hours({ axis }: { axis: RoundAxis }) {
  return (
    <>
      <span className="hide">The limit that runs</span>
      <svg className="drawing fluid" height="20" aria-hidden="true">
        <text className="vb" x="0" y="14">now</text>
        {axis.hours.filter(({ left }) => left > 0.09).map(({ left, text }) => <text key={left} x={percent(left)} y="14" textAnchor="middle">{text}:00</text>)}
      </svg>
    </>
  );
}

function Row({ row, place, axis, context }: { row: RoundRow; place: number; axis: RoundAxis; context: PageContext }) {
  const { project, at } = context;
  const { mark, line, kind, name, state, task, attempt, limit, exceptions, coveredBy } = row;
  const when = (instant: number): string => formatWhen(instant, project.zone, { short: true });
  const href = pointHref(project.code, mark, line);
  return (
    <tr>
      <td className="round-place num">{place}</td>
      <th scope="row" className="round-mark">{mark ?? "Project"}</th>
      <td>
        <span className="round-point"><b>{line}</b> <KindMark kind={kind} /> {name}{attempt > 1 && `, attempt ${attempt}`}</span>
        <small>{secondLine(row, when)}</small>
        {coveredBy && <small className="required">covered up next, by point {coveredBy}</small>}
      </td>
      <td><State state={state} />{task === "check" && <small>for your check</small>}</td>
      <td className="round-axis">
        <div className="round-field">
          <HourLines axis={axis} />
          <WaitLine until={limit?.until ?? null} words={limit?.words ?? ""} when={limit ? when(limit.until) : ""} axis={axis} now={at} />
        </div>
      </td>
      <td>
        {exceptions.length === 0 ? <span className="letter">no exception</span> : <Exceptions exceptions={exceptions} />}
      </td>
      <td className="round-open"><a className="button" href={href} aria-label={`Open ${mark ?? "Project sheet"}, point ${line}`}>Open</a></td>
    </tr>
  );
}

function HourLines({ axis }: { axis: RoundAxis }) {
  return (
    <svg className="drawing fluid round-lines" aria-hidden="true">
      {axis.hours.map(({ left }) => <line key={left} className="hair" x1={percent(left)} x2={percent(left)} y1="0" y2="100%" />)}
      <line className="thick" x1="0" x2="0" y1="0" y2="100%" />
    </svg>
  );
}

function Exceptions({ exceptions }: { exceptions: RoundRow["exceptions"] }) {
  const shown = exceptions.slice(0, MOST_EXCEPTIONS);
  return (
    <ul className="round-exceptions">
      {shown.map(({ hand, words }, index) => <li key={words}><FlagTriangle n={index + 1} hand={hand} /><span className={hand === "bad" ? "bad" : undefined}>{words}</span></li>)}
      {exceptions.length > shown.length && <li className="letter">and {exceptions.length - shown.length} more</li>}
    </ul>
  );
}

function secondLine({ sentBy, sentAt, photos }: RoundRow, when: (at: number) => string): string {
  return `sent by ${sentBy} ${when(sentAt)}${photos > 0 ? `, ${photos} photo${photos === 1 ? "" : "s"}` : ""}`;
}

function Notes({ title, note, notes, context }: { title: string; note: string; notes: readonly RoundNote[]; context: PageContext }) {
  return (
    <Block title={title} note={note}>
      <table className="table round-note">
        <caption className="hide">{title}</caption>
        <thead className="hide"><tr><th scope="col">Pile</th><th scope="col">Points</th><th scope="col">State</th><th scope="col">Why</th></tr></thead>
        <tbody>
          {notes.map(({ mark, lines, state, words }) => (
            <tr key={`${mark} ${state} ${words}`}>
              <th scope="row">{mark ?? "Project"}</th>
              <td className="round-lines-of num">{lines.map((line) => <a key={line} href={pointHref(context.project.code, mark, line)} aria-label={`${mark ?? "Project sheet"}, point ${line}`}>{line}</a>)}</td>
              <td><State state={state} size={15} /></td>
              <td>{words}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Block>
  );
}

function ToAccept({ context, piles }: { context: PageContext; piles: RoundView["toAccept"] }) {
  return (
    <Block title="For your acceptance" note="every point is released">
      <p className="pad">
        {piles.map(({ mark }) => mark).join(", ")}: <a href={`/p/${context.project.code}/closeout#accept`}>accept on the closeout sheet</a>
      </p>
    </Block>
  );
}
