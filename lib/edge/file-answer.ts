import type { FileHandle } from "node:fs/promises";
import { Readable } from "node:stream";

/** Content under an id never changes, but who may see it does: a browser may keep it, a shared cache may not. */
export const FOREVER = "private, max-age=31536000, immutable";

/**
 * Streams a file. Whatever it holds, a browser shows it without scripts, plugins or our origin's rights.
 *
 * @param name safe characters only: digests and our own names.
 */
export async function fileAnswer(
  file: FileHandle,
  { mediaType, name, attachment, cache }: { mediaType: string; name: string; attachment: boolean; cache: string },
): Promise<Response> {
  const { size } = await file.stat();
  const stream = Readable.toWeb(file.createReadStream()) as ReadableStream<Uint8Array>;
  return new Response(stream, {
    headers: {
      "content-type": mediaType,
      "content-length": String(size),
      "content-disposition": `${attachment ? "attachment" : "inline"}; filename="${name}"`,
      "content-security-policy": "sandbox; default-src 'none'",
      "x-content-type-options": "nosniff",
      "cache-control": cache,
    },
  });
}
