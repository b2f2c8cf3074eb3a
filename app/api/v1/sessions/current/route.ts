import { personRoute, sessionToken } from "#lib/edge/route";
import { signOut } from "#lib/services/sign-in";

export const DELETE = personRoute(async ({ request, house }) => {
  const token = sessionToken(request);
  if (token) await signOut(house, token);
  return new Response(null, { status: 204 });
});
