import type { Instant } from "#lib/domain/instant";
import { json, projectRoute } from "#lib/edge/route";
import { clocksView } from "#lib/services/clocks-view";

/** Every clock that runs, worked out for this call from the records alone. */
export const GET = projectRoute("see project", async ({ asking: { house, project } }) => {
  const now = await house.now(project);
  const { finding, rows, later, tide } = await clocksView(house.db.read, project, now);
  return json({
    now: iso(now),
    finding,
    clocks: [...rows, ...later].map(({ sheet, mark, line, name, clock, state, since, until, bound, words }) => ({
      sheet, mark, line, name, clock, state, since: iso(since), bound, until: until === null ? null : iso(until), words,
    })),
    tide: tide.map(({ from, to }) => ({ from: iso(from), to: iso(to) })),
  });
});

function iso(at: Instant): string {
  return new Date(at).toISOString();
}
