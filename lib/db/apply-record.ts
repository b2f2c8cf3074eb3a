import type { Tx } from "#lib/db/client";
import { canonicalText } from "#lib/db/json-text";
import type { RecordBody, RecordKind, RecordOf } from "#lib/records/kind";

/** Where the record stands in the log of its project. */
export interface LogPlace {
  projectId: string;
  seq: number;
  at: Date;
  digest: string;
}

type Apply<K extends RecordKind> = (tx: Tx, place: LogPlace, body: RecordOf<K>) => Promise<unknown>;

const pointRecord = (tx: Tx, { projectId, seq, at, digest }: LogPlace, body: RecordOf<"submission" | "withdrawal" | "check" | "decision">) =>
  tx.pointRecord.create({
    data: {
      id: body.id,
      projectId,
      sheet: body.sheet,
      line: body.line,
      kind: body.kind,
      submissionId: body.kind === "submission" ? body.id : body.submissionId,
      seq,
      at,
      byId: body.by,
      outcome: "outcome" in body ? body.outcome : null,
      body: canonicalText(body),
      digest,
    },
  });

const APPLY: { [K in RecordKind]: Apply<K> } = {
  project: async (tx, { projectId }, body) => {
    const { code, name, place, zone, site, shift, startsOn } = body;
    await tx.project.create({
      data: { id: projectId, code, name, place, zone, settings: canonicalText({ site, shift, startsOn }), clockFrom: body.clockFrom ? new Date(body.clockFrom) : null },
    });
    await tx.organisation.createMany({ data: body.organisations.map((one) => ({ ...one, projectId })) });
  },
  member: async (tx, { projectId }, { personId, name, organisationId, roles }) => {
    await tx.person.upsert({ where: { id: personId }, create: { id: personId, name }, update: { name } });
    const data = { organisationId, roles: canonicalText(roles), closedAt: null };
    await tx.membership.upsert({
      where: { projectId_personId: { projectId, personId } },
      create: { id: `${projectId}:${personId}`, projectId, personId, ...data },
      update: data,
    });
  },
  departure: (tx, { projectId, at }, { personId }) =>
    tx.membership.update({ where: { projectId_personId: { projectId, personId } }, data: { closedAt: at } }),
  qualification: (tx, { projectId }, { id, personId, certificate, expiresOn }) =>
    tx.qualification.create({ data: { id, projectId, personId, certificate, expiresOn } }),
  revision: (tx, { projectId, at }, { id, digest, revision, approvedBy, appliesFrom }) =>
    tx.revision.create({
      data: { id, projectId, letter: revision.letter, digest, body: canonicalText(revision), approvedBy, approvedAt: at, appliesFrom: new Date(appliesFrom) },
    }),
  pile: async (tx, { projectId }, { id, bent, row, mark, type, latitude, longitude, overrides }) => {
    const bentId = `${projectId}:${bent}`;
    await tx.bent.upsert({ where: { projectId_code: { projectId, code: bent } }, create: { id: bentId, projectId, code: bent }, update: {} });
    await tx.pile.create({
      data: { id, projectId, bentId, row, mark, type, latitude, longitude, overrides: canonicalText(overrides), state: "not started" },
    });
  },
  instrument: (tx, { projectId }, body) =>
    tx.instrument.create({ data: { id: body.id, projectId, mark: body.mark, class: body.class, body: canonicalText(body) } }),
  calibration: (tx, { projectId, seq }, body) =>
    tx.calibration.create({
      data: { id: body.id, projectId, instrumentId: body.instrumentId, calibratedAt: new Date(body.calibratedAt), dueOn: body.dueOn, body: canonicalText(body), seq },
    }),
  lot: (tx, { projectId }, body) =>
    tx.lot.create({ data: { id: body.id, projectId, number: body.number, kind: body.lotKind, body: canonicalText(body) } }),
  photo: (tx, { projectId, seq }, body) =>
    tx.photo.create({
      data: {
        id: body.id,
        projectId,
        sheet: body.sheet,
        line: body.line,
        attempt: body.attempt,
        subject: body.subject,
        sha256: body.sha256,
        mediaType: body.mediaType,
        bytes: body.bytes,
        seq,
        receivedAt: new Date(body.receivedAt),
        byId: body.by,
        body: canonicalText(body),
      },
    }),
  document: (tx, { projectId, seq }, { id, sheet, line, use, title, sha256, bytes, by, receivedAt }) =>
    tx.document.create({ data: { id, projectId, sheet, line, use, title, sha256, bytes, seq, receivedAt: new Date(receivedAt), byId: by } }),
  temperature: (tx, { projectId, seq, at: enteredAt }, { id, sheet, line, at, celsius, asTyped, by }) =>
    tx.reading.create({ data: { id, projectId, sheet, line, at: new Date(at), celsius, asTyped, seq, enteredAt, byId: by } }),
  submission: pointRecord,
  withdrawal: pointRecord,
  check: pointRecord,
  decision: pointRecord,
  acceptance: (tx, { projectId, seq, at, digest }, body) =>
    tx.acceptance.create({ data: { id: body.id, projectId, pileId: body.pileId, at, byId: body.by, seq, body: canonicalText(body), digest } }),
  closeout: (tx, { projectId, at }, { id, number, issueKind, by, tagManifestSha256, ...body }) =>
    tx.closeoutIssue.create({ data: { id, projectId, number, kind: issueKind, at, byId: by, tagManifestSha256, body: canonicalText({ ...body }) } }),
};

/** Writes what a record says into the tables that pages read. The same record in the same place gives the same rows. */
export async function applyRecord(tx: Tx, place: LogPlace, body: RecordBody): Promise<void> {
  await (APPLY[body.kind] as Apply<RecordKind>)(tx, place, body as never);
}
