import { z } from "zod";
import { PARTS } from "#lib/domain/access/member";
import { APPLIES, IMPACT_FINDINGS } from "#lib/domain/plan/compose";
import { OverrideSchema } from "#lib/domain/plan/plan";
import { OUTCOMES, REASON_CODES, SEEN_AS, type ReasonCode } from "#lib/domain/point/history";
import { EntrySchema, ReasonSchema } from "#lib/domain/point/value";
import { VALUE_VERDICTS } from "#lib/domain/quantity/verdict";
import { DecimalText } from "#lib/domain/requirement/rule";
import { AmountSchema, LineIdSchema, RevisionSchema, ROLES } from "#lib/domain/requirement/set";
import { Day, Id, OptionalWords, Sha256, Utc, Words } from "#lib/records/part";
import {
  CameraClockConfirmed, ClockPhotoReceived, LikenessAnswered, PhotoLimitsSet, PhotoRead, PhotoReceived, StreaksChecked,
} from "#lib/records/photo-kind";

const Code = z.enum(Object.keys(REASON_CODES) as [ReasonCode, ...ReasonCode[]]);

/** Where a record belongs on the plan: `sheet` is a pile's id, or the project's id for P1 to P4. */
const AtPoint = { sheet: Id, line: LineIdSchema };

const ProjectOpened = z.strictObject({
  kind: z.literal("project"),
  id: Id,
  code: z.string().regex(/^[a-z][a-z0-9-]{1,30}$/),
  name: Words,
  place: Words,
  zone: Words,
  site: z.strictObject({ latitude: DecimalText, longitude: DecimalText, radiusM: z.number().positive(), assumedErrorM: z.number().positive() }),
  shift: z.strictObject({ startsAt: z.string().regex(/^\d\d:\d\d$/), hours: z.number().positive().max(24) }),
  startsOn: Day,
  clockFrom: Utc.nullable(),
  organisations: z.array(z.strictObject({ id: Id, name: Words, part: z.enum(PARTS) })).min(1),
});

const MemberJoined = z.strictObject({
  kind: z.literal("member"),
  personId: Id,
  name: Words,
  organisationId: Id,
  roles: z.array(z.enum(ROLES)).min(1),
});
const MemberLeft = z.strictObject({ kind: z.literal("departure"), personId: Id, words: OptionalWords });
const QualificationRecorded = z.strictObject({
  kind: z.literal("qualification"),
  id: Id,
  personId: Id,
  certificate: Words,
  expiresOn: Day,
});

const RevisionApproved = z.strictObject({
  kind: z.literal("revision"),
  id: Id,
  digest: Sha256,
  revision: RevisionSchema,
  approvedBy: Id,
  appliesFrom: Utc,
  /** Who checked it before; null where the project was opened with it. */
  reviewedBy: Id.nullable().default(null),
  words: OptionalWords.default(""),
  /** How each changed point reaches the piles in work; type null is the project sheet. */
  answers: z.array(z.strictObject({ type: z.string().nullable(), line: LineIdSchema, applies: z.enum(APPLIES) })).default([]),
  /** What the engineer was shown: every point that was signed under the revision before, as it stands under this one. */
  impact: z.array(z.strictObject({ ...AtPoint, finding: z.enum(IMPACT_FINDINGS), applies: z.enum(APPLIES) })).default([]),
});
export type RevisionBody = z.infer<typeof RevisionApproved>;

const RevisionReviewed = z.strictObject({
  kind: z.literal("review"),
  id: Id,
  letter: z.string().regex(/^[A-Z]$/),
  /** Of the canonical revision as it was read; a later change to the draft is another digest, and not reviewed. */
  digest: Sha256,
  outcome: z.enum(["reviewed", "sent back"]),
  words: OptionalWords,
  by: Id,
  reviewedAt: Utc,
});
export type ReviewBody = z.infer<typeof RevisionReviewed>;

/** What a drawing schedule says of one pile. */
export const PileFactsSchema = z.strictObject({
  bent: z.string().regex(/^[0-9A-Z]{1,6}$/),
  row: z.string().regex(/^[0-9A-Z]{1,4}$/),
  mark: z.string().regex(/^[0-9A-Z][0-9A-Z.-]{0,14}$/),
  type: z.string().regex(/^[A-Z]$/),
  latitude: DecimalText.nullable(),
  longitude: DecimalText.nullable(),
  overrides: z.array(OverrideSchema),
  /** Elevations of the repair as drawn. */
  drawn: z.strictObject({ top: AmountSchema.nullable(), bottom: AmountSchema.nullable() }).nullable().default(null),
  words: OptionalWords,
});
export type PileFacts = z.infer<typeof PileFactsSchema>;
const PileAdded = PileFactsSchema.extend({ kind: z.literal("pile"), id: Id });

