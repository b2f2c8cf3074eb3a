import { describe, expect, it } from "vitest";
import { judgeEntry, type EntryFacts, type Writing } from "#lib/domain/point/judge-entry";
import { writeProjectLines } from "#lib/domain/plan/catalogue";
import { atLeast, between, each, photo, quantity, recorded } from "#lib/domain/plan/line-part";
import { buildPlan, type PlanLine } from "#lib/domain/plan/plan";

const { lines: [template] } = buildPlan({ lines: writeProjectLines({ submittals: ["Grout"], hollowMaxIn2: "4" }) }, { mark: "", overrides: [] });
const own = (quantities: ReturnType<typeof quantity>[]) => quantities.map((one) => ({ ...one, override: null }));

/** Six bars with their embedment worked out, and a torque in a range. */
const LINE: PlanLine = {
  ...template!,
  line: "7",
  quantities: own([
    quantity("bar-length", "Bar length", recorded("in"), { instrument: "tape" }),
    quantity("projection", "Projection", each("bar", 2, recorded("in")), { instrument: "tape" }),
    quantity("embedment", "Embedment", each("bar", 2, atLeast("7.0", "in")), { derived: { formula: "embedment", from: ["bar-length", "projection"] } }),
    quantity("torque", "Torque", between("65", "72", "ft·lbf")),
  ]),
  photos: [photo("bar", "Bar with tape", 2)],
  documents: [],
};

const FACTS: EntryFacts = {
  zone: "America/Halifax",
  shift: { startsAt: "06:00", hours: 14 },
  now: Date.parse("2026-12-02T12:00:00-04:00"),
  instruments: [{ id: "tp", mark: "TP-2", class: "tape", unit: "in", rangeMin: null, rangeMax: null, accuracy: null, calibrations: [{ from: "2026-09-28", dueOn: "2027-03-28" }] }],
  work: {},
  entries: {},
  readings: [],
  photos: [{ sha256: "a", subject: "bar" }, { sha256: "b", subject: "bar" }],
  documents: [],
  gate: null,
};

const value = (name: string, item: number | null, text: string, more: Partial<Writing["values"][number]> = {}) => ({
  quantity: name, item, text, unit: null, instrumentId: null, unitConfirmed: false, reason: "", ...more,
});
const writing = (values: Writing["values"], times: Partial<Writing> = {}): Writing => ({
  workBegan: "2026-12-02T09:00", workEnded: "2026-12-02T09:40", lots: [], ...times, values,
});
const sound = [
  value("bar-length", null, "40.0 in", { instrumentId: "tp" }),
  value("projection", 1, "32.5 in", { instrumentId: "tp" }),
  value("projection", 2, "32.6 in", { instrumentId: "tp" }),
  value("torque", null, "70 ft·lbf"),
];

describe("an entry while it is written", () => {
  it("has nothing missing when everything asked for is there and meets", () => {
    expect(judgeEntry(LINE, writing(sound), FACTS).faults).toEqual([]);
  });

  it("works out what follows from what was typed, and says by how much it falls short", () => {
    const { judged, faults } = judgeEntry(LINE, writing(sound.map((one) => (one.item === 2 ? { ...one, text: "33.6" , unit: "in" } : one))), FACTS);
    const second = judged.find(({ field }) => field === "value.embedment.2");
    // A bar of 40.0 in that stands out 33.6 in is embedded 6.4 in, 0.6 in short of 7.0 in.
    expect(second).toMatchObject({ verdict: "fails", measured: "6.4 in", margin: "6.4 in, needs at least 7.0 in: 0.6 in short", drawn: { value: "6.4", min: "7", max: null, unit: "in" } });
    expect(faults.map(({ field }) => field)).toEqual(["reason.embedment.2"]);
  });

  it("asks about a number that fits in another unit, until the person keeps it", () => {
    const typed = value("torque", null, "88", { unit: "ft·lbf" });
    const asked = judgeEntry(LINE, writing([...sound.slice(0, 3), typed]), FACTS);
    // 88 N·m is 64.905 ft·lbf (1 ft·lbf = 1.3558179483 N·m, NIST SP 811).
    expect(asked.judged.find(({ field }) => field === "value.torque")?.asked).toEqual({ number: "88", unit: "ft·lbf", other: "N·m" });
    expect(asked.faults.map(({ field }) => field)).toEqual(["value.torque"]);
    const kept = judgeEntry(LINE, writing([...sound.slice(0, 3), { ...typed, unitConfirmed: true }]), FACTS);
    expect(kept.judged.find(({ field }) => field === "value.torque")?.asked).toBeNull();
    expect(kept.faults.map(({ field }) => field)).toEqual(["reason.torque"]);
  });

  it("names what is missing in the order in which a person meets it", () => {
    const { faults } = judgeEntry(LINE, { workBegan: "", workEnded: "", values: [], lots: [] }, { ...FACTS, photos: [] });
    expect(faults.map(({ field }) => field)).toEqual(["value.bar-length", "value.projection.1", "value.projection.2", "value.torque", "workBegan", "workEnded", "photo.bar"]);
  });

  it("asks which of two equal times was meant in the hour that the clocks repeat", () => {
    const { faults } = judgeEntry(LINE, writing(sound, { workBegan: "2026-11-01T01:30", workEnded: "2026-11-01T03:00" }), FACTS);
    expect(faults).toEqual([{ field: "workBegan", message: expect.stringContaining("2026-11-01T01:30-03:00 or 2026-11-01T01:30-04:00") }]);
    expect(judgeEntry(LINE, writing(sound, { workBegan: "2026-11-01T01:30-04:00", workEnded: "2026-11-01T03:00" }), FACTS).faults).toEqual([]);
  });

  it("sends the person to the shift's access check first when it does not stand", () => {
    const gate = { line: "1", name: "Access, tide, task check", standsOn: ["2026-12-01"] };
    const [first] = judgeEntry(LINE, writing(sound), { ...FACTS, gate }).faults;
    expect(first).toEqual({ field: "gate", message: "Point 1, Access, tide, task check, is not entered for the shift of Wed 09:00. Enter it first." });
    expect(judgeEntry(LINE, writing(sound), { ...FACTS, gate: { ...gate, standsOn: ["2026-12-02"] } }).faults).toEqual([]);
  });
});
