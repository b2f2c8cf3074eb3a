import { cookies, headers } from "next/headers";
import { house } from "#lib/services/house";
import { sessionPerson, signOut, type OpenedSession } from "#lib/services/sign-in";

export const SESSION_COOKIE = "lastlook-session";

/** The person whose session the browser's cookie names; null when there is none or it has run out. */
export async function signedInPerson(): Promise<string | null> {
  const token = (await cookies()).get(SESSION_COOKIE)?.value;
  return token ? sessionPerson(house(), token) : null;
}

/** Gives the browser the session it was opened for. Only from a server action or a route handler. */
export async function keepSession({ token, expiresAt }: OpenedSession): Promise<void> {
  const secure = (await headers()).get("x-forwarded-proto") === "https";
  (await cookies()).set(SESSION_COOKIE, token, { httpOnly: true, sameSite: "lax", secure, path: "/", expires: expiresAt });
}

/** Ends the browser's session, here and in the database. Only from a server action or a route handler. */
export async function endSession(): Promise<void> {
  const kept = await cookies();
  const token = kept.get(SESSION_COOKIE)?.value;
  if (token) await signOut(house(), token);
  kept.delete(SESSION_COOKIE);
}