/** A schedule brought in as one act: a first list of piles, or a later one as a change order. */
const ScheduleImported = z.strictObject({
  kind: z.literal("schedule"),
  id: Id,
  title: Words,
  sha256: Sha256,
  rows: z.int().min(0),
  changeOrder: Words.nullable(),
  added: z.array(PileFactsSchema.extend({ id: Id })),
  changed: z.array(z.strictObject({ pileId: Id, was: PileFactsSchema, now: PileFactsSchema })),
  /** Out of scope from here on; the piles and their records stay. */
  removed: z.array(z.strictObject({ pileId: Id, words: Words })),
  by: Id,
  words: OptionalWords,
});
export type ScheduleBody = z.infer<typeof ScheduleImported>;
const ScheduleUndone = z.strictObject({ kind: z.literal("schedule undone"), id: Id, scheduleId: Id, by: Id, words: Words });

/** A requirement changed on one pile by a drawing, or that change taken back; signed points stay as they were signed. */
const OverrideRecorded = z.strictObject({ kind: z.literal("override"), id: Id, pileId: Id, override: OverrideSchema, ends: z.boolean(), by: Id });
export type OverrideBody = z.infer<typeof OverrideRecorded>;

export const AccuracySchema = z.strictObject({ kind: z.enum(["per cent", "absolute"]), value: DecimalText });
const InstrumentRegistered = z.strictObject({
  kind: z.literal("instrument"),
  id: Id,
  mark: z.string().min(1).max(20),
  class: Words,
  name: Words,
  unit: z.string().min(1).max(12).nullable(),
  rangeMin: DecimalText.nullable(),
  rangeMax: DecimalText.nullable(),
  accuracy: AccuracySchema.nullable(),
});
export type InstrumentBody = z.infer<typeof InstrumentRegistered>;

const InstrumentCalibrated = z.strictObject({
  kind: z.literal("calibration"),
  id: Id,
  instrumentId: Id,
  calibratedAt: Utc,
  dueOn: Day,
  certificate: Words,
  words: OptionalWords,
});

const LotReceived = z.strictObject({
  kind: z.literal("lot"),
  id: Id,
  number: z.string().min(1).max(40),
  lotKind: Words,
  certificate: OptionalWords,
  expiresOn: Day.nullable(),
  receivedOn: Day,
  quantity: OptionalWords,
});
export type LotBody = z.infer<typeof LotReceived>;

const DocumentReceived = z.strictObject({
  kind: z.literal("document"),
  id: Id,
  ...AtPoint,
  use: Id,
  title: Words,
  sha256: Sha256,
  bytes: z.int().min(1),
  by: Id,
  receivedAt: Utc,
});

const TemperatureRead = z.strictObject({
  kind: z.literal("temperature"),
  id: Id,
  ...AtPoint,
  at: Utc,
  celsius: DecimalText,
  asTyped: Words,
  by: Id,
});

/** A logger's file, read whole; the readings serve the clock of the point. */
const LoggerRead = z.strictObject({
  kind: z.literal("logger"),
  id: Id,
  ...AtPoint,
  title: Words,
  sha256: Sha256,
  readings: z.array(z.strictObject({ at: Utc, celsius: DecimalText })).min(1),
  by: Id,
});
export type LoggerBody = z.infer<typeof LoggerRead>;

/** Air, humidity and where it was read the surface, by hand or from a logger's file. */
const WeatherRead = z.strictObject({
  kind: z.literal("weather"),
  id: Id,
  title: Words,
  sha256: Sha256.nullable(),
  readings: z.array(z.strictObject({ at: Utc, airC: DecimalText, humidityPct: DecimalText, surfaceC: DecimalText.nullable() })).min(1),
  by: Id,
});
export type WeatherBody = z.infer<typeof WeatherRead>;

/** High and low waters of a published table, with the level above which nobody works. */
const TideTableKept = z.strictObject({
  kind: z.literal("tide table"),
  id: Id,
  source: Words,
  rows: z.array(z.strictObject({ at: Utc, heightM: DecimalText, turn: z.enum(["high", "low"]) })).min(2),
  workLevelM: DecimalText,
  allowanceM: DecimalText,
  by: Id,
});
export type TideTableBody = z.infer<typeof TideTableKept>;

/** What the tool worked out when the submission was made, kept so that the reader sees what the sender saw. */
export const JudgedSchema = z.strictObject({
  quantity: Id,
  item: z.int().min(1).nullable(),
  /** Null where the value only has to be recorded. */
  verdict: z.enum(VALUE_VERDICTS).nullable(),
  requirement: Words,
  measured: OptionalWords,
  margin: OptionalWords,
  instrument: OptionalWords,
  mark: OptionalWords,
});
export type Judged = z.infer<typeof JudgedSchema>;

