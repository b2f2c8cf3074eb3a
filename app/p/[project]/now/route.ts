import { openPage } from "#lib/edge/page";

/** The project's own time, against which a phone measures its clock. */
export async function GET(_request: Request, { params }: { params: Promise<{ project: string }> }): Promise<Response> {
  const { house, project } = await openPage(params);
  return Response.json({ now: new Date(await house.now(project)).toISOString() }, { headers: { "cache-control": "no-store" } });
}
