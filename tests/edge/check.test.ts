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

  // 8568 of 15 504 draws of 5 from 20 find none of 2, counted by hand.
  it("are told the chance to find none where some may be found", () => {
    expect(check({ ...BOLTS, accept: "1" }).sampling?.notes[1]).toBe("A check of 5 finds none of the 2 with a chance of 55.3 %.");
    expect(check(BOLTS).sampling?.notes).toHaveLength(2);
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
    expect(check({})).toMatchObject({ sampling: null, strength: null, pullOff: null, embedment: null, dew: null, unsetHead: null, take: null, formwork: null, wrench: null, resinHole: null, anchor: null, film: null, maturity: null, faults: [] });
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

  it("expects from an early test of 4100 and 4290 psi at 70 % less than 6000 psi, warns, and judges nothing by it", () => {
    const early = { ...STRENGTH, least: "2", early: "4100, 4290", "early-share": "70 %" };
    const { strength, faults } = check(early);
    expect([faults, strength?.verdict, strength?.rows]).toEqual([[], "cannot tell", []]);
    expect(strength?.notes).toContain("Early warning: 5992.9 psi is to be expected from the early test, at 70 % by then, and the specified strength may not be reached. It is no verdict.");
    expect(check({ ...early, early: "4100, 4300", tests: "6420, 6420\n6180, 6180\n6000, 6000" }).strength).toMatchObject({ verdict: "meets", notes: [expect.stringMatching(/^6000 psi .*: no warning/), expect.anything()] });
    expect(check({ ...early, early: "4100" }).strength?.notes).toContain("The early test has fewer than 2 specimens: nothing is expected from it.");
  });

  it.each([[{ early: "4100" }, "early-share"], [{ early: "4100", "early-share": "120 %" }, "early-share"], [{ "early-share": "70 %", tests: "6000" }, "early"], [{ early: "much", "early-share": "70 %" }, "early"]])("says what is wrong with %j", (fields, field) => {
    expect(check({ ...STRENGTH, ...fields }).faults.map((one) => one.field)).toEqual([field]);
  });

  it("refuses more results than it takes instead of leaving some out", () => {
    expect(check({ ...STRENGTH, tests: "6000\n".repeat(201) }).faults).toEqual([{ field: "tests", message: "Give at most 200 lines." }]);
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

  it("tell the rise of each lift, and a cold joint where the wait is longer than it may be", () => {
    const lifts = "3 in, 0 h, 0.5 h\n19.5 in, 1.5 h, 2 h\n19.5 in, 3.01 h, 4 h";
    const { unsetHead } = check({ lifts, set: "4 h", "lift-wait": "1 h" });
    expect(unsetHead).toMatchObject({ verdict: "fails", words: expect.stringMatching(/^A cold joint between lifts 2 and 3: 1\.01 h, at most 1 h\. 42 in/) as string });
    expect(unsetHead?.notes[0]).toBe("Rise: lift 1 at 6 in/h, lift 2 at 39 in/h, lift 3 at 19.7 in/h.");
    expect(check({ lifts, set: "4 h", "lift-wait": "65 min" }).unsetHead?.verdict).toBe("meets");
    // Without the end of the lower lift only a wait that is short from its beginning is known.
    expect(check({ lifts: "24 in, 0 h\n18 in, 1.5 h", set: "4 h", "lift-wait": "1 h" }).unsetHead?.verdict).toBe("cannot tell");
    expect(check({ lifts: "24 in, 0 h\n18 in, 1.5 h", set: "4 h", "lift-wait": "2 h" }).unsetHead?.verdict).toBe("meets");
    expect(check({ lifts, set: "4 h", "lift-wait": "1" }).faults).toMatchObject([{ field: "lift-wait" }]);
    expect(check({ lifts: "24 in, 2 h, 1 h", set: "4 h" }).faults).toMatchObject([{ field: "lifts" }]);
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

describe("a wrench as found", () => {
  const found = { "wrench-reading": "72 ft·lbf", "wrench-indicated": "65 ft·lbf", "wrench-delivered": "57.85 ft·lbf" };

  it("that clicks at 65 and delivers 57.85 is 11.00 % low or 12.36 % high, and 72 stood for 64.08", () => {
    const { wrench } = check({ ...found, "wrench-min": "65 ft·lbf", "wrench-max": "72 ft·lbf" });
    expect(wrench).toMatchObject({ verdict: "fails", words: "A reading of 72 ft·lbf (97.619 N·m) stood for 64.08 ft·lbf (86.881 N·m): 0.92 ft·lbf below the limit." });
    expect(wrench?.notes[0]).toBe("Delivered is −11.00 % from indicated, as crews say it; indicated is +12.36 % from delivered, as certificates print it.");
    expect(check(found).wrench?.verdict).toBeNull();
    expect(check({ ...found, "wrench-max": "90 N·m" }).wrench?.verdict).toBe("meets");
  });

  it.each([[{ "wrench-delivered": "0 N·m" }, "wrench-delivered"], [{ "wrench-reading": "-1 N·m" }, "wrench-reading"], [{ "wrench-indicated": "65" }, "wrench-indicated"], [{ "wrench-min": "72 N·m", "wrench-max": "65 N·m" }, "wrench-max"]])("is not read with %j", (wrong, field) => {
    expect(check({ ...found, ...wrong })).toMatchObject({ wrench: null, faults: [{ field }] });
  });
});

describe("resin in a hole", () => {
  const hole = { "resin-hole": "1 in", "resin-bar": "0.75 in", "resin-depth": "7 in" };

  it("of 1 in round a 3/4 in bar, 7 in deep, is 39.42 mL or 2.405 in³, and 36 mL are too few", () => {
    expect(check(hole).resinHole).toMatchObject({ verdict: "not measured", words: "39.42 mL (2.405 in³) round the bar." });
    expect(check({ ...hole, "resin-injected": "36 mL" }).resinHole).toMatchObject({ verdict: "fails", words: expect.stringContaining("36 mL injected: 3.416 mL short") as string });
    expect(check({ ...hole, "resin-injected": "40 mL", "resin-uncertainty": "1 mL" }).resinHole?.verdict).toBe("meets, inside uncertainty");
  });

  it.each([[{ "resin-bar": "1 in" }, "resin-bar"], [{ "resin-depth": "0 in" }, "resin-depth"], [{ "resin-injected": "-1 mL" }, "resin-injected"], [{ "resin-uncertainty": "-1 mL" }, "resin-uncertainty"]])("is not worked out with %j", (wrong, field) => {
    expect(check({ ...hole, ...wrong })).toMatchObject({ resinHole: null, faults: [{ field }] });
  });
});

describe("a bar in concrete", () => {
  const bar = { "anchor-bar": "#5", "anchor-embedment": "10 in" };

  // ACI 318-19, equations 17.6.5.2.1 and 17.6.5.1.2b with the stresses of table 17.6.5.2.5: π · 0.625 · 10 · 200 and 10 · 0.625 · √(650/1100).
  it("#5, 10 in deep, holds 3927 lbf at the least stress outdoors, and an edge weakens it from 4.8 in", () => {
    const { anchor, faults } = check({ ...bar, "anchor-place": "outdoors, cracked", "anchor-spacing": "3.75 in", "anchor-edge": "3 in" });
    expect(faults).toEqual([]);
    expect(anchor).toMatchObject({ verdict: null, words: expect.stringMatching(/^3927 lbf \(17\.47 kN\) of basic bond strength at 200 psi/) as string });
    const notes = anchor?.notes.join(" ") ?? "";
    for (const words of ["a licensed engineer designs anchors", "16.0 bar diameters deep: inside", "Spacing: 6.0 bar diameters, not under", "Edge distance: 4.8 bar diameters, under the least of 6, 3.75 in (95 mm)", "nearer than 4.8 in (122 mm)", "(from memory)"]) expect(notes).toContain(words);
  });

  it("takes the stress of a product instead, and then asks for that in uncracked concrete before it tells of edges", () => {
    const { anchor } = check({ ...bar, "anchor-bond": "650 psi" });
    expect(anchor?.words).toMatch(/^12763 lbf/);
    expect(anchor?.notes.at(-1)).toBe("From where an edge weakens it cannot be told without the bond stress in uncracked concrete.");
  });

  it.each([[{}, "anchor-place"], [{ "anchor-bond": "0 psi" }, "anchor-bond"], [{ "anchor-bond": "200 psi", "anchor-bar": "" }, "anchor-bar"], [{ "anchor-bond": "200 psi", "anchor-edge": "-3 in" }, "anchor-edge"]])("is not worked out with %j", (wrong, field) => {
    const { anchor, faults } = check({ ...bar, ...wrong });
    expect(anchor).toBeNull();
    expect(faults.map((one) => one.field)).toContain(field);
  });
});

describe("a film", () => {
  const spread = { "film-mass": "1.3 kg", "film-area": "2.2743 m²", "film-density": "1.1 kg/L" };

  it("of 1.3 kg on 2.2743 m² at 1.1 kg/L is 0.520 mm", () => expect(check(spread).film?.words).toBe("0.52 mm (20.5 mil) of wet film on average."));
  it("is not told of no area", () => expect(check({ ...spread, "film-area": "0 m²" })).toMatchObject({ film: null, faults: [{ field: "film-area" }] }));
});

describe("a log", () => {
  const log = { "log-datum": "0 °C", "log-q": "5000 K", "log-reference": "20 °C" };

  // Nurse–Saul and Arrhenius functions of ASTM C1074, worked for these records.
  it.each([
    ["6, 20\n6, 10\n6, 14", "0 °C", "264 °C·h above 0 °C by Nurse–Saul, and an equivalent age of 13.486 h at 20 °C, over 18 h."],
    ["12 h, 10 °C\n6 h, -2 °C\n6 h, 8 °C", "-10 °C", "396 °C·h above −10 °C by Nurse–Saul, and an equivalent age of 10.971 h at 20 °C, over 24 h."],
  ])("of %j from a datum of %s comes to %s", (lines, datum, words) => expect(check({ ...log, log: lines, "log-datum": datum }).maturity?.words).toBe(words));

  it.each([[{ log: "6" }, "log"], [{ log: "6, 20, 1" }, "log"], [{ log: "-6, 20" }, "log"], [{ log: "6, 20", "log-q": "5000" }, "log-q"], [{ log: "6, 20", "log-datum": "" }, "log-datum"]])("is not read with %j", (wrong, field) => {
    expect(check({ ...log, ...wrong })).toMatchObject({ maturity: null, faults: [{ field }] });
  });
});
