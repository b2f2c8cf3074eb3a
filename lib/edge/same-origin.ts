import { DomainError } from "#lib/domain/refusal";

/**
 * Refuses a request that changes something unless it says that it comes from our own pages. Next lets a server action
 * without an Origin through and checks nothing at all in a route handler. Every browser names the origin of a POST, PUT
 * or DELETE, so a missing one is refused.
 *
 * @param headers of the request; `x-forwarded-host` is what a proxy in front was asked for.
 */
export function requireSameOrigin(headers: Headers): void {
  const origin = headers.get("origin");
  const host = headers.get("x-forwarded-host") ?? headers.get("host");
  if (origin !== null && host !== null && hostOf(origin) === host.toLowerCase()) return;
  throw new DomainError("not-allowed", "This request does not come from Lastlook's own pages. Load the page again and send it from there.");
}

function hostOf(origin: string): string | null {
  return URL.canParse(origin) ? new URL(origin).host : null;
}
