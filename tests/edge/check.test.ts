import { describe, expect, it } from "vitest";
import { readChecks, type Checks } from "#lib/edge/schema/check";

const check = (fields: Record<string, string>): Checks => readChecks(new URLSearchParams(fields));
const BOLTS = { lot: "20", bad: "2", checked: "5", accept: "0" };
const PULL = { force: "700 lbf", dolly: "2 in", mode: "in the substrate", "pull-least": "200 psi" };
const STRENGTH = { specified: "6000 psi", form: "averages of three", least: "1" };

describe("bolts", () => {
  // C(18, 5)/C(20, 5) and the hypergeometric sums worked by hand.
  it.each([
    [BOLTS, 0.5526, 16, 20],
    [{ lot: "160", bad: "8", checked: "32", accept: "3" }, 0.9484, 49, 160],
    [{ lot: "160", bad: "16", checked: "32", accept: "3" }, 0.5983, 27, 160],
    [{ lot: "160", bad: "32", checked: "32", accept: "3" }, 0.07, 13, 160],
  ])("of %j are accepted with a chance of %d, and %i would have to be checked", (fields, chance, smallest, lot) => {
    const { sampling, faults } = check(fields);
    expect(faults).toEqual([]);
    expect(sampling?.chance).toBeCloseTo(chance, 4);
    expect(sampling?.notes[0]).toContain(`: ${smallest} of ${lot}.`);
    expect(sampling?.curve[0]).toEqual({ bad: 0, chance: 1 });
  });

  it.each([
    [{ ...BOLTS, bad: "21" }, "bad", "There are no more than 20."],
    [{ ...BOLTS, checked: "21" }, "checked", "There are no more than 20 to check."],
    [{ ...BOLTS, accept: "5" }, "accept", "A sample accepts fewer than it checks."],
    [{ ...BOLTS, lot: "many" }, "lot", "many is no whole number. Give how many bolts there are."],
    [{ ...BOLTS, accept: "" }, "accept", "Give with how many loose ones the sample is still accepted."],
  ])("say what is wrong with %j", (fields, field, message) => {
    const { sampling, faults, typed } = check(fields);
    expect(sampling).toBeNull();
    expect(faults).toEqual([{ field, message }]);
    expect(typed).toEqual(fields);
  });

  it("are not asked about while nothing is typed", () => {
    expect(check({})).toMatchObject({ sampling: null, strength: null, pullOff: null, embedment: null, dew: null, unsetHead: null, take: null, formwork: null, faults: [] });
  });
});

describe("strength", () => {
  it("meets with 6420, 5910 and 6180 against 6000 psi by averages, and fails by the other form", () => {
    const tests = "6420\n5910\n6180";
    expect(check({ ...STRENGTH, tests }).strength).toMatchObject({ verdict: "meets", rows: [{ average: "" }, { average: "" }, { average: "6170 psi, meets" }] });
    expect(check({ ...STRENGTH, form: "no test below", tests }).strength).toMatchObject({ verdict: "fails" });
  });

  it("fails twice once 5360 follows: the average is 5816.7, and 5360 lies below 5400", () => {
    const { strength } = check({ ...STRENGTH, tests: "6420; 5910; 6180; 5360" });
    expect(strength?.verdict).toBe("fails");
    expect(strength?.notes.slice(0, 2)).toEqual(["Test 4 at 5360 psi lies below 5400 psi.", "The average of three that ends with test 4 at 5816.7 psi lies below 6000 psi."]);
  });

  it("takes the specimens of a test together and cannot tell with too few", () => {
    const { strength } = check({ ...STRENGTH, least: "2", tests: "6400, 6440\n6000" });
    expect(strength?.rows.map(({ mean }) => mean)).toEqual(["6420 psi", "too few specimens"]);
    expect(strength?.verdict).toBe("cannot tell");
  });

  it("holds a specification in MPa in MPa", () => {
    expect(check({ ...STRENGTH, specified: "42 MPa", tests: "43\n44\n42.5" }).strength).toMatchObject({ verdict: "meets", words: "3 tests against 42 MPa, no test below 37.8 MPa." });
  });
});

