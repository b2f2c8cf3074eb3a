import { listPiles, listPointRows } from "#lib/db/pile";
import { logHead } from "#lib/db/journal";
import { listRevisions } from "#lib/db/project";
import { json, projectRoute } from "#lib/edge/route";

export const GET = projectRoute("see project", async ({ asking: { house, project } }) => {
  const tx = house.db.read;
  const [piles, points, head, revisions, now] = await Promise.all([
    listPiles(tx, project.id), listPointRows(tx, project.id), logHead(tx, project.id), listRevisions(tx, project.id), house.now(project),
  ]);
  return json({
    code: project.code,
    name: project.name,
    place: project.place,
    zone: project.zone,
    sheet: project.id,
    now: new Date(now).toISOString(),
    log: head && { size: head.seq, last: head.digest },
    revisions: revisions.map(({ letter, digest, appliesFrom }) => ({ letter, digest, appliesFrom: new Date(appliesFrom).toISOString() })),
    piles: piles.map(({ id, mark, bent, row, type, state, latitude, longitude }) => ({
      sheet: id, mark, bent, row, type, state, latitude, longitude,
      open: points.filter(({ sheet, mayBegin }) => sheet === id && mayBegin).map(({ line }) => line),
    })),
  });
});
