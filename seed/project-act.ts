import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { buildPlan, type PlanLine } from "#lib/domain/plan/plan";
import type { Revision } from "#lib/domain/requirement/set";
import { getProjectById } from "#lib/db/project";
import { findRevisionDraft } from "#lib/db/revision-draft";
import type { RecordOf } from "#lib/records/kind";
import { addPile } from "#lib/services/add-pile";
import type { House } from "#lib/services/house";
import { issueRevision, latestRevision } from "#lib/services/issue-revision";
import { receiveLot, recordCalibration, registerInstrument } from "#lib/services/keep-register";
import { addMember, approveRevision, openProject } from "#lib/services/open-project";
import { receiveDocument } from "#lib/services/receive-document";
import { reviewRevision } from "#lib/services/review-revision";
import { importDraft } from "#lib/services/revision-draft";
import { revisionImpact } from "#lib/services/revision-impact";
import { CAST, ORGANISATIONS, PASSWORD, type Person } from "#seed/cast";
import { submittals } from "#seed/paper";
import { decide, idOf, send, sendPhotos, shotsOf, type Going, type Subject } from "#seed/point-act";
import type { InstrumentFact, LotFact } from "#seed/register";
import { act, houseAt, type Act, type Stage } from "#seed/replay";

/** Opens a project and brings its members in; what follows is played on the stage that it returns. */
export async function openStage(house: House, opened: Omit<RecordOf<"project">, "kind" | "organisations">, people: readonly Person[], at: Instant): Promise<Stage> {
  await openProject(house, { ...opened, organisations: ORGANISATIONS.map((one) => ({ ...one, id: `${opened.id}:${one.id}` })) }, at);
  for (const personId of people) {
    const { name, organisationId, roles } = CAST[personId];
    await addMember(house, opened.id, { personId, name, organisationId: `${opened.id}:${organisationId}`, roles: [...roles] }, at);
  }
  const clock = { at };
  const played = houseAt(house, clock);
  const project = await getProjectById(house.db.read, opened.id);
  return { house: played, project, clock, as: (personId) => ({ house: played, project, personId }) };
}

/** The revision that a project is opened with. */
export function firstRevisionAct(at: Instant, revision: Revision, appliesFrom: Instant): Act {
  return act(at, `revision ${revision.letter}`, (stage) => approveRevision(stage.as("pim"), { id: revisionId(stage, revision), revision, appliesFrom }));
}

const revisionId = ({ project }: Stage, { letter }: Revision): string => `${project.id}-revision-${letter.toLowerCase()}`;

/** A later revision: Jonty drafts it, Hanne reviews it, Pim looks at what it would do and approves it for piles that start later. */
export function nextRevisionActs(revision: Revision, when: { drafted: Instant; reviewed: Instant; approved: Instant; appliesFrom: Instant }, words: string): Act[] {
  const { letter } = revision;
  return [
    act(when.drafted, `draft of revision ${letter}`, async (stage) => void (await importDraft(stage.as("jonty"), revision, null))),
    act(when.reviewed, `review of revision ${letter}`, async (stage) => {
      const draft = await findRevisionDraft(stage.house.db.read, stage.project.id);
      await reviewRevision(stage.as("hanne"), { id: `${revisionId(stage, revision)}-review`, digest: draft?.digest ?? "", outcome: "reviewed", words: "" });
    }),
    act(when.approved, `approval of revision ${letter}`, async (stage) => {
      const { read } = stage.house.db;
      const [before, draft] = await Promise.all([latestRevision(read, stage.project.id), findRevisionDraft(read, stage.project.id)]);
      if (!before || !draft) throw new Error(`There is no draft of revision ${letter}.`);
      const { difference, digest } = await revisionImpact(read, stage.project, { was: before.revision, now: draft.draft }, stage.clock.at);
      const answers = difference.changes.flatMap(({ lines }) => lines).map(({ type, line }) => ({ type, line, applies: "piles that start" as const }));
      await issueRevision(stage.as("pim"), { id: revisionId(stage, revision), letter, impactDigest: digest, answers, appliesFrom: new Date(when.appliesFrom).toISOString(), words, password: PASSWORD });
    }),
  ];
}

