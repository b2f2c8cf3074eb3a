import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { siteTime } from "#lib/domain/clock/site-time";
import { many } from "#lib/domain/many";
import { UNIT_SYMBOLS } from "#lib/domain/quantity/unit";
import { listRevisions } from "#lib/db/project";
import { registerView, type DateState, type RegisterRow, type RegisterView } from "#lib/services/register-view";
import { openPage, type PageContext } from "#lib/edge/page";
import { Empty } from "../../../_ui/empty";
import { SheetHead } from "../../../_ui/sheet";
import { TableFrame } from "../../../_ui/table";
import { ProjectFrame } from "../project-frame";
import { addCalibration, addInstrument, addLot } from "./actions";
import { DateHead, DateLine, dateAxis } from "./date-line";
import { CalibrationForm, InstrumentForm, LotForm } from "./register-forms";
import "./register.css";

export const metadata: Metadata = { title: "Materials and instruments" };

export default async function MaterialsPage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params);
  const { house, project, at } = context;
  const revisions = await listRevisions(house.db.read, project.id);
  const lines = revisions.flatMap(({ revision }) => revision.sets.flatMap((set) => set.lines));
  const view = await registerView(house.db.read, project, at, {
    classes: [...new Set(lines.flatMap(({ quantities }) => quantities.flatMap(({ instrument }) => instrument ?? [])))],
    lotKinds: [...new Set(lines.flatMap(({ lots }) => lots.map(({ kind }) => kind)))],
  });
  return (
    <ProjectFrame context={context} sheet="Materials and instruments" current="Materials and instruments">
      <SheetHead title="Materials and instruments" lead={leadOf(view)} note="Bar: received to expiry. Line: calibrated to due. Stroke: used." />
      <Register title="Lot" rows={view.lots} at={at} open />
      <Register title="Instrument" rows={view.instruments} at={at} open={false} />
      <Forms context={context} view={view} />
    </ProjectFrame>
  );
}

function leadOf({ lots, instruments }: RegisterView): string {
  const count = (rows: readonly RegisterRow[], ...states: DateState[]): number => rows.filter(({ state }) => states.includes(state)).length;
  const said = [
    [count(lots, "over"), "expired"],
    [count(instruments, "over", "none"), "overdue"],
    [count(instruments, "soon"), "due soon"],
    [count(lots, "soon"), "ending soon"],
  ].filter(([number]) => number !== 0).map(([number, word]) => `${number} ${word}`);
  return `${many(lots.length, "lot")}, ${many(instruments.length, "instrument")}${said.length > 0 ? `: ${said.join(", ")}` : ", all in date"}`;
}

const HANDS: Record<DateState, string> = { good: "hand-ink", soon: "hand-held", over: "hand-doubt", none: "hand-doubt" };
const SYMBOLS: Record<DateState, string> = { good: "v-meets", soon: "st-clock", over: "st-expired", none: "v-tell" };

function Register({ title, rows, at, open }: { title: string; rows: readonly RegisterRow[]; at: number; open: boolean }) {
  if (rows.length === 0) return <Empty thing="list" title={`No ${title.toLowerCase()} is on the register yet.`}>The QC manager enters it below; points that need one cannot be sent before.</Empty>;
  const axis = dateAxis(at);
  return (
    <TableFrame label={`${title}s`}>
      <table className="table register">
        <caption className="hide">{title}s with the time in which they are good</caption>
        <thead>
          <tr>
            <th scope="col">{title}</th>
            <th scope="col" className="register-line"><span className="hide">From and to</span><DateHead axis={axis} now={at} /></th>
            <th scope="col">{open ? "Certificate, quantity" : "Range, accuracy"}</th>
            <th scope="col">Used on</th>
            <th scope="col">State</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.id}>
              <th scope="row">{row.mark}<small>{row.kind}</small></th>
              <td className="register-line"><DateLine row={row} axis={axis} now={at} open={open} /></td>
              <td>{row.facts}{row.calibrations.length > 0 && <Calibrations row={row} />}</td>
              <td><UsedOn row={row} /></td>
              <td>
                <span className={`verdict ${HANDS[row.state]}`}>
                  <svg width="18" height="18" aria-hidden="true"><use href={`#${SYMBOLS[row.state]}`} /></svg>
                  <span>{row.stateWords}</span>
                </span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableFrame>
  );
}

/** Words longer than this are folded away behind their number. */
const MOST_LETTERS = 24;

function UsedOn({ row: { piles, pileWords, uses } }: { row: RegisterRow }) {
  if (piles.length === 0) return "not yet";
  const times = <small>{uses.length} time{uses.length === 1 ? "" : "s"}</small>;
  if (pileWords.length <= MOST_LETTERS) return <>{pileWords}{times}</>;
  return <><details><summary>{piles.length} piles</summary>{pileWords}</details>{times}</>;
}

function Calibrations({ row }: { row: RegisterRow }) {
  return (
    <details>
      <summary>{row.calibrations.length} calibration{row.calibrations.length === 1 ? "" : "s"}</summary>
      <ul className="small">
        {[...row.calibrations].reverse().map(({ day, dueOn, certificate, words }) => <li key={certificate + day}>{day} to {dueOn}, {certificate}{words && `: ${words}`}</li>)}
      </ul>
    </details>
  );
}

function Forms({ context, view }: { context: PageContext; view: RegisterView }) {
  const { member, project, at } = context;
  const today = siteTime(at, project.zone).date;
  const lots = can(member, "keep lots", project.id);
  const instruments = can(member, "keep instruments", project.id);
  if (!lots && !instruments) return <p className="letter">The QC manager keeps these registers.</p>;
  return (
    <div className="register-forms">
      {lots && <LotForm action={addLot.bind(null, project.code)} id={randomUUID()} kinds={view.lotKinds} today={today} />}
      {instruments && <CalibrationForm action={addCalibration.bind(null, project.code)} id={randomUUID()} instruments={view.instruments} />}
      {instruments && <InstrumentForm action={addInstrument.bind(null, project.code)} id={randomUUID()} classes={view.classes} units={UNIT_SYMBOLS} />}
    </div>
  );
}
