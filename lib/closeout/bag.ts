import { randomUUID } from "node:crypto";
import { createWriteStream } from "node:fs";
import { open, rename, rm } from "node:fs/promises";
import type { Writable } from "node:stream";
import { BagWriter } from "#lib/closeout/bag-writer";
import { checkInput } from "#lib/closeout/check-input";
import { pileFolder, safeMark } from "#lib/closeout/file-name";
import { pilesGeojson } from "#lib/domain/schedule/geojson";
import { indexHtml } from "#lib/closeout/index-html";
import { BAGIT_TEXT, bagInfoText, manifestText, payloadOxum } from "#lib/closeout/manifest";
import type { PackageInput } from "#lib/closeout/package-input";
import { pilePdf, projectPdf, type PdfContext } from "#lib/closeout/pile-pdf";
import { readmeText } from "#lib/closeout/readme";
import { csvBytes, tableSchema } from "#lib/closeout/table";
import { VERIFY_SCRIPT } from "#lib/closeout/verify-script";
import { sha256 } from "#lib/records/canonical";
import { parseHead, type Head } from "#lib/records/head";

export interface WrittenPackage {
  zipSha256: string;
  /** Size of the ZIP. */
  bytes: number;
  tagmanifestSha256: string;
  topFolder: string;
}

/**
 * Writes a closeout package: a BagIt 1.0 bag in a ZIP without compression. The same input gives the same bytes.
 * @param out  A stream, which is ended, or a file path. A file appears under its name only when it is whole.
 * Throws before the first byte when the input would not verify or is not fit to be issued (check-input), and while writing when an
 * original on disk is not what its digest says; a file at `out` is then left as it was.
 * @source RFC 8493.
 */
export async function writePackage(input: PackageInput, out: Writable | string): Promise<WrittenPackage> {
  const head = checkInput(input);
  if (typeof out !== "string") return writeBag(input, head, out);

  const draft = `${out}.${randomUUID()}.part`;
  try {
    const written = await writeBag(input, head, createWriteStream(draft, { flags: "wx" }));
    const file = await open(draft, "r+");
    await file.sync().finally(() => file.close());
    await rename(draft, out);
    return written;
  } catch (error) {
    await rm(draft, { force: true });
    throw error;
  }
}

async function writeBag(input: PackageInput, head: Head, out: Writable): Promise<WrittenPackage> {
  const { project, issue } = input;
  const topFolder = `${safeMark(project.code)}-issue-${issue.number}-${issue.kind}`;
  const bag = new BagWriter(topFolder, new Date(issue.issuedAt), out);
  try {
    await bag.tag("README.txt", readmeText(input));
    await bag.tag("verify.sh", VERIFY_SCRIPT, 0o755);
    await bag.tag("bagit.txt", BAGIT_TEXT);
    await addPayload(bag, input, head);
    await bag.tag("bag-info.txt", bagInfo(input, payloadOxum(bag.payload)));
    await bag.tag("manifest-sha256.txt", manifestText(bag.payload));
    const tagmanifest = manifestText(bag.tags);
    await bag.tag("tagmanifest-sha256.txt", tagmanifest);
    return { ...(await bag.finish()), tagmanifestSha256: sha256(tagmanifest), topFolder };
  } catch (error) {
    bag.abandon(error as Error);
    throw error;
  }
}

async function addPayload(bag: BagWriter, input: PackageInput, head: Head): Promise<void> {
  const context: PdfContext = { project: input.project, issue: input.issue, head };
  await bag.data("index.html", indexHtml(input, head));
  await bag.data("piles.geojson", pilesGeojson(input.piles));
  for (const pile of input.piles) await bag.data(`${pileFolder(pile.mark)}/record.pdf`, await pilePdf(pile, context));
  if (input.projectPoints.length > 0) await bag.data("project/record.pdf", await projectPdf(input.projectPoints, context));

  for (const table of input.tables) {
    const chunks: Buffer[] = [];
    for await (const chunk of csvBytes(table)) chunks.push(chunk);
    await bag.data(`tables/${table.name}.csv`, Buffer.concat(chunks));
  }
  await bag.data("tables/schema.json", `${JSON.stringify(tableSchema(input.tables), null, 2)}\n`);

  await bag.data("log.jsonl", Buffer.concat(input.logLines.flatMap((line) => [line, Buffer.from("\n")])));
  for (const { bytes, signature } of input.heads) {
    const { size, at } = parseHead(bytes);
    const name = `heads/${String(size).padStart(9, "0")}-${at.replace(/[-:.]/g, "")}`;
    await bag.data(`${name}.json`, Buffer.from(bytes));
    await bag.data(`${name}.sig`, Buffer.from(signature, "base64"));
  }
  for (const { id, pem } of input.keys) await bag.data(`keys/${id}.pem`, pem);
  for (const { digest, bytes, signature } of input.records.toSorted((a, b) => (a.digest < b.digest ? -1 : 1))) {
    await bag.data(`records/${digest}.json`, Buffer.from(bytes));
    if (signature) await bag.data(`signatures/${digest}.${signature.key}.sig`, Buffer.from(signature.base64, "base64"));
  }
  for (const file of [...input.originals, ...input.previews].sort((a, b) => (a.bagPath < b.bagPath ? -1 : 1))) await bag.file(file);
}

function bagInfo({ project, issue }: PackageInput, oxum: string): string {
  return bagInfoText([
    ["Source-Organization", issue.issuedBy.organisation],
    ["Contact-Name", issue.issuedBy.name],
    ["External-Description", `${project.name}, ${project.place}: inspection and sign-off record of pile encasement`],
    ["External-Identifier", `${project.code}-issue-${issue.number}`],
    ["Internal-Sender-Identifier", project.code],
    ["Internal-Sender-Description", `Closeout package, issue ${issue.number}, ${issue.kind}, ${issue.scope} project, open items: ${issue.openItems.length}`],
    // The date where the issue was made: the day in its own offset.
    ["Bagging-Date", issue.issuedAt.slice(0, 10)],
    ["Payload-Oxum", oxum],
    ["Bag-Software-Agent", "Lastlook"],
  ]);
}
