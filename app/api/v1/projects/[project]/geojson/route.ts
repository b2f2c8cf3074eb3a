import { revisionInForce } from "#lib/domain/plan/plan";
import { pilesGeojson } from "#lib/domain/schedule/geojson";
import { listPiles } from "#lib/db/pile";
import { listRevisions } from "#lib/db/project";
import { projectRoute } from "#lib/edge/route";

/** The piles that have a position, for a map. */
export const GET = projectRoute("see project", async ({ asking: { house, project } }) => {
  const tx = house.db.read;
  const [piles, revisions, at] = await Promise.all([listPiles(tx, project.id), listRevisions(tx, project.id), house.now(project)]);
  const sets = (revisionInForce(revisions, at) ?? revisions[0])?.revision.sets ?? [];
  const text = pilesGeojson(
    piles.map(({ mark, type, bent, row, state, latitude, longitude }) => ({
      mark, bent, row, state, typeWords: sets.find((set) => set.type === type)?.name ?? type, position: latitude === null || longitude === null ? null : { latitude, longitude },
    })),
  );
  return new Response(text, {
    headers: { "content-type": "application/geo+json", "content-disposition": `attachment; filename="${project.code}-piles.geojson"`, "cache-control": "private, no-store" },
  });
});
