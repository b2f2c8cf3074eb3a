import { randomUUID } from "node:crypto";
import { DomainError } from "#lib/domain/refusal";
import { listDocuments } from "#lib/db/evidence";
import { fileRecord } from "#lib/db/journal";
import { receiveDocument as receivePdf } from "#lib/photos/intake";
import type { RecordOf } from "#lib/records/kind";
import { inProject, requireMember, type Asking } from "#lib/services/ask";
import { getLine, loadSheet } from "#lib/services/sheet";
import { unsentDocuments } from "#lib/services/submit-point";

export interface IncomingDocument {
  id?: string;
  sheet: string;
  line: string;
  use: string;
  title: string;
  stream: AsyncIterable<Uint8Array>;
  declaredLength?: number;
  declaredSha256?: string;
}

export interface DocumentReceipt {
  id: string;
  sha256: string;
  bytes: number;
  receivedAt: string;
  seq: number;
}

/** Receives a PDF for a point that asks for one. It is kept byte for byte and has no photo verdicts. */
export async function receiveDocument(asking: Asking, incoming: IncomingDocument): Promise<DocumentReceipt> {
  const tx = asking.house.db.read;
  await requireMember(tx, asking, "send photo");
  const { line } = getLine(await loadSheet(tx, asking.project, incoming.sheet, await asking.house.now(asking.project)), incoming.line);
  const asked = line.documents.find(({ id }) => id === incoming.use);
  if (!asked) throw new DomainError("invalid", `Point ${line.line} asks for no such document.`, [{ field: "use", message: `Point ${line.line} asks for no such document.` }]);
  const { stream, declaredLength, declaredSha256 } = incoming;
  const kept = await receivePdf({
    stream,
    dataDir: asking.house.dataDir,
    ...(declaredLength === undefined ? {} : { declaredLength }),
    ...(declaredSha256 === undefined ? {} : { declaredSha256 }),
  });
  if (!kept.ok) throw new DomainError("invalid", kept.refusal.sentence, [{ field: kept.refusal.code, message: kept.refusal.sentence }]);

  return inProject(asking, "send photo", async (own, member, at) => {
    // The same file may be sent again with a later attempt; twice for one attempt it is one receipt.
    const unsent = await unsentDocuments(own, await loadSheet(own, asking.project, incoming.sheet, at), line);
    const before =
      (await listDocuments(own, incoming.sheet, incoming.line)).find(({ id }) => id === incoming.id) ??
      unsent.find(({ sha256, use }) => sha256 === kept.sha256 && use === incoming.use);
    if (before) return { id: before.id, sha256: before.sha256, bytes: before.bytes, receivedAt: new Date(before.receivedAt).toISOString(), seq: before.seq };
    const body: RecordOf<"document"> = {
      kind: "document",
      id: incoming.id ?? randomUUID(),
      sheet: incoming.sheet,
      line: incoming.line,
      use: incoming.use,
      title: incoming.title.trim().slice(0, 200) || asked.name,
      sha256: kept.sha256,
      bytes: kept.bytes,
      by: member.personId,
      receivedAt: new Date(at).toISOString(),
    };
    const { seq } = await fileRecord(own, asking.house.key, { projectId: asking.project.id, actor: member.personId, at, body });
    return { id: body.id, sha256: body.sha256, bytes: body.bytes, receivedAt: body.receivedAt, seq };
  });
}
