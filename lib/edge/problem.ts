import { randomUUID } from "node:crypto";
import { z } from "zod";
import { DomainError, type Fault, type RefusalCode } from "#lib/domain/refusal";

const PROBLEMS: Record<RefusalCode, { status: number; title: string }> = {
  invalid: { status: 422, title: "Something in what was sent has to be mended" },
  "not-allowed": { status: 403, title: "Not for this person" },
  "not-found": { status: 404, title: "Not here" },
  conflict: { status: 409, title: "Something changed meanwhile" },
  blocked: { status: 409, title: "Not possible as things stand" },
};

/** What a problem answer holds besides what RFC 9457 names: each thing to mend, with the member it belongs to. */
export const ProblemSchema = z.object({
  type: z.string(),
  title: z.string(),
  status: z.int(),
  detail: z.string(),
  errors: z.array(z.object({ field: z.string().nullable(), message: z.string() })),
});

/**
 * Turns whatever was thrown into a problem answer. What is not a refusal is a bug: it goes to the log under a reference,
 * and the caller sees the reference and no more.
 *
 * @source RFC 9457, Problem Details for HTTP APIs.
 */
export function problemOf(error: unknown): Response {
  if (error instanceof DomainError) {
    const { status, title } = PROBLEMS[error.code];
    return answer(`urn:lastlook:problem:${error.code}`, status, title, error.message, error.faults);
  }
  const reference = randomUUID();
  console.error(`Fault ${reference}:`, error);
  return answer("urn:lastlook:problem:fault", 500, "A fault of the server", `Nothing was changed. Say this reference when you report it: ${reference}.`, []);
}

/** A caller without a session, or with one that has run out. */
export function unauthenticated(): Response {
  const response = answer("urn:lastlook:problem:signed-out", 401, "Signed out", "Sign in at POST /api/v1/sessions and send its token as a bearer token.", []);
  response.headers.set("www-authenticate", 'Bearer realm="Lastlook"');
  return response;
}

function answer(type: string, status: number, title: string, detail: string, errors: readonly Fault[]): Response {
  return new Response(JSON.stringify({ type, title, status, detail, errors }), {
    status,
    headers: { "content-type": "application/problem+json", "cache-control": "no-store" },
  });
}

/** Faults of a body that has not the asked shape, each with the path of the member. */
export function shapeFaults(error: z.ZodError): Fault[] {
  return error.issues.map(({ path, message }) => ({ field: path.length > 0 ? path.join(".") : null, message }));
}
