import type { Instant } from "#lib/domain/instant";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import type { Role } from "#lib/domain/requirement/set";

/** Closed list of why a point is rejected, reopened or sent back. Words are needed with OTH. */
export const REASON_CODES = {
  MEAS: "measured value fails",
  CNT: "count wrong",
  MISS: "evidence missing",
  BLUR: "evidence unreadable",
  LATE: "evidence taken after cover-up",
  SEQ: "step done before predecessor released",
  TIME: "wait not met",
  EXP: "max wait exceeded",
  ENV: "weather, temperature, dew",
  INST: "instrument overdue or unsuitable",
  LOT: "lot expired, not approved or unlabelled",
  WORK: "workmanship: gap, wrinkle, sag, streak, leak",
  LOC: "wrong pile or position",
  DOC: "wrong revision",
  SAFE: "unsafe to inspect",
  OTH: "other, in words",
} as const;
export type ReasonCode = keyof typeof REASON_CODES;

export const SEEN_AS = ["in person", "delegate", "evidence only", "not attended"] as const;
export type SeenAs = (typeof SEEN_AS)[number];

export const OUTCOMES = ["release", "reject", "reopen"] as const;
export type Outcome = (typeof OUTCOMES)[number];

interface Happened {
  /** Place in the project's log: the order in which the record was made. */
  seq: number;
  /** When the record was made, by the server's clock. */
  at: Instant;
  line: string;
}

export interface Submitted extends Happened {
  type: "submitted";
  submissionId: string;
  by: string;
  byRole: Role;
  /** Everyone who entered a value of it, the sender included. */
  enteredBy: string[];
  workBegan: Instant;
  workEnded: Instant;
  /** The least favourable verdict over the required values at submission; null where nothing is judged. */
  worst: ValueVerdict | null;
}

export interface Withdrawn extends Happened {
  type: "withdrawn";
  submissionId: string;
  by: string;
}

export interface Checked extends Happened {
  type: "checked";
  submissionId: string;
  by: string;
  outcome: "checked" | "sent back";
}

export interface Decided extends Happened {
  type: "decided";
  decisionId: string;
  submissionId: string;
  /** Null where the system recorded an automatic release. */
  by: string | null;
  role: Role | null;
  outcome: Outcome;
}

/** An approved revision that reaches back to a signed point which does not meet it as it stands. */
export interface RequirementChanged extends Happened {
  type: "requirement changed";
  letter: string;
  finding: "would fail" | "needs a value";
}

/** What has happened at the points of one sheet, in the order of the log. */
export type PointEvent = Submitted | Withdrawn | Checked | Decided | RequirementChanged;
