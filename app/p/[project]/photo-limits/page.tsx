import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { openPage } from "#lib/edge/page";
import { photoLimitsView, type PhotoLimitChange } from "#lib/services/photo-limits-view";
import { Block } from "../../../_ui/block";
import { SheetHead } from "../../../_ui/sheet";
import { ProjectFrame } from "../project-frame";
import { projectSheets } from "../sheet/project-sheets";
import { setLimits } from "./actions";
import { LimitTables } from "./limit-table";
import { LimitsForm } from "./limits-form";
import "./photo-limits.css";

export const metadata: Metadata = { title: "Photo limits" };

/** What photos are held against in this project, where each number comes from, and who changed it. */
export default async function PhotoLimitsPage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params);
  const { house, project, member } = context;
  const view = await photoLimitsView(house.db.read, project);
  return (
    <ProjectFrame context={context} sheet="Photo limits" current="Project" back={{ href: `/p/${project.code}/sheet`, label: "Project sheet" }}>
      <SheetHead title="Photo limits" lead={view.lead} note="A change holds for photos received after it. Photos received before keep the limits of their day." subIndex={projectSheets(project.code, "Photo limits")} />
      <div className="limits-columns">
        <div className="limits">
          {can(member, "set photo limits", project.id)
            ? <LimitsForm action={setLimits.bind(null, project.code)} id={randomUUID()} groups={view.groups} />
            : <LimitTables groups={view.groups} value={({ title, value, unit }) => <><p className="label">{title}</p><p className="num limit-read"><b>{value}</b> {unit}</p></>} />}
        </div>
        <Block title="Changed" note={view.history.length === 0 ? "never" : "the newest holds"}>
          {view.history.length === 0
            ? <p className="pad letter">Nobody has changed a limit. The QC manager and the administrator may, with a reason.</p>
            : <ul className="limit-history">{view.history.map((change) => <li key={change.when + change.words}><Change change={change} /></li>)}</ul>}
        </Block>
      </div>
    </ProjectFrame>
  );
}

function Change({ change: { by, when, words, changes } }: { change: PhotoLimitChange }) {
  return (
    <>
      {changes.map(({ title, from, to }) => <p key={title} className="num"><b>{title}</b> <span className="replaced">{from}</span> {to}</p>)}
      <p>{words}</p>
      <p className="letter">{by}, {when}</p>
    </>
  );
}