describe("pull-off", () => {
  it("is the force over the dolly, and says where it let go", () => {
    expect(check(PULL).pullOff).toMatchObject({ verdict: "meets", words: expect.stringContaining("222.8 psi") as string });
    expect(check({ ...PULL, force: "440 N", dolly: "20 mm", "pull-least": "1.4 MPa" }).pullOff).toMatchObject({ verdict: "meets", words: expect.stringContaining("1.4006 MPa") as string });
    expect(check({ ...PULL, mode: "at the bond", substrate: "1" }).pullOff).toMatchObject({ verdict: "fails" });
  });

  it.each([
    [{ ...PULL, force: "700" }, "force"],
    [{ ...PULL, dolly: "0 in" }, "dolly"],
    [{ ...PULL, mode: "" }, "mode"],
    [{ ...PULL, "pull-least": "1e400 psi" }, "pull-least"],
  ])("of %j is not worked out", (fields, field) => {
    const { pullOff, faults } = check(fields);
    expect(pullOff).toBeNull();
    expect(faults.map((one) => one.field)).toEqual([field]);
  });
});

describe("the other checks", () => {
  it("find a bar short although its hole is deep enough", () => {
    const { embedment } = check({ "bar-length": "40.0 in", projection: "33.6 in", "embedment-least": "7.0 in", "hole-depth": "7.25 in", bar: "#6" });
    expect(embedment).toMatchObject({ verdict: "fails", words: "6.4 in (163 mm) in the hole, needs 7 in: 0.6 in short." });
    expect(embedment?.notes).toEqual(["The hole is 7.25 in deep. A deep hole says nothing of the bar.", "8.5 bar diameters: inside the 4 to 20 in which the usual bond design holds."]);
    expect(check({ "bar-length": "40 in", projection: "41 in" }).faults).toEqual([{ field: "projection", message: "More stands out than the bar is long." }]);
  });

  it("keep the two dew rules apart: 2.9 K passes 5 °F and not 3 °C", () => {
    const air = { air: "12 °C", humidity: "84 %" };
    expect(check({ ...air, surface: "11.5 °C", "margin-least": "3 °C" }).dew).toMatchObject({ verdict: "fails", words: expect.stringMatching(/^2\.12 K \(3\.82 F°\) over a dew point of 9\.38 °C/) as string });
    const close = { ...air, surface: "12.28 °C" };
    expect([check({ ...close, "margin-least": "3 °C" }).dew?.verdict, check({ ...close, "margin-least": "5 °F" }).dew?.verdict]).toEqual(["fails", "meets"]);
  });

  it("add up all grout that has not set: 42 in, not 18", () => {
    const { unsetHead } = check({ lifts: "24 in, 0 h\n18 in, 1.5 h", set: "4 h", "head-density": "135 pcf" });
    expect(unsetHead?.words).toMatch(/^42 in \(1067 mm\).*: 3\.28 psi/);
    expect(check({ lifts: "24 in, 0 h\n18 in, 5 h", set: "4 h" }).unsetHead?.words).toMatch(/^18 in/);
    expect(check({ lifts: "24 in", set: "4 h" }).faults).toMatchObject([{ field: "lifts" }]);
  });

  it.each([["23", "0.937 of what was worked out: low: void or short.", "fails"], ["31", "1.263 of what was worked out: high: leak or bulge.", "fails"], ["25", "1.018 of what was worked out: inside the band.", "meets"]])(
    "say of %s bags: %s",
    (bags, words, verdict) => {
      expect(check({ "take-bags": bags, "take-yield": "0.43 ft³", "take-volume": "10.555 ft³", "take-min": "0.97", "take-max": "1.15" }).take).toMatchObject({ words, verdict });
    },
  );

  it("set the liquid head beside the equation for columns", () => {
    const { formwork } = check({ density: "135 lb/ft³", head: "42 in", rate: "24 in/h", mix: "18 °C", chemistry: "1.2" });
    expect(formwork?.words).toMatch(/^3\.28 psi \(22\.62 kPa\) as a liquid; .* governs\.$/);
  });

  it("tell the faults of each by itself, and work the others out", () => {
    const { pullOff, sampling, faults } = check({ ...BOLTS, ...PULL, force: "heavy" });
    expect([pullOff, sampling?.lot, faults.length]).toEqual([null, 20, 1]);
  });
});
