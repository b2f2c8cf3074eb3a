import { calendarFeed } from "#lib/edge/calendar-feed";
import { openRoute } from "#lib/edge/route";
import { openCalendarLink } from "#lib/services/calendar-link";
import { calendarView } from "#lib/services/clocks-view";
import { house } from "#lib/services/house";

/** What runs in a project, for a calendar program that has a person's link. It names no person. */
export const GET = openRoute(async (_request, { params }) => {
  const here = house();
  const project = await openCalendarLink(here, (await params).token ?? "");
  const events = await calendarView(here.db.read, project, await here.now(project));
  return new Response(calendarFeed(`${project.name}: clocks`, events), {
    headers: { "content-type": "text/calendar; charset=utf-8", "content-disposition": 'inline; filename="clocks.ics"', "cache-control": "private, no-store" },
  });
});
