import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { openPage } from "#lib/edge/page";
import { tidesView, type TidesView } from "#lib/services/tide-view";
import { Block } from "../../../../_ui/block";
import { Empty } from "../../../../_ui/empty";
import { SheetHead } from "../../../../_ui/sheet";
import { TableFrame } from "../../../../_ui/table";
import { ProjectFrame } from "../../project-frame";
import { clockSheets } from "../clock-sheets";
import { TidePicture } from "../tide-picture";
import { addTideTable } from "./actions";
import { TideForm } from "./tide-form";
import "../clocks.css";

export const metadata: Metadata = { title: "Tides" };

export default async function TidesPage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params);
  const { house, project, member, at } = context;
  const view = await tidesView(house.db.read, project, at);
  return (
    <ProjectFrame context={context} sheet="Tides" current="Clocks" back={{ href: `/p/${project.code}/clocks`, label: "Clocks" }}>
      <SheetHead title="Tides" lead={view.lead} note="For planning. Not for navigation, and not for diver safety." subIndex={clockSheets(project.code, "Tides")} />
      {view.picture && <TidePicture picture={view.picture} zone={project.zone} now={at} />}
      <div className="clocks-columns">
        <div className="stack">
          {can(member, "keep tides", project.id)
            ? <Block title="Keep a table" hand="held"><TideForm action={addTideTable.bind(null, project.code)} id={randomUUID()} zone={project.zone} now={at} last={view.last} /></Block>
            : view.tables.length === 0 && <Empty thing="list" title="No tide table is kept yet.">The crew lead or the QC manager enters the published high and low waters.</Empty>}
        </div>
        <div className="stack">
          {view.windows.length > 0 && <Windows windows={view.windows} />}
          {view.tables.length > 0 && <Tables tables={view.tables} />}
        </div>
      </div>
    </ProjectFrame>
  );
}

function Windows({ windows }: { windows: TidesView["windows"] }) {
  return (
    <Block title="Working windows" note="water below the level">
      <TableFrame label="Working windows">
        <table className="table">
          <thead className="hide"><tr><th scope="col">Day</th><th scope="col">From and to</th><th scope="col">How long</th></tr></thead>
          <tbody>{windows.map(({ from, day, opens, closes, long }) => <tr key={from}><th scope="row">{day}</th><td className="num">{opens} to {closes}</td><td className="num">{long}</td></tr>)}</tbody>
        </table>
      </TableFrame>
    </Block>
  );
}

function Tables({ tables }: { tables: TidesView["tables"] }) {
  return (
    <Block title="Tables kept">
      <ul className="pad stack">{tables.map(({ id, source, words, kept }) => <li key={id}><b>{source}</b><br /><span>{words}</span><br /><span className="letter">{kept}</span></li>)}</ul>
    </Block>
  );
}
