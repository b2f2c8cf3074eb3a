import { headers } from "next/headers";
import { forbidden, notFound, redirect } from "next/navigation";
import { can, type Action } from "#lib/domain/access/can";
import type { Member } from "#lib/domain/access/member";
import type { Instant } from "#lib/domain/instant";
import { DomainError } from "#lib/domain/refusal";
import { logHead, type LogHead } from "#lib/db/journal";
import { findMember, getProject } from "#lib/db/project";
import type { Asking } from "#lib/services/ask";
import { requireMember } from "#lib/services/ask";
import { house } from "#lib/services/house";
import { requireSameOrigin } from "#lib/edge/same-origin";
import { signedInPerson } from "#lib/edge/session";

/** Who looks at a page, in which project, when, and how far its log has come. */
export interface PageContext extends Asking {
  member: Member;
  at: Instant;
  head: LogHead | null;
}

/** Set on every request by the server: the path and query that were asked for. */
const ASKED_FOR = "x-asked-for";

/**
 * Lets a member of the project in. Without a session the person is sent to sign in and then back here; who is no member
 * finds no such project; who is one in another role is told so.
 */
export async function openPage(params: Promise<{ project: string }>, action: Action = "see project"): Promise<PageContext> {
  const personId = await signedInPerson();
  if (!personId) redirect(signInPath((await headers()).get(ASKED_FOR)));
  const { project: code } = await params;
  const here = house();
  const project = await found(() => getProject(here.db.read, code));
  const member = await findMember(here.db.read, project.id, personId);
  if (!member) notFound();
  if (!can(member, action, project.id)) forbidden();
  const [at, head] = await Promise.all([here.now(project), logHead(here.db.read, project.id)]);
  return { house: here, project, personId, member, at, head };
}

/** Runs a page's reading; what it does not find makes the page one that does not exist. */
export async function found<T>(read: () => Promise<T>): Promise<T> {
  try {
    return await read();
  } catch (error) {
    if (error instanceof DomainError && error.code === "not-found") notFound();
    throw error;
  }
}

/** For a server action: the same checks, and that the form was sent from our own page. Refuses with a DomainError. */
export async function formAsking(projectCode: string, action: Action): Promise<Asking & { member: Member }> {
  requireSameOrigin(await headers());
  const personId = await signedInPerson();
  if (!personId) throw new DomainError("not-allowed", "You are signed out. Sign in again in another tab, then send this once more.");
  const here = house();
  const asking = { house: here, project: await getProject(here.db.read, projectCode), personId };
  return { ...asking, member: await requireMember(here.db.read, asking, action) };
}

/** The sign-in page that leads back to where the person was going. */
export function signInPath(askedFor: string | null): string {
  const next = ownPath(askedFor);
  return next === null || next === "/" ? "/sign-in" : `/sign-in?next=${encodeURIComponent(next)}`;
}

/** A path on this site, or null: whatever a link carries must not lead anywhere else. */
export function ownPath(text: string | null | undefined): string | null {
  if (!text?.startsWith("/")) return null;
  const base = "http://lastlook.invalid";
  if (!URL.canParse(text, base)) return null;
  const url = new URL(text, base);
  url.searchParams.delete("_rsc"); // Next's own, on requests from its scripts
  return url.origin === base ? url.pathname + url.search : null;
}
