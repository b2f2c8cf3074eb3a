import { day, from, step, type PileFact, type ReadingFact } from "#seed/facts/fact";

/** 12.96 of 18 h, then 6 °C since 09:00: under 8 °C the clock is paused. */
const TOO_COLD: ReadingFact[] = [
  ["2026-12-02 15:00", "20"], ["2026-12-02 18:00", "20"], ["2026-12-02 21:00", "20"], ["2026-12-02 21:00:01", "10"], ["2026-12-03 00:00", "10"],
  ["2026-12-03 03:00", "10"], ["2026-12-03 03:00:01", "14"], ["2026-12-03 06:00", "14"], ["2026-12-03 09:00", "14"], ["2026-12-03 09:00:01", "6"],
  ["2026-12-03 11:58", "6"],
];

/** Concrete piles, from the last point back to a cure that stands still. */
export const BENT_04: PileFact[] = [
  {
    mark: "04-A", crew: "lotte", lots: "first",
    days: [
      day("2026-10-12", "2 3"),
      day("2026-10-14", from("08:20"), "4 5 6 7 12"),
      day("2026-10-15", from("08:10"), "10 11 13 14 15 16"),
      day("2026-10-19", from("07:40"), "17 18 19 20 21"),
      day("2026-10-22", "22 23 24"),
      day("2026-11-17", from("10:10"), "25"),
      day("2026-12-03", from("10:10"), step("26", { ending: "sent" })),
    ],
  },
  {
    mark: "04-B", crew: "lotte", lots: "first",
    days: [
      day("2026-11-10", "2 3"),
      day("2026-11-12", from("08:10"), "4 5 6 7 12"),
      day("2026-11-13", from("08:00"), "10 11 13 14 15 16"),
      day("2026-11-24", from("07:40"), "17 18 19 20 21"),
      day("2026-12-01", "22 23"),
    ],
    gates: ["2026-12-03"],
    drafts: [
      {
        at: "2026-12-03 10:40", by: "lotte", line: "24", values: { air: "12.0 °C", humidity: "84 %", surface: "11.5 °C" },
        words: "Surface only 2.1 K above the dew point at 10:35. Wait for it to warm up.",
      },
    ],
    ready: [{ line: "24", from: "11:20" }],
  },
  {
    mark: "04-C", crew: "lotte", lots: "second",
    days: [
      // One of the faces is a photo of 04-B, saved again.
      day("2026-11-17", "2", step("3", { shots: { "faces.1": { copyOf: "04-B-3-1-faces-1" } } })),
      day("2026-11-19", from("08:10"), "4 5 6 7 12"),
      day("2026-11-20", from("08:00"), "10 11 13 14 15 16"),
      day("2026-11-23", from("08:10"), "17"),
      day(
        "2026-12-02", from("07:50"), "18",
        step("19", {
          values: { "no-leak": "no" }, reasons: { "no-leak": "Grout wept at the S side of the seal from 13:10 on; stopped with paste." },
          ending: { reject: ["WORK"], words: "Leak at the seal, S side, 4 in long. Take the first lift out where it bled, make the seal good, test it again and show it dry." },
        }),
      ),
    ],
    gates: ["2026-12-03"],
    ready: [{ line: "19", from: "11:10" }],
  },
  {
    mark: "04-D", crew: "lotte", lots: "second",
    days: [
      day("2026-11-26", from("12:30"), "2 3"),
      day("2026-12-01", from("08:10"), "4 5 6 7 12"),
      day("2026-12-02", from("10:30"), "10 11", step("13", { began: "13:56" }), "14 15", step("16", { began: "14:34", ended: "15:00" })),
    ],
    readings: { "17": TOO_COLD },
  },
];
