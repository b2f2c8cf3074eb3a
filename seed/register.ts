import type { AccuracySchema } from "#lib/records/kind";
import type { z } from "zod";

export interface InstrumentFact {
  mark: string;
  class: string;
  name: string;
  unit: string | null;
  range: [string, string] | null;
  accuracy: z.infer<typeof AccuracySchema> | null;
  calibrated: string;
  dueOn: string;
}

const absolute = (value: string) => ({ kind: "absolute", value }) as const;
const perCent = (value: string) => ({ kind: "per cent", value }) as const;

const instrument = (
  mark: string, kind: string, name: string, unit: string | null, range: [string, string] | null, accuracy: InstrumentFact["accuracy"], calibrated: string, dueOn: string,
): InstrumentFact => ({ mark, class: kind, name, unit, range, accuracy, calibrated, dueOn });

/** The register, the instrument that is usually taken first in its class. */
export const INSTRUMENTS: InstrumentFact[] = [
  instrument("TW-1", "torque wrench", "Click wrench, red grip", "ft·lbf", ["20", "150"], perCent("2"), "2026-05-30", "2027-05-29"),
  instrument("TW-2", "torque wrench", "Click wrench, black grip", "ft·lbf", ["20", "150"], perCent("2"), "2026-09-28", "2027-03-28"),
  instrument("SC-1", "scale", "Bench scale, 0.1 g", "g", ["20", "6000"], absolute("0.5"), "2026-04-01", "2027-03-31"),
  instrument("UT-1", "thickness gauge", "Ultrasonic thickness gauge", "in", ["0.05", "4"], absolute("0.004"), "2026-05-18", "2027-05-17"),
  instrument("HY-1", "hygrometer", "Hygrometer", "%", ["10", "95"], absolute("2"), "2026-06-09", "2026-12-09"),
  instrument("TH-3", "thermometer", "Probe and surface thermometer", "°C", ["-10", "60"], absolute("0.3"), "2026-06-12", "2027-06-11"),
  instrument("CP-2", "calipers", "Calipers", null, null, perCent("1"), "2026-06-20", "2027-06-19"),
  instrument("DG-1", "depth gauge", "Depth gauge", "in", ["0", "12"], absolute("0.02"), "2026-06-20", "2027-06-19"),
  instrument("RT-3", "replica tape", "Replica tape and dial", "mil", ["0.8", "6"], absolute("0.15"), "2026-07-20", "2027-01-20"),
  instrument("SK-1", "salt kit", "Salt kit", "µg/cm²", ["0", "50"], absolute("0.5"), "2026-07-20", "2027-01-20"),
  instrument("TP-2", "tape", "Steel tape, 16 ft", "in", ["0", "192"], absolute("0.06"), "2026-07-20", "2027-01-20"),
  instrument("TP-4", "tape", "Steel tape, 25 ft", "in", ["0", "300"], absolute("0.06"), "2026-07-20", "2027-01-20"),
  instrument("LV-1", "level", "Level and staff", "ft", ["-20", "30"], absolute("0.02"), "2026-07-22", "2027-07-21"),
  instrument("SG-1", "staff gauge", "Staff gauge at bent 01", "ft", ["-3", "12"], absolute("0.1"), "2026-07-22", "2027-07-21"),
  instrument("CG-1", "comb gauge", "Comb gauge", "mil", ["1", "40"], absolute("0.5"), "2026-07-20", "2027-01-20"),
  instrument("FG-1", "feeler gauge", "Feeler gauge", "in", ["0.001", "0.5"], absolute("0.002"), "2026-07-20", "2027-01-20"),
  instrument("FC-1", "flow cone", "Flow cone", "s", ["5", "120"], absolute("0.5"), "2026-08-11", "2027-08-10"),
  instrument("SH-1", "hammer", "Sounding hammer", null, null, null, "2026-07-20", "2027-07-20"),
];

/** What the laboratory found on the wrench that had been dropped. */
export const AS_FOUND_TW_2 = {
  at: "2026-12-01 10:30",
  dueOn: "2027-06-01",
  certificate: "LAB-2611-07",
  words: "As found: clicks at 65 ft·lbf, delivers 57.85 ft·lbf. Adjusted; as left: clicks at 65 ft·lbf, delivers 65.1 ft·lbf. Last good 28 Sep 2026.",
} as const;

export interface LotFact {
  number: string;
  kind: string;
  receivedOn: string;
  expiresOn: string;
  quantity: string;
}

const lot = (number: string, kind: string, receivedOn: string, expiresOn: string, quantity: string): LotFact => ({
  number, kind, receivedOn, expiresOn, quantity,
});

export const LOTS: LotFact[] = [
  lot("A-771", "resin A", "2026-09-24", "2027-03-15", "120 kg"),
  lot("B-418", "resin B", "2026-09-24", "2027-03-15", "46 kg"),
  lot("J-31", "jacket", "2026-09-24", "2028-09-01", "4 rolls of 720 in"),
  lot("G-52", "grout", "2026-09-29", "2026-12-31", "160 bags"),
  lot("A-783", "resin A", "2026-11-09", "2027-05-02", "100 kg"),
  lot("B-431", "resin B", "2026-11-09", "2027-05-02", "38 kg"),
  lot("J-34", "jacket", "2026-11-09", "2028-10-15", "4 rolls of 720 in"),
  lot("G-60", "grout", "2026-11-10", "2027-02-20", "200 bags"),
];

/** Lots by what they are used for: those of the autumn, and those that came in November. */
export const LOT_SETS = {
  first: { "resin A": "A-771", "resin B": "B-418", jacket: "J-31", grout: "G-52" },
  second: { "resin A": "A-783", "resin B": "B-431", jacket: "J-34", grout: "G-60" },
} as const;
export type LotSet = keyof typeof LOT_SETS;
