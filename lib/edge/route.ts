import type { z } from "zod";
import type { Action } from "#lib/domain/access/can";
import type { Member } from "#lib/domain/access/member";
import { DomainError } from "#lib/domain/refusal";
import { getProject } from "#lib/db/project";
import { problemOf, shapeFaults, unauthenticated } from "#lib/edge/problem";
import { requireSameOrigin } from "#lib/edge/same-origin";
import { SESSION_COOKIE } from "#lib/edge/session";
import { requireMember, type Asking } from "#lib/services/ask";
import { house, type House } from "#lib/services/house";
import { sessionPerson } from "#lib/services/sign-in";

type Params = Record<string, string>;
type Context = { params: Promise<Params> };
type Handler = (request: Request, context: Context) => Promise<Response>;

export interface ProjectCall {
  request: Request;
  params: Params;
  asking: Asking;
  member: Member;
}

export interface PersonCall {
  request: Request;
  params: Params;
  house: House;
  personId: string;
}

/** A JSON body is read whole; more than this is no form that a person filled. */
const LARGEST_BODY = 1024 * 1024;

/** A handler inside a project: who asks is a member who may ask for the action, or learns nothing of the project. */
export function projectRoute(action: Action, handle: (call: ProjectCall) => Promise<Response>): Handler {
  return personRoute(async ({ request, params, house: here, personId }) => {
    const asking: Asking = { house: here, project: await getProject(here.db.read, params.project ?? ""), personId };
    return handle({ request, params, asking, member: await requireMember(here.db.read, asking, action) });
  });
}

/** A handler for anybody who is signed in. */
export function personRoute(handle: (call: PersonCall) => Promise<Response>): Handler {
  return openRoute(async (request, { params }) => {
    const here = house();
    const token = tokenOf(request);
    const personId = token && (await sessionPerson(here, token.text));
    if (!token || !personId) return unauthenticated();
    if (token.from === "cookie" && !SAFE.has(request.method)) requireSameOrigin(request.headers);
    return handle({ request, params: await params, house: here, personId });
  });
}

/** A handler that anybody may call. Whatever it throws becomes a problem answer. */
export function openRoute(handle: Handler): Handler {
  return async (request, context) => {
    try {
      const response = await handle(request, context);
      if (request.method !== "HEAD") return response;
      // Nobody will read the body, and a file that is not read would stay open.
      await response.body?.cancel();
      return new Response(null, response);
    } catch (error) {
      return problemOf(error);
    }
  };
}

const COOKIE = new RegExp(`(?:^|;\\s*)${SESSION_COOKIE}=([\\w-]{20,200})(?:;|$)`);
const SAFE: ReadonlySet<string> = new Set(["GET", "HEAD", "OPTIONS"]);

/** The session token of a call: of a script by its header, of a page by its cookie. Only a cookie is sent unasked. */
function tokenOf(request: Request): { text: string; from: "header" | "cookie" } | null {
  const bearer = /^Bearer ([\w-]{20,200})$/.exec(request.headers.get("authorization") ?? "")?.[1];
  if (bearer) return { text: bearer, from: "header" };
  const kept = COOKIE.exec(request.headers.get("cookie") ?? "")?.[1];
  return kept ? { text: kept, from: "cookie" } : null;
}

export function sessionToken(request: Request): string | null {
  return tokenOf(request)?.text ?? null;
}

/** Reads a JSON body of the asked shape; what is wrong with it is listed member by member. */
export async function readBody<S extends z.ZodType>(request: Request, schema: S): Promise<z.output<S>> {
  let value: unknown;
  const bytes = await readBytes(request, LARGEST_BODY);
  try {
    value = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch {
    throw new DomainError("invalid", "The body is not JSON.");
  }
  const read = schema.safeParse(value);
  if (!read.success) throw new DomainError("invalid", "The body has not the shape that is asked for.", shapeFaults(read.error));
  return read.data;
}

/** A body is counted as it arrives, since its announced length may be missing or wrong. */
async function readBytes(request: Request, most: number): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of (request.body ?? []) as unknown as AsyncIterable<Uint8Array>) {
    length += chunk.byteLength;
    if (length > most) throw new DomainError("invalid", `The body is larger than ${most / 1024 ** 2} MB.`);
    chunks.push(chunk);
  }
  return Buffer.concat(chunks);
}

/** An answer in JSON, never kept by a cache. */
export function json(value: unknown, status = 200): Response {
  return new Response(JSON.stringify(value), { status, headers: { "content-type": "application/json", "cache-control": "no-store" } });
}
