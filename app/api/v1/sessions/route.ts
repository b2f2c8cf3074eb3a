import { DomainError } from "#lib/domain/refusal";
import { json, openRoute, readBody } from "#lib/edge/route";
import { SessionBody } from "#lib/edge/schema/point";
import { house } from "#lib/services/house";
import { signIn } from "#lib/services/sign-in";

/** Signs a script in: the token goes into its Authorization header. */
export const POST = openRoute(async (request) => {
  if (request.headers.get("content-type")?.startsWith("application/json") !== true) throw new DomainError("invalid", "Send JSON.");
  const body = await readBody(request, SessionBody);
  const { token, expiresAt } = await signIn(house(), { ...body, agent: request.headers.get("user-agent") ?? "" });
  return json({ token, expiresAt: new Date(expiresAt).toISOString() }, 201);
});
