import { createHash, type Hash } from "node:crypto";
import { once } from "node:events";
import { createReadStream } from "node:fs";
import { readFile } from "node:fs/promises";
import { Readable, Transform, type Writable } from "node:stream";
import { pipeline } from "node:stream/promises";
import ZipStream from "zip-stream";
import type { ListedFile } from "#lib/closeout/manifest";
import type { StoredFile } from "#lib/closeout/package-input";
import { sha256 } from "#lib/records/canonical";

// Bytes. Up to here a file is read whole, so that its size and CRC stand before it in the ZIP: readers that take a ZIP as a stream
// cannot read a stored entry that has them only after it. Above, memory counts for more.
const READ_WHOLE_UP_TO = 32 * 1024 * 1024;

/** Writes files into a stored ZIP under one top folder, all with one time, and lists them for the manifests. */
export class BagWriter {
  readonly payload: ListedFile[] = [];
  readonly tags: ListedFile[] = [];
  private readonly zip = new ZipStream({ store: true });
  private readonly zipHash = createHash("sha256");
  private zipBytes = 0;
  private readonly written: Promise<void>;
  private readonly seen = new Set<string>();

  constructor(
    private readonly topFolder: string,
    private readonly time: Date,
    out: Writable,
  ) {
    const count = new Transform({
      transform: (chunk: Buffer, _encoding, done) => {
        this.zipHash.update(chunk);
        this.zipBytes += chunk.length;
        done(null, chunk);
      },
    });
    this.written = pipeline(this.zip, count, out);
    // Looked at again in finish(); until then a failure only ends the wait in add().
    this.written.catch(() => undefined);
  }

  async tag(path: string, content: Buffer | string, mode = 0o644): Promise<void> {
    this.tags.push(await this.whole(path, Buffer.from(content), mode));
  }

  async data(path: string, content: Buffer | string): Promise<void> {
    this.payload.push(await this.whole(`data/${path}`, Buffer.from(content), 0o644));
  }

  /** Copies a stored file, and throws when its bytes on disk are not what its digest and size say. */
  async file({ bagPath, filePath, bytes, sha256: digest }: StoredFile): Promise<void> {
    const listed =
      bytes <= READ_WHOLE_UP_TO ? await this.whole(`data/${bagPath}`, await readFile(filePath), 0o644) : await this.streamed(`data/${bagPath}`, filePath);
    if (listed.sha256 !== digest || listed.bytes !== bytes) throw new Error(`${bagPath}: the stored file is damaged, it has not the digest it was received with.`);
    this.payload.push(listed);
  }

  async finish(): Promise<{ zipSha256: string; bytes: number }> {
    this.zip.finalize();
    await this.written;
    return { zipSha256: this.zipHash.digest("hex"), bytes: this.zipBytes };
  }

  abandon(error: Error): void {
    this.zip.destroy(error);
  }

  private async whole(path: string, content: Buffer, mode: number): Promise<ListedFile> {
    await this.add(path, content, mode);
    return { path, sha256: sha256(content), bytes: content.length };
  }

  private async streamed(path: string, filePath: string): Promise<ListedFile> {
    const hash: Hash = createHash("sha256");
    let bytes = 0;
    const source = Readable.from(
      (async function* () {
        for await (const chunk of createReadStream(filePath) as AsyncIterable<Buffer>) {
          hash.update(chunk);
          bytes += chunk.length;
          yield chunk;
        }
      })(),
      { objectMode: false },
    );
    await this.add(path, source, 0o644);
    return { path, sha256: hash.digest("hex"), bytes };
  }

  private async add(path: string, source: Buffer | Readable, mode: number): Promise<void> {
    // Machines that do not tell capitals apart would unpack one file over the other.
    if (this.seen.has(path.toLowerCase())) throw new Error(`Two files of the package would be called ${path}.`);
    this.seen.add(path.toLowerCase());

    const added = new Promise<void>((resolve, reject) => {
      this.zip.entry(source, { name: `${this.topFolder}/${path}`, date: this.time, mode, store: true }, (error) => (error ? reject(error) : resolve()));
    });
    added.catch(() => undefined); // the wait below hears of it first, or of the failure that caused it
    await Promise.race([added, this.written]);
    if (this.zip.writableNeedDrain) await Promise.race([once(this.zip, "drain"), this.written]);
  }
}
