import { day, from, step, type PileFact, type ReadingFact } from "#seed/facts/fact";

const WEAK = { "torque wrench": "TW-2" };
const weakWrench = (day: string): string =>
  `Wrench TW-2, as found 1 Dec, delivers 57.85 ft·lbf where it clicks at 65: 11.0 % under. The bolts set with it on ${day} are not shown to be tight.`;

/** An enclosure held at 20 °C over the night in which the clocks go back: 18 h from 20:30 are up at 13:30, not at 14:30. */
const HEATED: ReadingFact[] = [
  ["2026-10-31 20:45", "20"], ["2026-10-31 23:30", "20"], ["2026-11-01T02:30:00-04:00", "20"], ["2026-11-01 05:30", "20"], ["2026-11-01 08:30", "20"],
  ["2026-11-01 11:30", "20"], ["2026-11-01 13:30", "20"],
];

/** Six hours each at 20, 10 and 14 °C make 264 °C·h; then it stays at 12 °C. The lower of two readings holds, so each step is logged on both sides. */
const COOLING: ReadingFact[] = [
  ["2026-12-02 18:00", "20"], ["2026-12-02 21:00", "20"], ["2026-12-03 00:00", "20"], ["2026-12-03 00:00:01", "10"], ["2026-12-03 03:00", "10"],
  ["2026-12-03 06:00", "10"], ["2026-12-03 06:00:01", "14"], ["2026-12-03 09:00", "14"], ["2026-12-03 11:59:59", "14"], ["2026-12-03 12:00", "12"],
];

/** Steel piles: one accepted, two set with the weak wrench, and one whose grout cures. */
export const BENT_03: PileFact[] = [
  {
    mark: "03-A", crew: "mira", lots: "first",
    days: [
      day("2026-10-27", "2 3"),
      day("2026-10-30", from("08:10"), "4 5 6 7 8 12"),
      day("2026-10-31", from("16:30"), "9 10 11", step("13", { began: "19:28" }), "14 15", step("16", { began: "20:06", ended: "20:30", words: "Evening work; the enclosure is heated to 20 °C for the night." })),
      day("2026-11-01", from("13:32"), step("17", { decidedAfter: 25 })),
      day("2026-11-04", from("07:40"), "18 19 20 21"),
      day("2026-11-07", "22 23 24"),
      day("2026-12-02", from("16:50"), "25"),
      day("2026-12-03", from("08:20"), "26"),
    ],
    readings: { "17": HEATED },
    accepted: "2026-12-03 10:20",
  },
  {
    mark: "03-B", crew: "mira", lots: "first",
    days: [
      day("2026-11-02", "2 3"),
      day("2026-11-04", from("08:40"), "4 5 6 7 8 12"),
      day("2026-11-05", from("08:10"), step("9", { instruments: WEAK }), "10 11 13 14 15 16"),
      day("2026-11-12", from("07:40"), "17 18 19 20 21"),
      day("2026-11-16", "22 23 24"),
    ],
    reopened: [{ at: "2026-12-01 14:16", line: "9", codes: ["INST"], words: weakWrench("5 Nov") }],
  },
  {
    mark: "03-C", crew: "mira", lots: "first",
    days: [
      day("2026-11-09", "2 3"),
      day("2026-11-11", from("08:30"), "4 5 6 7 8 12"),
      day("2026-11-12", from("08:20"), step("9", { instruments: WEAK }), "10 11 13 14 15 16"),
      day("2026-11-20", from("07:40"), "17 18 19 20 21"),
    ],
    reopened: [{ at: "2026-12-01 14:21", line: "9", codes: ["INST"], words: `${weakWrench("12 Nov")} Grouted since 20 Nov.` }],
  },
  {
    mark: "03-D", crew: "mira", lots: "second",
    days: [
      day("2026-11-23", "2 3"),
      day("2026-11-25", from("08:00"), "4 5 6 7 8 12"),
      day("2026-11-26", from("08:10"), "9 10 11 13 14 15 16"),
      day("2026-12-02", from("08:10"), "17 18 19", step("20", { began: "15:00", ended: "17:05" }), step("21", { began: "17:25", ended: "18:00" })),
    ],
    readings: { "22": COOLING },
  },
];
