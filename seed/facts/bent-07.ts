import { day, from, step, type PileFact } from "#seed/facts/fact";

/** Timber piles, at the beginning. */
export const BENT_07: PileFact[] = [
  {
    mark: "07-A", crew: "lotte", lots: "second",
    days: [
      day("2026-11-26", from("10:20"), "2"),
      day("2026-12-01", from("16:00"), "3"),
      day(
        "2026-12-02", from("11:00"),
        step("4", { ending: { reject: ["WORK"], words: "Growth left on the W face, a hand wide, 10 in above the mud line. Clean it, then prepare it again." } }),
      ),
    ],
    gates: ["2026-12-03"],
    ready: [{ line: "4", from: "11:00" }],
  },
  {
    mark: "07-B", crew: "lotte", lots: "second",
    days: [day("2026-11-26", from("11:00"), "2"), day("2026-12-02", from("12:40"), "3")],
    gates: ["2026-12-03"],
    ready: [{ line: "4", from: "11:15" }],
  },
  {
    mark: "07-C", crew: "lotte", lots: "second", days: [],
    overrides: [
      {
        line: "8", change: { kind: "quantity", quantity: "lags", rule: { form: "count", exactly: 14, atLeast: null } }, drawing: "S-207 rev. 1, note 2",
        words: "Row C carries the fender: 14 lag connectors instead of 12.",
      },
    ],
  },
  { mark: "07-D", crew: "lotte", lots: "second", days: [] },
  { mark: "07-E", crew: "lotte", lots: "second", days: [], added: { at: "2026-11-27 09:00", words: "Added by change order CO-2." } },
];
