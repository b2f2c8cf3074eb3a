import type { PileState, PointState } from "#lib/domain/point/state";

/** A pile wears the mark of the point state that means the same for one point. */
export const PILE_MARK: Record<PileState, PointState> = {
  "not started": "not open",
  "in work": "open",
  "awaiting results": "submitted",
  accepted: "released",
  "accepted under concession": "released under concession",
  "conditionally accepted": "notice lapsed",
  "in doubt": "in doubt",
  "out of scope": "out of scope",
};
