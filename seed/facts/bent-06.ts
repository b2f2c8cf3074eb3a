import { day, from, step, type PileFact } from "#seed/facts/fact";

/** Concrete piles at their holes and bars, and at the survey. */
export const BENT_06: PileFact[] = [
  {
    mark: "06-A", crew: "mira", lots: "second",
    days: [
      day("2026-11-26", from("14:20"), "2"),
      day("2026-11-30", from("08:00"), "3"),
      day("2026-12-01", from("08:40"), "4 5"),
      day(
        "2026-12-02", from("09:40"), "6",
        step("7", {
          values: { "projection.4": "18.6 in" }, reasons: { "embedment.4": "Hole 4 met a bar of the cap at 5.4 in." },
          ending: { reject: ["MEAS"], words: "Bar 4 is embedded 5.4 in and 6.0 in is the least. Drill on or move the hole, and ask the engineer before you move it." },
        }),
      ),
    ],
    gates: ["2026-12-03"],
    ready: [{ line: "6", from: "11:00" }],
  },
  {
    mark: "06-B", crew: "mira", lots: "second",
    days: [
      day("2026-11-26", from("15:10"), "2"),
      day("2026-12-01", from("11:40"), "3"),
      day("2026-12-02", from("13:00"), "4 5"),
    ],
    gates: ["2026-12-03"],
    ready: [{ line: "6", from: "11:05" }],
  },
  {
    mark: "06-C", crew: "mira", lots: "second",
    days: [
      day("2026-11-26", from("16:00"), "2"),
      day("2026-12-01", from("12:40"), "3"),
      day("2026-12-02", from("15:20"), "4"),
      day(
        "2026-12-03", from("09:20"),
        step("5", {
          values: { "bar-loss": "22 %", left: "78 %", delaminated: "3.5 ft²" },
          reasons: {
            "bar-loss": "As found on the NE corner bar, from 1.2 to 2.0 ft above datum.", left: "The same bar.", delaminated: "Two faces, N and E; sounded twice.",
          },
          ending: "checked", words: "For the engineer: loss above the limit.",
        }),
      ),
    ],
  },
  {
    mark: "06-D", crew: "mira", lots: "second",
    days: [day("2026-11-26", from("16:50"), "2"), day("2026-12-01", from("14:00"), "3")],
    gates: ["2026-12-03"],
    drafts: [{ at: "2026-12-03 11:35", by: "mira", line: "4", began: "2026-12-03 10:20", values: { "amplitude.1": "0.31 in", "amplitude.2": "0.28 in", sound: "yes" } }],
    loose: [
      // Under the deck a phone places itself badly: 64 m off, give or take 48 m.
      { at: "2026-12-03 11:30", by: "mira", line: "4", subject: "overview", shot: { taken: "2026-12-03 11:22:40", place: { latitude: 44.00045, longitude: -63.5005, errorM: 48 } } },
    ],
    ready: [{ line: "4", from: "11:24" }],
  },
];
