import type { Metadata } from "next";
import { formatWhen } from "#lib/domain/clock/site-time";
import { openPage } from "#lib/edge/page";
import { clocksView, type ClockRow, type ClocksView } from "#lib/services/clocks-view";
import { Block } from "../../../_ui/block";
import { Empty } from "../../../_ui/empty";
import { SheetHead } from "../../../_ui/sheet";
import { TableFrame } from "../../../_ui/table";
import { pointHref } from "../point/point-href";
import { ClockDrawing } from "../point/entry/head";
import { ProjectFrame } from "../project-frame";
import { clockSheets } from "./clock-sheets";
import { ClocksChart } from "./clocks-chart";
import "./clocks.css";

export const metadata: Metadata = { title: "Clocks" };

export default async function ClocksPage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params);
  const { house, project, at } = context;
  const view = await clocksView(house.db.read, project, at);
  return (
    <ProjectFrame context={context} sheet="Clocks" current="Clocks">
      <SheetHead
        title="Clocks" lead={view.finding} subIndex={clockSheets(project.code, "Clocks")}
        note="What stands still or cannot be met first, then what ends soonest. Earliest or latest times, never a permission."
      />
      <div className="clocks-columns">
        <div className="stack">
          {view.rows.length > 0
            ? <ClocksChart project={project.code} view={view} zone={project.zone} now={at} formatTime={(instant) => formatWhen(instant, project.zone)} />
            : <Empty thing="list" title="No clock runs.">A cure, a maximum wait or a pot life stands here from the end of the work that it follows.</Empty>}
          {view.later.length > 0 && <Later project={project.code} rows={view.later} />}
        </div>
        <div className="stack">
          {view.drawn.map((clock) => <ClockDrawing key={clock.title} clock={clock} context={context} />)}
        </div>
      </div>
    </ProjectFrame>
  );
}

function Later({ project, rows }: { project: string; rows: ClocksView["later"] }) {
  return (
    <Block title="Later">
      <TableFrame label="Clocks that end later">
        <table className="table clocks-later">
          <caption className="hide">Clocks that end later than the axis shows</caption>
          <thead className="hide"><tr><th scope="col">Pile</th><th scope="col">Point</th><th scope="col">Clock</th><th scope="col">When</th></tr></thead>
          <tbody>{rows.map((row) => <LaterRow key={`${row.sheet} ${row.line} ${row.clock} ${row.since}`} row={row} project={project} />)}</tbody>
        </table>
      </TableFrame>
    </Block>
  );
}

function LaterRow({ row: { mark, line, what, clock, words }, project }: { row: ClockRow; project: string }) {
  return (
    <tr>
      <th scope="row">{mark}</th>
      <td><a href={pointHref(project, mark, line)}>{line} {what}</a></td>
      <td>{clock}</td>
      <td className="required num">{words}</td>
    </tr>
  );
}