const PointSubmitted = z.strictObject({
  kind: z.literal("submission"),
  id: Id,
  ...AtPoint,
  attempt: z.int().min(1),
  by: Id,
  role: z.enum(ROLES),
  enteredBy: z.array(Id).min(1),
  workBegan: Utc,
  workEnded: Utc,
  entries: z.array(EntrySchema),
  reasons: z.array(ReasonSchema),
  photos: z.array(z.strictObject({ id: Id, sha256: Sha256, subject: Id })),
  documents: z.array(z.strictObject({ id: Id, sha256: Sha256, use: Id })),
  lots: z.array(z.strictObject({ use: Id, lotId: Id })),
  revision: z.strictObject({ letter: Words, digest: Sha256 }),
  judged: z.array(JudgedSchema),
  worst: z.enum(VALUE_VERDICTS).nullable(),
  words: OptionalWords,
  receivedAt: Utc,
});
export type SubmissionBody = z.infer<typeof PointSubmitted>;

const SubmissionWithdrawn = z.strictObject({
  kind: z.literal("withdrawal"),
  id: Id,
  ...AtPoint,
  submissionId: Id,
  by: Id,
  words: Words,
});
const SubmissionChecked = z.strictObject({
  kind: z.literal("check"),
  id: Id,
  ...AtPoint,
  submissionId: Id,
  by: Id,
  outcome: z.enum(["checked", "sent back"]),
  codes: z.array(Code),
  words: OptionalWords,
});
export type CheckBody = z.infer<typeof SubmissionChecked>;

export const FLAG_ANSWERS = ["seen", "explained", "rejected"] as const;
export const AnswerSchema = z.strictObject({
  /** Null where the question is about the submission and not about one photo. */
  photo: Sha256.nullable(),
  code: z.string().min(1).max(40),
  answer: z.enum(FLAG_ANSWERS),
  words: OptionalWords,
});
export type Answer = z.infer<typeof AnswerSchema>;

const PointDecided = z.strictObject({
  kind: z.literal("decision"),
  id: Id,
  ...AtPoint,
  attempt: z.int().min(1),
  submissionId: Id,
  submissionDigest: Sha256,
  outcome: z.enum(OUTCOMES),
  /** Null where the system records an automatic release. */
  by: Id.nullable(),
  role: z.enum(ROLES).nullable(),
  organisation: OptionalWords,
  seenAs: z.enum(SEEN_AS),
  observedOn: Day,
  codes: z.array(Code),
  words: OptionalWords,
  photos: z.array(Sha256),
  answers: z.array(AnswerSchema),
  attestation: z.enum(["server-attested", "system"]),
  decidedAt: Utc,
});
export type DecisionBody = z.infer<typeof PointDecided>;

const PileAccepted = z.strictObject({
  kind: z.literal("acceptance"),
  id: Id,
  pileId: Id,
  by: Id,
  organisation: Words,
  finalDecision: Sha256,
  words: OptionalWords,
  attestation: z.literal("server-attested"),
  acceptedAt: Utc,
});
export type AcceptanceBody = z.infer<typeof PileAccepted>;

const CloseoutIssued = z.strictObject({
  kind: z.literal("closeout"),
  id: Id,
  number: z.int().min(1),
  issueKind: z.enum(["interim", "final"]),
  tagManifestSha256: Sha256,
  logSize: z.int().min(1),
  openItems: z.array(Words),
  by: Id,
  issuedAt: Utc,
});
export type CloseoutBody = z.infer<typeof CloseoutIssued>;

/** Every kind of record that counts. A record is canonical JSON of one of these. */
export const RecordSchema = z.discriminatedUnion("kind", [
  ProjectOpened, MemberJoined, MemberLeft, QualificationRecorded, RevisionApproved, RevisionReviewed, PileAdded, ScheduleImported,
  ScheduleUndone, OverrideRecorded, LoggerRead, WeatherRead, TideTableKept, InstrumentRegistered, InstrumentCalibrated,
  LotReceived, PhotoReceived, PhotoRead, ClockPhotoReceived, CameraClockConfirmed, LikenessAnswered, StreaksChecked, PhotoLimitsSet, DocumentReceived, TemperatureRead, PointSubmitted, SubmissionWithdrawn, SubmissionChecked, PointDecided,
  PileAccepted, CloseoutIssued,
]);
export type RecordBody = z.infer<typeof RecordSchema>;
export type RecordKind = RecordBody["kind"];
export type RecordOf<K extends RecordKind> = Extract<RecordBody, { kind: K }>;
