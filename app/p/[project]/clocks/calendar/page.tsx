import type { Metadata } from "next";
import { openPage } from "#lib/edge/page";
import { calendarLinkSince } from "#lib/services/calendar-link";
import { calendarView } from "#lib/services/clocks-view";
import { whenNear } from "#lib/services/clock-view";
import { Block } from "../../../../_ui/block";
import { Empty } from "../../../../_ui/empty";
import { SheetHead } from "../../../../_ui/sheet";
import { TableFrame } from "../../../../_ui/table";
import { ProjectFrame } from "../../project-frame";
import { clockSheets } from "../clock-sheets";
import { makeLink, stopLink } from "./actions";
import { MakeLink, StopLink } from "./link-forms";
import "../clocks.css";

export const metadata: Metadata = { title: "Calendar" };

export default async function CalendarPage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params);
  const { house, project, at } = context;
  const [since, events] = await Promise.all([calendarLinkSince(context), calendarView(house.db.read, project, at)]);
  return (
    <ProjectFrame context={context} sheet="Calendar" current="Clocks" back={{ href: `/p/${project.code}/clocks`, label: "Clocks" }}>
      <SheetHead
        title="Calendar" lead={since === null ? "You have no link." : `Your link works since ${whenNear(since, project.zone, house.realNow())}.`}
        note="A calendar program reads it by itself and shows what runs. Earliest or latest times, never a permission." subIndex={clockSheets(project.code, "Calendar")}
      />
      <div className="clocks-columns">
        <div className="stack">
          {events.length === 0 ? <Empty thing="list" title="Nothing stands in the calendar now." /> : (
            <Block title="What the calendar shows now" note="worked out anew each time it is read">
              <TableFrame label="Entries of the calendar">
                <table className="table">
                  <thead><tr><th scope="col">When</th><th scope="col">Entry</th></tr></thead>
                  <tbody>{events.map(({ uid, start, end, summary }) => <tr key={uid}><th scope="row" className="num calendar-when">{whenNear(start, project.zone, at)}{end !== null && ` to ${whenNear(end, project.zone, at)}`}</th><td>{summary}</td></tr>)}</tbody>
                </table>
              </TableFrame>
            </Block>
          )}
        </div>
        <div className="stack">
          <Block title="Your link" hand="held">
            <div className="pad stack">
              <p>Add the link to a calendar program as a calendar by subscription. It needs no password, names no person, and stops when you stop it or leave the project.</p>
              <MakeLink action={makeLink.bind(null, project.code)} has={since !== null} />
              {since !== null && <StopLink action={stopLink.bind(null, project.code)} />}
            </div>
          </Block>
        </div>
      </div>
    </ProjectFrame>
  );
}
