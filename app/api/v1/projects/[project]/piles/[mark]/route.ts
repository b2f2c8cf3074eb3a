import { getPile } from "#lib/db/pile";
import { json, projectRoute } from "#lib/edge/route";
import { loadSheet, revisionOf } from "#lib/services/sheet";
import { blockWords } from "#lib/services/submit-point";

export const GET = projectRoute("see project", async ({ asking: { house, project }, params }) => {
  const tx = house.db.read;
  const pile = await getPile(tx, project.id, { mark: decodeURIComponent(params.mark ?? "") });
  const sheet = await loadSheet(tx, project, pile.id, await house.now(project));
  return json({
    sheet: pile.id,
    mark: pile.mark,
    bent: pile.bent,
    row: pile.row,
    type: pile.type,
    state: pile.state,
    revision: sheet.revision.letter,
    overrides: pile.overrides,
    points: sheet.lines.flatMap(({ line, name, kind, notApplicable }) => {
      const status = sheet.folded.get(line);
      if (!status) return [];
      const { state, attempt, mayBegin, blocks } = status;
      return [{ line, name, kind, notApplicable, state, attempt, mayBegin, revision: revisionOf(sheet, line).letter, blocks: blocks.map((block) => blockWords(block, project.zone)) }];
    }),
  });
});
