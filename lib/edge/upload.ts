import { DomainError } from "#lib/domain/refusal";
import { shapeFaults } from "#lib/edge/problem";
import { bodyOf } from "#lib/edge/request-body";
import { OperationId } from "#lib/edge/schema/point";

export interface Arriving {
  stream: AsyncIterable<Uint8Array>;
  declaredLength?: number;
  declaredSha256?: string;
  fileName?: string;
}

/** The body of an upload as a stream, with what its headers announce: nothing of it is held in memory. */
export function arriving(request: Request): Arriving {
  const stream = bodyOf(request);
  if (stream === null) throw new DomainError("invalid", "There is no file in the body.");
  const length = request.headers.get("content-length");
  const sha256 = request.headers.get("x-content-sha256");
  const name = request.headers.get("x-file-name");
  return {
    stream,
    ...(length === null ? {} : { declaredLength: Number(length) }),
    ...(sha256 === null ? {} : { declaredSha256: sha256 }),
    ...(name === null ? {} : { fileName: decoded(name) }),
  };
}

/** Names travel percent-encoded, since a header holds no accents; one that is not is taken as it is. */
function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

export function queryText(request: Request, name: string, message: string): string {
  const text = new URL(request.url).searchParams.get(name);
  if (!text) throw new DomainError("invalid", message, [{ field: name, message }]);
  return text;
}

/** The id that the sender made for what it sends, so that sending twice is one receipt; none when it made none. */
export function sentId(request: Request): { id?: string } {
  const id = new URL(request.url).searchParams.get("id");
  if (id === null) return {};
  const read = OperationId.safeParse(id);
  if (!read.success) throw new DomainError("invalid", "The id is not one.", shapeFaults(read.error).map(({ message }) => ({ field: "id", message })));
  return { id: read.data };
}

/** A header that carries JSON; null when it is absent. */
export function headerJson(request: Request, name: string): unknown {
  const text = request.headers.get(name);
  if (text === null) return null;
  try {
    return JSON.parse(text) as unknown;
  } catch {
    throw new DomainError("invalid", `The header ${name} is not JSON.`, [{ field: name, message: "This is not JSON." }]);
  }
}
