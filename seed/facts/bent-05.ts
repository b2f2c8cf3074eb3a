import { day, from, step, type PileFact } from "#seed/facts/fact";

const NOTE = { drawing: "S-205 rev. 2, note 4", words: "Bent 05, row C stands in the splash of the outfall: cover up within 24 h of preparation." };

/** Concrete piles before and under the jacket: here the order of things is in question. */
export const BENT_05: PileFact[] = [
  {
    mark: "05-A", crew: "lotte", lots: "second",
    days: [
      day("2026-11-26", from("07:40"), "2"),
      day("2026-11-28", from("11:20"), "3"),
      day("2026-12-01", from("10:00"), "4 5 6 7 12"),
      day("2026-12-02", from("08:40"), "10 11"),
      // The camera still shows summer time: 1 h ahead. Its GPS time tells.
      day("2026-12-03", step("13", { began: "10:02" }), "14 15", step("16", { began: "10:40", ended: "11:04", camera: "crew camera", ending: "sent" })),
    ],
  },
  {
    mark: "05-B", crew: "lotte", lots: "second",
    days: [
      day("2026-11-26", from("08:20"), "2"),
      day("2026-11-28", from("12:40"), "3"),
      day("2026-12-01", from("12:10"), "4 5 6 7 12"),
      day(
        "2026-12-02", from("09:40"), "10 11",
        step("13", {
          values: { "mass-a": "1020 g", "mass-b": "372 g" }, reasons: { ratio: "Noticed after mixing. Not spread; the batch is set aside." },
          ending: { reject: ["MEAS"], words: "A 1020 g to B 372 g is 4.02 % short of B, and 3 % is allowed. Discard the batch and weigh a new one." },
        }),
      ),
    ],
    gates: ["2026-12-03"],
    ready: [{ line: "13", from: "11:25" }],
  },
  {
    mark: "05-C", crew: "lotte", lots: "second",
    overrides: [
      { line: "11", change: { kind: "wait", from: "4", hours: "24" }, ...NOTE },
      {
        line: "11",
        change: { kind: "quantity", quantity: "age", rule: { form: "elapsed", from: { line: "4", event: "ended" }, to: "ended", atLeastHours: null, atMostHours: "24" } },
        ...NOTE,
      },
    ],
    days: [
      day("2026-11-26", from("09:00"), "2"),
      day("2026-12-01", from("08:20"), "3 12"),
      day("2026-12-02", step("4", { began: "16:20", ended: "17:20" }), "5"),
      day(
        "2026-12-03", from("07:40"), "6 7", step("10", { began: "10:14", ended: "10:48" }),
        step("11", {
          began: "10:52", ended: "11:20", ending: "sent",
          shots: {
            // Its file states no GPS time, so it is good to two minutes only, and the window opens at 10:48:00.
            "overview.3": { taken: "2026-12-03 10:48:50", camera: "lotte's phone" },
            "overview.4": { taken: "2026-12-03 11:10:30", camera: "crew camera" },
          },
        }),
      ),
    ],
    ready: [{ line: "11", from: "11:40", only: ["overview.3"] }],
  },
  {
    mark: "05-D", crew: "lotte", lots: "second",
    days: [
      day("2026-11-26", from("09:40"), "2"),
      day("2026-11-30", from("08:10"), "3"),
      day("2026-12-01", from("14:40"), "4 5 12"),
      day(
        "2026-12-02", from("08:20"), step("6", { began: "08:40", ended: "09:35", decidedAfter: 14 }),
        step("7", { began: "10:05", ended: "10:24", ending: "sent", words: "Sent late: no signal under the deck." }),
        step("6", {
          began: "08:40", ended: "09:35", sent: "10:45", ending: "sent", words: "Photos of the holes, taken again. The holes as they were cleaned at 09:35.",
          shots: {
            "depth.1": { taken: "2026-12-02 10:34:10" }, "depth.2": { taken: "2026-12-02 10:35:20" },
            "clean.1": { taken: "2026-12-02 10:36:51" }, "clean.2": { taken: "2026-12-02 10:38:30" },
          },
        }),
      ),
    ],
    reopened: [{ at: "2026-12-02 10:31", line: "6", codes: ["MISS"], words: "Both clean-hole photos show hole 3. Holes 6 to 8 have none." }],
  },
];
