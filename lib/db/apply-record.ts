import { cameraKey } from "#lib/domain/photo/camera-clock";
import { isBlankTime } from "#lib/domain/photo/capture-time";
import type { Override, TimedOverride } from "#lib/domain/plan/plan";
import type { Tx } from "#lib/db/client";
import { keepSamples } from "#lib/db/camera";
import { canonicalText } from "#lib/db/json-text";
import { keepLooks, keepShot } from "#lib/db/likeness";
import type { PileFacts, RecordBody, RecordKind, RecordOf, ScheduleBody } from "#lib/records/kind";

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
  revision: (tx, { projectId, at, seq }, { id, digest, revision, approvedBy, appliesFrom, reviewedBy, words, answers, impact }) =>
    tx.revision.create({
      data: {
        id, projectId, letter: revision.letter, digest, body: canonicalText(revision), approvedBy, approvedAt: at, appliesFrom: new Date(appliesFrom), seq,
        terms: canonicalText({ reviewedBy, words, answers, impact }),
      },
    }),
  review: (tx, { projectId, seq, at }, { id, letter, digest, outcome, words, by }) =>
    tx.review.create({ data: { id, projectId, letter, digest, outcome, words, byId: by, at, seq } }),
  pile: (tx, place, body) => addPiles(tx, place, [body], null),
  schedule: async (tx, place, body) => {
    const { projectId, seq, at } = place;
    await addPiles(tx, place, body.added, body.id);
    for (const { pileId, now } of body.changed) await changePile(tx, place, pileId, now);
    await scopePiles(tx, body, "out");
    await tx.schedule.create({ data: { id: body.id, projectId, seq, at, byId: body.by, body: canonicalText(body) } });
  },
  "schedule undone": async (tx, place, { scheduleId }) => {
    const row = await tx.schedule.update({ where: { id: scheduleId }, data: { undoneSeq: place.seq } });
    const body = JSON.parse(row.body) as ScheduleBody;
    await tx.point.deleteMany({ where: { sheet: { in: body.added.map(({ id }) => id) } } });
    await tx.pile.deleteMany({ where: { id: { in: body.added.map(({ id }) => id) } } });
    for (const { pileId, was } of body.changed) await changePile(tx, place, pileId, was);
    await scopePiles(tx, body, "in");
  },
  override: async (tx, { seq }, { pileId, override, ends }) => {
    const pile = await tx.pile.findUniqueOrThrow({ where: { id: pileId } });
    const timed = JSON.parse(pile.overrides) as TimedOverride[];
    const next = ends ? endOverrides(timed, [override], seq) : [...timed, { override, fromSeq: seq, untilSeq: null }];
    await tx.pile.update({ where: { id: pileId }, data: { overrides: canonicalText(next) } });
  },
  logger: (tx, { projectId, seq, at }, body) =>
    tx.logger.create({ data: { id: body.id, projectId, sheet: body.sheet, line: body.line, seq, enteredAt: at, byId: body.by, body: canonicalText(body) } }),
  weather: (tx, { projectId, seq, at }, body) => tx.weather.create({ data: { id: body.id, projectId, seq, enteredAt: at, byId: body.by, body: canonicalText(body) } }),
  "tide table": (tx, { projectId, seq, at }, body) => tx.tideTable.create({ data: { id: body.id, projectId, seq, enteredAt: at, byId: body.by, body: canonicalText(body) } }),
  instrument: (tx, { projectId }, body) =>
    tx.instrument.create({ data: { id: body.id, projectId, mark: body.mark, class: body.class, body: canonicalText(body) } }),
  calibration: (tx, { projectId, seq }, body) =>
    tx.calibration.create({
      data: { id: body.id, projectId, instrumentId: body.instrumentId, calibratedAt: new Date(body.calibratedAt), dueOn: body.dueOn, body: canonicalText(body), seq },
    }),
  lot: (tx, { projectId }, body) =>
    tx.lot.create({ data: { id: body.id, projectId, number: body.number, kind: body.lotKind, body: canonicalText(body) } }),
  photo: async (tx, { projectId, seq }, body) => {
    await tx.photo.create({
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
        shot: shotOf(body),
      },
    });
    const shot = shotOf(body);
    if (shot !== null) await keepShot(tx, { projectId, photoId: body.id, sheet: body.sheet, sha256: body.sha256, shot });
    if (body.looks) await keepLooks(tx, { projectId, photoId: body.id, looks: body.looks });
    await keepSamples(tx, { projectId, seq }, body);
  },
  "photo reading": async (tx, { projectId, seq }, body) => {
    await tx.photoReading.create({ data: { id: body.id, projectId, photoId: body.photoId, seq, body: canonicalText(body) } });
    if (body.looks) await keepLooks(tx, { projectId, photoId: body.photoId, looks: body.looks });
  },
  "clock photo": async (tx, { projectId, seq }, body) => {
    const { id, camera, sha256, receivedAt, by } = body;
    await tx.clockPhoto.create({ data: { id, projectId, camera, sha256, seq, receivedAt: new Date(receivedAt), byId: by, body: canonicalText(body) } });
    await keepSamples(tx, { projectId, seq }, body);
  },
  "camera clock": (tx, { projectId, seq, at }, body) =>
    tx.cameraClock.create({ data: { id: body.id, projectId, camera: body.camera, seq, at, byId: body.by, body: canonicalText(body) } }),
  "likeness answer": (tx, { projectId, seq, at }, body) =>
    tx.likenessAnswer.create({ data: { id: body.id, projectId, photoId: body.photoId, otherId: body.otherId, seq, at, byId: body.by, body: canonicalText(body) } }),
  "streak check": (tx, { projectId, seq, at }, body) =>
    tx.streakCheck.create({ data: { id: body.id, projectId, photoId: body.photoId, seq, at, byId: body.by, body: canonicalText(body) } }),
  "photo limits": (tx, { projectId, seq, at }, body) => tx.photoLimits.create({ data: { id: body.id, projectId, seq, at, byId: body.by, body: canonicalText(body) } }),
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

