/** How strongly a point stops the work: R documents only, W gives notice, H needs a written release. */
export const POINT_KINDS = ["R", "W", "H"] as const;
export type PointKind = (typeof POINT_KINDS)[number];

/**
 * What a point can be in, folded from its records and the instant asked about.
 * The last five need acts that are recorded later in a project's life (concessions, notices, change orders, two
 * entries for one point); they stand here so that every drawing of a state has a place for them.
 */
export const POINT_STATES = [
  "not open",
  "open",
  "draft",
  "submitted",
  "QC checked",
  "released",
  "rejected",
  "expired",
  "in doubt",
  "not applicable",
  "released under concession",
  "notice lapsed",
  "out of scope",
  "conflict",
] as const;
export type PointState = (typeof POINT_STATES)[number];

export const PILE_STATES = [
  "not started",
  "in work",
  "awaiting results",
  "accepted",
  "in doubt",
  "accepted under concession",
  "conditionally accepted",
  "out of scope",
] as const;
export type PileState = (typeof PILE_STATES)[number];
