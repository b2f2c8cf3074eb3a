import type { Metadata } from "next";
import { loadSheet } from "#lib/services/sheet";
import { projectSheetView, type ProjectPoint, type ProjectSheetView } from "#lib/services/project-sheet-view";
import { openPage } from "#lib/edge/page";
import { Block } from "../../../_ui/block";
import { Empty } from "../../../_ui/empty";
import { Facts } from "../../../_ui/facts";
import { KindMark, State, ValueVerdictMark } from "../../../_ui/mark";
import { SheetHead } from "../../../_ui/sheet";
import { TableFrame } from "../../../_ui/table";
import { OneStamp } from "../point/decision/history";
import { pointHref } from "../point/point-href";
import { ProjectFrame } from "../project-frame";
import { projectSheets } from "./project-sheets";
import "../point/decision/decision.css";
import "./project-sheet.css";

export const metadata: Metadata = { title: "Project sheet" };

export default async function ProjectSheetPage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params);
  const { house, project, member, at } = context;
  const sheet = await loadSheet(house.db.read, project, project.id, at);
  const view = await projectSheetView(house.db.read, sheet, member);
  return (
    <ProjectFrame context={context} sheet="Project sheet" revision={sheet.revision} current="Project">
      <SheetHead title="Project sheet" lead={leadOf(view.points)} note="What must stand before any pile begins." subIndex={projectSheets(project.code, "Project sheet")} />
      <ul className="project-points">
        {view.points.map((point) => <li key={point.line}><Point point={point} project={project.code} /></li>)}
      </ul>
      <div className="project-columns">
        <div className="stack">
          {view.sent.length === 0 && <Empty thing="list" title="Nothing has been sent for these points yet.">The QC manager sends them; what was approved and who let it stand is shown here.</Empty>}
          {view.sent.map((sent) => <Sent key={sent.line} sent={sent} documents={`/api/v1/projects/${project.code}/documents`} />)}
        </div>
        <div className="stack">
          <Block title="The project"><div className="pad"><Facts facts={view.facts} /></div></Block>
          <Revisions revisions={view.revisions} />
        </div>
      </div>
    </ProjectFrame>
  );
}

function leadOf(points: readonly ProjectPoint[]): string {
  const counts = new Map<string, number>();
  for (const { state } of points) counts.set(state, (counts.get(state) ?? 0) + 1);
  const [first, last] = [points[0]?.line ?? "", points.at(-1)?.line ?? ""];
  return `${first === last ? first : `${first} to ${last}`}: ${[...counts].map(([state, count]) => `${count} ${state}`).join(", ")}`;
}

function Point({ point, project }: { point: ProjectPoint; project: string }) {
  const { line, kind, name, state, fact, by, register } = point;
  return (
    <a className="project-point" href={register ? `/p/${project}/materials` : pointHref(project, null, line)}>
      <span className="project-line">{line}</span>
      <KindMark kind={kind} />
      <span><b>{name}</b><small>{fact}</small></span>
      <span className="project-state"><State state={state} /><small>{by}</small></span>
    </a>
  );
}

function Sent({ sent, documents }: { sent: ProjectSheetView["sent"][number]; documents: string }) {
  return (
    <Block title={`${sent.line} ${sent.name}`}>
      <TableFrame label={`${sent.line}, values`}>
        <table className="table">
          <caption className="hide">{sent.name}</caption>
          <thead><tr><th scope="col">Item</th><th scope="col">Requirement</th><th scope="col">Recorded</th><th scope="col">State</th></tr></thead>
          <tbody>
            {sent.values.map(({ key, name, requirement, measured, verdict }) => (
              <tr key={key}>
                <th scope="row">{name}</th>
                <td className="required num">{requirement}</td>
                <td className="num">{measured || "–"}</td>
                <td>{verdict ? <ValueVerdictMark verdict={verdict} /> : "recorded"}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableFrame>
      {(sent.stamps.length > 0 || sent.documents.length > 0) && (
        <div className="pad stack">
          {sent.documents.map(({ id, title }) => <p key={id}><a href={`${documents}/${id}`}>{title}</a></p>)}
          <div className="stamps">{sent.stamps.map((stamp, position) => <OneStamp key={position} stamp={stamp} />)}</div>
        </div>
      )}
    </Block>
  );
}

function Revisions({ revisions }: { revisions: ProjectSheetView["revisions"] }) {
  return (
    <Block title="Requirement revisions" note={`${revisions.length} approved`}>
      <ul className="revisions">
        {[...revisions].reverse().map(({ letter, title, appliesFrom, approvedBy, digest }) => (
          <li key={letter}>
            <b className="required">{letter}</b>
            <span>{title}<small>from {appliesFrom}, approved by {approvedBy}</small><small className="code">{digest.slice(0, 16)}</small></span>
          </li>
        ))}
      </ul>
    </Block>
  );
}
