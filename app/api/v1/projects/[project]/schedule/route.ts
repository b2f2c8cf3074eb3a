import { DomainError } from "#lib/domain/refusal";
import { json, projectRoute } from "#lib/edge/route";
import { arriving } from "#lib/edge/upload";
import { readingOf, receiveSchedule } from "#lib/services/read-schedule";

/** Takes a drawing schedule (XLSX, CSV or GeoJSON) as the raw body, to be matched and read; nothing of it is brought in. */
export const PUT = projectRoute("import piles", async ({ request, asking }) => {
  const { stream, declaredLength, fileName } = arriving(request);
  const sheet = new URL(request.url).searchParams.get("sheet");
  await receiveSchedule(asking, { stream, fileName: fileName ?? "Schedule", sheet, ...(declaredLength === undefined ? {} : { declaredLength }) });
  return json(await stateOf(asking), 201);
});

/** How the schedule that the caller is reading stands. */
export const GET = projectRoute("import piles", async ({ asking }) => json(await stateOf(asking)));

async function stateOf(asking: Parameters<typeof receiveSchedule>[0]) {
  const { house, project } = asking;
  const reading = await readingOf(house.db.read, asking, await house.now(project));
  if (!reading) throw new DomainError("not-found", "No schedule is being read.");
  const { draft, faults, run, difference, missing } = reading;
  return {
    title: draft.title,
    sha256: draft.sha256,
    rows: draft.grid.rows.length,
    mapping: draft.mapping,
    columnFaults: faults,
    ready: run?.ready.length ?? 0,
    aside: run?.aside ?? [],
    questions: run?.questions.map(({ question, answer }) => ({ ...question, answer })) ?? [],
    added: difference?.added.map(({ mark }) => mark) ?? [],
    changed: difference?.changed.map(({ now, changes }) => ({ mark: now.mark, changes })) ?? [],
    missing: missing.map(({ mark }) => mark),
  };
}
