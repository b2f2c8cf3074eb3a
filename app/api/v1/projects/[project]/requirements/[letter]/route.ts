import { RevisionBody } from "#lib/edge/schema/requirement";
import { json, projectRoute, readBody } from "#lib/edge/route";
import { putDraft, requirementsFile } from "#lib/services/requirements-file";

/** The revision as canonical JSON: its SHA-256 is the digest that submissions name. */
export const GET = projectRoute("see project", async ({ asking, member, params: { letter = "" } }) => {
  const { bytes, digest } = await requirementsFile(asking, member, letter);
  return new Response(new Uint8Array(bytes), {
    headers: {
      "content-type": "application/json", "cache-control": "no-store", etag: `"${digest}"`, "content-digest": `sha-256=:${Buffer.from(digest, "hex").toString("base64")}:`,
      "content-disposition": `attachment; filename="requirements-${letter}.json"`,
    },
  });
});

export const PUT = projectRoute("draft revision", async ({ request, asking, params: { letter = "" } }) => {
  const revision = await readBody(request, RevisionBody);
  const seen = /^"([0-9a-f]{64})"$/.exec(request.headers.get("if-match") ?? "")?.[1] ?? null;
  return json(await putDraft(asking, { letter, revision, seen }));
});
