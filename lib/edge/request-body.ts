import { randomUUID } from "node:crypto";
import type { IncomingMessage, ServerResponse } from "node:http";

/** On a request that has a body: under which name it is held here. Set by the server; what a client sends in it is overwritten. */
const HEADER = "x-body";

// One table for the whole process, though the server bundle may hold this module more than once.
const BODIES = Symbol.for("lastlook.bodies");
const shared = globalThis as typeof globalThis & { [BODIES]?: Map<string, IncomingMessage> };
const bodies = (): Map<string, IncomingMessage> => (shared[BODIES] ??= new Map());

/**
 * Holds the body of an upload for the route that takes it, until the request is over. A route is given its body wrapped into
 * another kind of stream, which costs as much as hashing and writing it together.
 */
export function holdBody(request: IncomingMessage, response: ServerResponse): void {
  delete request.headers[HEADER];
  if (request.method !== "PUT") return;
  const name = randomUUID();
  request.headers[HEADER] = name;
  bodies().set(name, request);
  response.once("close", () => bodies().delete(name));
}

/** The body of an upload as it comes from the network; where no server holds it, as the request carries it. Null without one. */
export function bodyOf(request: Request): AsyncIterable<Uint8Array> | null {
  const held = bodies().get(request.headers.get(HEADER) ?? "");
  return held ?? (request.body as unknown as AsyncIterable<Uint8Array> | null);
}
