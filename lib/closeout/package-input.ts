import type { FileVerdict, OrderVerdict, PlaceVerdict, TagVerdict } from "#lib/domain/photo/verdict";
import type { PileState, PointKind, PointState } from "#lib/domain/point/state";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";

/**
 * Everything a closeout package is made of, as plain data. Times named `…At` or `at` are ISO 8601 with offset; fields named
 * `…Words` or `words` are shown as they stand. Nothing here is computed again: the package shows what the records say.
 */
export interface PackageInput {
  project: PackageProject;
  issue: PackageIssue;
  piles: PileRecord[];
  /** P1–P4, the points of the project itself. */
  projectPoints: PointRecord[];
  tables: Table[];
  /** The canonical bytes of every record the log names. Records of kind "decision" and "acceptance" carry a signature. */
  records: StoredRecord[];
  /** Entry bytes, from entry 1, without gaps. */
  logLines: Uint8Array[];
  /** The last one must cover the whole log. */
  heads: { bytes: Uint8Array; signature: string }[];
  /** Public keys that heads and decisions name. */
  keys: { id: string; pem: string }[];
  /** Photos and documents as they were received, byte for byte. */
  originals: StoredFile[];
  /** Reduced copies for reading. */
  previews: StoredFile[];
}

export interface PackageProject {
  code: string;
  name: string;
  place: string;
  /** IANA zone of the site. */
  zone: string;
  /** `part` in words: Owner, Contractor, Inspection, Engineer. */
  organisations: { name: string; part: string }[];
  /** Decimal degrees on WGS 84. */
  position: { latitude: number; longitude: number } | null;
}

export interface PackageIssue {
  number: number;
  kind: "interim" | "final";
  issuedAt: string;
  issuedBy: { name: string; organisation: string };
  /** What is still open, one sentence each. A final issue has none. */
  openItems: string[];
  scope: "whole";
}

export interface PileRecord {
  mark: string;
  typeWords: string;
  bent: string;
  row: string;
  state: PileState;
  /** Why it is in that state, in a sentence; null when the word says it all. */
  stateWords: string | null;
  position: { latitude: number; longitude: number } | null;
  /** Jacket, lots, requirement revision, …: shown in this order on the cover. */
  facts: { name: string; words: string }[];
  points: PointRecord[];
  acceptance: AcceptanceRecord | null;
  elevation: ElevationData | null;
}

export interface ElevationData {
  /** Top and bottom of the jacket, feet above the project's datum. */
  topFt: number;
  bottomFt: number;
  jacketHeightIn: number;
  insideDiameterIn: number;
  core: "H" | "square" | "round";
  /** Width across the pile, inches. */
  coreWidthIn: number;
}

export interface PointRecord {
  /** Number of the plan line: "7", "P4". */
  line: string;
  kind: PointKind;
  name: string;
  applicable: boolean;
  /** Why it is not applicable, with the requirement revision; null when it is. */
  because: string | null;
  state: PointState;
  /** Number of the current attempt, 0 before the first. */
  attempt: number;
  /** Of the current attempt. */
  quantities: QuantityRecord[];
  /** Of all attempts. */
  submissions: SubmissionRecord[];
  decisions: DecisionRecord[];
  photos: PhotoRecord[];
  documents: DocumentRecord[];
  /** Waits and clocks: one sentence each. */
  clockWords: string[];
}

export interface QuantityRecord {
  name: string;
  requirementWords: string;
  measuredWords: string;
  /** Null where the value only has to be recorded. */
  verdict: ValueVerdict | null;
  marginWords: string | null;
  instrument: string | null;
  /** Second mark beside the verdict, such as "instrument overdue". */
  mark: string | null;
}

export interface SubmissionRecord {
  attempt: number;
  by: string;
  organisation: string;
  at: string;
  workBeganAt: string | null;
  workEndedAt: string | null;
  words: string | null;
}

export type DecisionOutcome = "QC check" | "release" | "release under concession" | "reject" | "reopen" | "correction" | "lapse";

export interface DecisionRecord {
  attempt: number;
  outcome: DecisionOutcome;
  by: string;
  organisation: string;
  at: string;
  /** In person, delegate, evidence only, not attended. */
  seenAs: string;
  /** Calendar day of the observation where it differs from the day of entry. */
  observedOn: string | null;
  /** Reason codes with their words: "MEAS measured value fails". */
  reasons: string[];
  words: string | null;
  /** How it was signed: "server-attested". */
  attestation: string;
}

export interface PhotoRecord {
  attempt: number;
  subject: string;
  sha256: string;
  takenWords: string;
  receivedWords: string;
  /** What the taken time rests on: EXIF_OFFSET, GPS_DELTA, … */
  basis: string;
  order: OrderVerdict;
  place: PlaceVerdict;
  file: FileVerdict;
  tag: TagVerdict;
  /** Whether the mix in the picture has one colour, with what was measured; null where it was not checked. */
  mixWords: string | null;
  /** What the camera's clock showed, where the photo stands at another time. */
  cameraWords: string | null;
  flags: { code: string; words: string; answer: string | null }[];
  /** JPEG or PNG on disk, upright; null where no reduced copy could be made. */
  previewPath: string | null;
  /** Path of the original below data/. */
  bagPath: string;
}

export interface DocumentRecord {
  attempt: number;
  title: string;
  sha256: string;
  bagPath: string;
}

export interface AcceptanceRecord {
  outcome: "accepted" | "accepted under concession" | "conditionally accepted";
  by: string;
  organisation: string;
  at: string;
  words: string | null;
  warrantyWords: string | null;
}

/**
 * A record as the log names it. In records of kind "photo", "clock photo", "document", "submission" and "decision" every member called `sha256`, and
 * every digest in a list called `photos` or `documents`, is taken for an original that must be in the package.
 */
export interface StoredRecord {
  digest: string;
  kind: string;
  bytes: Uint8Array;
  /** Detached Ed25519 signature over `bytes`, base64, with the id of its key. */
  signature: { key: string; base64: string } | null;
}

export interface StoredFile {
  sha256: string;
  bytes: number;
  mediaType: string;
  /** Path below data/, from lib/closeout/file-name. */
  bagPath: string;
  /** Where the bytes lie now. */
  filePath: string;
}

export type CellValue = string | number | boolean | null;

export interface ColumnDef {
  name: string;
  type: "string" | "number" | "integer" | "boolean";
  /** What stands in the column, with its unit. */
  description: string;
  nullable?: boolean;
  format?: "date-time" | "date";
  enum?: readonly string[];
}

export interface Table {
  /** File name without ending: "points". */
  name: string;
  description: string;
  columns: ColumnDef[];
  rows: Iterable<readonly CellValue[]> | AsyncIterable<readonly CellValue[]>;
}
