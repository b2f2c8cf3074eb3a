import type { PointKind } from "#lib/domain/point/state";
import type { PointStatus } from "#lib/domain/point/fold";
import { HOUR, type Instant } from "#lib/domain/instant";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { Tx } from "#lib/db/client";
import { listReadings } from "#lib/db/evidence";
import { listPiles } from "#lib/db/pile";
import { projectHistories } from "#lib/db/point-record";
import type { Project } from "#lib/db/project";
import { clockView, whenNear, type ClockView } from "#lib/services/clock-view";
import { clockOf, loadCommon, pileSheet, type Sheet } from "#lib/services/sheet";

export const CLOCK_KINDS = ["cure", "maturity", "equivalent age", "pot life", "maximum wait", "least wait"] as const;
export type ClockKind = (typeof CLOCK_KINDS)[number];

/** One clock that runs at a point of a pile. Recomputed each time, from records alone. */
export interface ClockRow {
  sheet: string;
  mark: string;
  line: string;
  kind: PointKind;
  name: string;
  clock: ClockKind;
  /** "stopped" where it cannot be told when it ends; "cannot be met" where its end is past, or comes before it can be reached. */
  state: "runs" | "stopped" | "cannot be met";
  since: Instant;
  /** An earliest instant, or for a maximum wait and a pot life a latest one; null where it cannot be told. */
  until: Instant | null;
  bound: "earliest" | "latest";
  /** What it waits for, where that is not the point's own name. */
  what: string;
  /** The end in words, with what is left: "17:20, 5 h 20 left". */
  words: string;
  /** Stretches in which a cure stood still. */
  stopped: { from: Instant; to: Instant }[];
  /** When the record came that it runs from, or its last temperature. */
  recordedAt: Instant;
}
