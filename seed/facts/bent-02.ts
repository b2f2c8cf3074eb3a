import { day, from, step, type PileFact } from "#seed/facts/fact";

/** Steel piles, the first to be done: three clean ones, and one whose torque was set with a wrench that was later found to be weak. */
export const BENT_02: PileFact[] = [
  {
    mark: "02-A", crew: "mira", lots: "first",
    days: [
      day("2026-10-05", "2 3"),
      day("2026-10-06", "4 5 6 7 8 12"),
      day("2026-10-07", "9 10 11 13 14 15 16"),
      day("2026-10-09", from("07:40"), "17 18 19 20 21"),
      day("2026-10-12", "22 23 24"),
      day("2026-11-07", from("09:10"), "25"),
      day("2026-11-09", from("09:30"), "26"),
    ],
    accepted: "2026-11-10 15:20",
  },
  {
    mark: "02-B", crew: "mira", lots: "first",
    days: [
      day("2026-10-07", from("13:20"), "2 3"),
      day("2026-10-08", "4 5 6 7 8 12"),
      day(
        "2026-10-09", from("08:20"), "9",
        step("10", { ending: { reject: ["WORK"], words: "Ring 3 slipped 2 in down when the tape was pulled. Tie it again and show it all round." } }),
        "10 11 13 14 15 16",
      ),
      day("2026-10-13", from("07:40"), "17 18 19 20 21"),
      day("2026-10-15", "22 23 24"),
      day("2026-11-11", from("09:00"), "25"),
      day("2026-11-12", from("08:50"), "26"),
    ],
    accepted: "2026-11-13 11:05",
  },
  {
    mark: "02-C", crew: "mira", lots: "first",
    days: [
      day("2026-10-12", from("13:50"), "2 3"),
      day("2026-10-13", from("08:30"), "4 5 6 7 8 12"),
      day("2026-10-14", from("08:00"), "9 10 11 13 14 15 16"),
      day("2026-10-17", from("07:40"), "17 18 19 20 21"),
      day("2026-10-20", "22 23 24"),
      day("2026-11-16", from("09:20"), "25"),
      day("2026-11-17", from("09:00"), "26"),
    ],
    accepted: "2026-11-18 10:40",
  },
  {
    mark: "02-D", crew: "mira", lots: "first",
    days: [
      day("2026-10-19", "2 3"),
      day("2026-10-21", from("08:10"), "4 5 6 7 8 12"),
      day("2026-10-22", from("08:00"), step("9", { instruments: { "torque wrench": "TW-2" } }), "10 11 13 14 15 16"),
      day("2026-10-24", from("08:20"), "17"),
      day("2026-10-31", from("07:40"), "18 19 20 21"),
      day("2026-11-03", "22 23 24"),
      day("2026-11-28", from("16:00"), "25"),
      day("2026-11-30", from("08:40"), "26"),
    ],
    accepted: "2026-11-30 15:00",
    reopened: [
      {
        at: "2026-12-01 14:10", line: "9", codes: ["INST"],
        words: "Wrench TW-2, as found 1 Dec, delivers 57.85 ft·lbf where it clicks at 65: 11.0 % under. The bolts set with it on 22 Oct are not shown to be tight.",
      },
    ],
  },
];