/** The camera and the instant that it wrote. Of a camera that writes whole seconds two shots of a burst have the same; they are of one pile. */
function shotOf({ claims: { camera }, by }: RecordOf<"photo">): string | null {
  const key = cameraKey(camera, by);
  const { dateTimeOriginal, subSecTimeOriginal } = camera;
  return key === null || dateTimeOriginal === null || isBlankTime(dateTimeOriginal) ? null : `${key} ${dateTimeOriginal}.${subSecTimeOriginal ?? ""}`;
}

async function bentOf(tx: Tx, projectId: string, code: string): Promise<string> {
  const id = `${projectId}:${code}`;
  await tx.bent.upsert({ where: { projectId_code: { projectId, code } }, create: { id, projectId, code }, update: {} });
  return id;
}

async function addPiles(tx: Tx, { projectId }: LogPlace, piles: readonly (PileFacts & { id: string })[], scheduleId: string | null): Promise<void> {
  const bents = new Map<string, string>();
  for (const { bent } of piles) if (!bents.has(bent)) bents.set(bent, await bentOf(tx, projectId, bent));
  await tx.pile.createMany({
    data: piles.map(({ id, bent, row, mark, type, latitude, longitude, overrides, drawn, words }) => {
      const timed = overrides.map((override): TimedOverride => ({ override, fromSeq: 0, untilSeq: null }));
      return {
        id, projectId, bentId: bents.get(bent) ?? "", row, mark, type, latitude, longitude, overrides: canonicalText(timed), drawn: drawn && canonicalText(drawn), words, scheduleId, state: "not started",
      };
    }),
  });
}

/** What a schedule says of a pile from here on. Its overrides hold for what is signed later; those it leaves out end here. */
async function changePile(tx: Tx, { projectId, seq }: LogPlace, id: string, facts: PileFacts): Promise<void> {
  const { bent, row, mark, type, latitude, longitude, overrides, drawn, words } = facts;
  const pile = await tx.pile.findUniqueOrThrow({ where: { id } });
  const timed = JSON.parse(pile.overrides) as TimedOverride[];
  const holding = timed.filter(({ untilSeq }) => untilSeq === null).map(({ override }) => override);
  const kept = new Set(overrides.map((one) => canonicalText(one)));
  const ended = endOverrides(timed, holding.filter((one) => !kept.has(canonicalText(one))), seq);
  const fresh = overrides.filter((one) => !holding.some((held) => canonicalText(held) === canonicalText(one)));
  const next = [...ended, ...fresh.map((override): TimedOverride => ({ override, fromSeq: seq, untilSeq: null }))];
  await tx.pile.update({
    where: { id },
    data: { bentId: await bentOf(tx, projectId, bent), row, mark, type, latitude, longitude, overrides: canonicalText(next), drawn: drawn && canonicalText(drawn), words },
  });
}

function endOverrides(timed: readonly TimedOverride[], ending: readonly Override[], seq: number): TimedOverride[] {
  const texts = new Set(ending.map((one) => canonicalText(one)));
  return timed.map((one) => (one.untilSeq === null && texts.has(canonicalText(one.override)) ? { ...one, untilSeq: seq } : one));
}

async function scopePiles(tx: Tx, { removed }: ScheduleBody, scope: "in" | "out"): Promise<void> {
  await tx.pile.updateMany({ where: { id: { in: removed.map(({ pileId }) => pileId) } }, data: { scope } });
}

/** Writes what a record says into the tables that pages read. The same record in the same place gives the same rows. */
export async function applyRecord(tx: Tx, place: LogPlace, body: RecordBody): Promise<void> {
  await (APPLY[body.kind] as Apply<RecordKind>)(tx, place, body as never);
}