export function instrumentActs(at: Instant, prefix: string, instruments: readonly InstrumentFact[]): Act[] {
  return instruments.flatMap(({ mark, class: kind, name, unit, range, accuracy, calibrated, dueOn }) => {
    const id = idOf(prefix, mark);
    return [
      act(at, `instrument ${mark}`, (stage) =>
        registerInstrument(stage.as("hanne"), { id, mark, class: kind, name, unit, rangeMin: range?.[0] ?? null, rangeMax: range?.[1] ?? null, accuracy }),
      ),
      act(at, `calibration of ${mark}`, (stage) =>
        recordCalibration(stage.as("hanne"), { id: `${id}-${calibrated}`, instrumentId: id, calibratedAt: `${calibrated}T10:00`, dueOn, certificate: `CAL-${mark}-${calibrated.slice(2, 7).replace("-", "")}`, words: "" }),
      ),
    ];
  });
}

export function lotAct(at: Instant, prefix: string, { number, kind, receivedOn, expiresOn, quantity }: LotFact): Act {
  return act(at, `lot ${number}`, (stage) =>
    receiveLot(stage.as("hanne"), { id: idOf(prefix, number), number, lotKind: kind, certificate: `CERT-${number}`, expiresOn, receivedOn, quantity }),
  );
}

export interface NewPile {
  mark: string;
  bent: string;
  row: string;
  type: string;
  place: { latitude: number; longitude: number } | null;
  overrides: RecordOf<"pile">["overrides"];
  words: string;
}

export function pileAct(at: Instant, prefix: string, { place, ...pile }: NewPile): Act {
  const degrees = (value: number): string => value.toFixed(7);
  return act(at, `pile ${pile.mark}`, (stage) =>
    addPile(stage.as("jonty"), { id: `${prefix}-${pile.mark}`, ...pile, drawn: null, latitude: place && degrees(place.latitude), longitude: place && degrees(place.longitude) }),
  );
}

/** The mock-up and the submittals: P1 approved, P4 shown and released by inspector and engineer. */
export function projectPointActs(subject: Subject, revision: Revision, when: { submittals: Instant; mockUpBegan: Instant; mockUpEnded: Instant }): Act[] {
  const { lines } = buildPlan({ lines: revision.projectLines }, { mark: "", overrides: [] });
  const lineOf = (id: string): PlanLine => {
    const found = lines.find(({ line }) => line === id);
    if (!found) throw new Error(`There is no point ${id}.`);
    return found;
  };
  const { sheet } = subject;
  const p1: Going = { subject, line: lineOf("P1"), attempt: 1, began: when.submittals - HOUR, ended: when.submittals, lots: {}, by: "hanne" };
  const p4: Going = { subject, line: lineOf("P4"), attempt: 1, began: when.mockUpBegan, ended: when.mockUpEnded, lots: {}, by: "hanne" };
  const shots = shotsOf(p4, { from: when.mockUpEnded - 20 * MINUTE, to: when.mockUpEnded - 2 * MINUTE });
  const sentAt = when.mockUpEnded + 4 * MINUTE;
  return [
    act(p1.ended + MINUTE, "submittals", async (stage) => {
      const paper = await submittals(p1.ended, p1.line.quantities.map(({ name }) => name));
      await receiveDocument(stage.as("hanne"), { sheet, line: "P1", use: "submittals", title: "Approved submittals S-03 to S-09", stream: once(paper) });
    }),
    act(p1.ended + 2 * MINUTE, "submission of P1", (stage) => send(stage, p1)),
    act(p1.ended + 20 * MINUTE, "decision on P1", (stage) => decide(stage, "pim", sheet, "P1", { outcome: "release", seenAs: "evidence only" })),
    act(sentAt - MINUTE, "photos of P4", (stage, jpegs) => sendPhotos(stage, "hanne", p4, shots, jpegs), shots.map(({ job }) => job)),
    act(sentAt, "submission of P4", (stage) => send(stage, p4, `Mock-up ${subject.mark}: full sequence, cut open at four levels.`)),
    act(sentAt + 15 * MINUTE, "first decision on P4", (stage) => decide(stage, "ilse", sheet, "P4", { outcome: "release" })),
    act(sentAt + 39 * MINUTE, "second decision on P4", (stage) => decide(stage, "pim", sheet, "P4", { outcome: "release" })),
  ];
}

async function* once(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}
