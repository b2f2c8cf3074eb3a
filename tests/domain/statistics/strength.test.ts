import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { earlyStrength, strengthFinding, type StrengthRequirement } from "#lib/domain/statistics/strength";

const ACI: StrengthRequirement = { unit: "psi", specified: 6_000, form: "averages of three", leastSpecimens: 2 };
const EACH: StrengthRequirement = { ...ACI, form: "no test below" };
/** Tests of two equal specimens. */
const testsOf = (...strengths: number[]) => strengths.map((strength) => ({ specimens: [strength, strength] }));

describe("strength by averages of three", () => {
  it("meets with 6420, 5910 and 6180 against 6000 psi, and fails twice over with 5360 after them", () => {
    expect(strengthFinding(testsOf(6420, 5910, 6180), ACI)).toMatchObject({ verdict: "meets", averages: [{ last: 3, mean: 6170, verdict: "meets" }], lowLimit: 5400, findings: [] });
    const four = strengthFinding(testsOf(6420, 5910, 6180, 5360), ACI);
    expect(four.averages.map(({ mean }) => mean.toFixed(1))).toEqual(["6170.0", "5816.7"]);
    expect(four.tests.map(({ verdict }) => verdict)).toEqual(["meets", "meets", "meets", "fails"]);
    expect(four.verdict).toBe("fails");
    expect(four.findings).toEqual(["test 4 at 5360 psi lies below 5400 psi", "the average of three that ends with test 4 at 5816.7 psi lies below 6000 psi"]);
  });

  // ACI 318-19, 26.12.3.1: first a worked page whose data were read, then values about a published article (Malisch and Suprenant 2015), then the limits themselves.
  it.each<[number, number[], number[], number, boolean, boolean]>([
    [4000, [3950, 4100, 4050, 3800], [4033.3, 3983.3], 3500, false, true],
    [3500, [3700, 3800, 3150, 3800], [3550, 3583.3], 3000, true, true],
    [3500, [3400, 3400, 3400], [3400], 3000, false, true],
    [3500, [3500, 3500, 3500], [3500], 3000, true, true],
    [3500, [4000, 4000, 3000], [3666.7], 3000, true, true],
    [3500, [4000, 4000, 2999], [3666.3], 3000, true, false],
    [6000, [6500, 6500, 5400], [6133.3], 5400, true, true],
    [6000, [6500, 6500, 5399], [6133], 5400, true, false],
    [3500, [3500, 3499, 3500], [3499.7], 3000, false, true],
    [5000, [5500, 5500, 4500], [5166.7], 4500, true, true],
  ])("of %d psi with tests %j has averages %j and a single limit of %d", (specified, strengths, averages, low, averagesHold, singlesHold) => {
    const finding = strengthFinding(testsOf(...strengths), { ...ACI, specified });
    expect(finding.averages.map(({ mean }) => Number(mean.toFixed(1)))).toEqual(averages);
    expect(finding.lowLimit).toBe(low);
    expect(finding.averages.every(({ verdict }) => verdict === "meets")).toBe(averagesHold);
    expect(finding.tests.every(({ verdict }) => verdict === "meets")).toBe(singlesHold);
    expect(finding.verdict).toBe(averagesHold && singlesHold ? "meets" : "fails");
  });

  it("goes by 3.5 MPa up to 35 MPa, and by a share above, where the specification is written in MPa", () => {
    const low = (specified: number) => strengthFinding([], { ...ACI, unit: "MPa", specified }).lowLimit;
    expect([low(24), low(35), low(40)]).toEqual([20.5, 31.5, 36]);
    expect(strengthFinding(testsOf(24, 24, 20.4), { ...ACI, unit: "MPa", specified: 24 }).findings[0]).toBe("test 3 at 20.4 MPa lies below 20.5 MPa");
  });

  it("cannot be told with fewer than three tests, but fails on one that is far too low", () => {
    expect(strengthFinding(testsOf(6420, 6300), ACI)).toMatchObject({ verdict: "cannot tell", averages: [], findings: ["fewer than three tests make no average of three"] });
    expect(strengthFinding([], ACI)).toMatchObject({ verdict: "cannot tell", findings: ["there is no test"] });
    expect(strengthFinding(testsOf(5399), ACI).verdict).toBe("fails");
  });

  it("reports a test of too few specimens, leaves it out of the averages and numbers the others as they were made", () => {
    const tests = [...testsOf(6420), { specimens: [9_000] }, ...testsOf(5910, 5500)];
    const finding = strengthFinding(tests, ACI);
    expect(finding.tests[1]).toEqual({ mean: null, verdict: "cannot tell" });
    expect(finding.averages).toEqual([{ last: 4, mean: expect.closeTo(5943.333, 3), verdict: "fails" }]);
    expect(finding.findings).toEqual(["the average of three that ends with test 4 at 5943.3 psi lies below 6000 psi", "test 2 has fewer than 2 specimens"]);
    expect(strengthFinding([{ specimens: [9_000] }, ...testsOf(6420, 6300, 6200)], ACI).verdict).toBe("cannot tell");
  });

  it("takes the mean of the specimens for the test, unrounded", () => {
    const finding = strengthFinding([{ specimens: [5_999.9, 6_000, 6_000] }, ...testsOf(6000, 6000)], { ...ACI, leastSpecimens: 3, form: "no test below" });
    expect(finding.tests[0]?.verdict).toBe("fails");
    expect(finding.findings[0]).toBe("test 1 at 5999.97 psi lies below 6000 psi"); // to one place both would read 6000
  });
});

describe("strength with no test below", () => {
  it("fails on 5910 alone", () => {
    expect(strengthFinding(testsOf(6420, 5910, 6180), EACH)).toMatchObject({ verdict: "fails", averages: [], lowLimit: 6000, findings: ["test 2 at 5910 psi lies below 6000 psi"] });
    expect(strengthFinding(testsOf(6000), EACH).verdict).toBe("meets");
  });
});

describe("a strength requirement", () => {
  const strengths = fc.array(fc.double({ min: 0, max: 9_000, noNaN: true }), { maxLength: 8 });

  it("that is stricter never turns what fails into what meets", () => {
    fc.assert(
      fc.property(strengths, fc.double({ min: 2_000, max: 8_000, noNaN: true }), fc.double({ min: 0, max: 3_000, noNaN: true }), fc.constantFrom(ACI, EACH), (values, specified, more, requirement) => {
        if (strengthFinding(testsOf(...values), { ...requirement, specified }).verdict !== "fails") return;
        expect(strengthFinding(testsOf(...values), { ...requirement, specified: specified + more }).verdict).toBe("fails");
      }),
    );
  });

  it("that is met with no test below is met by averages of three tests as well", () => {
    fc.assert(fc.property(fc.array(fc.double({ min: 4_000, max: 9_000, noNaN: true }), { minLength: 3, maxLength: 8 }), (values) => {
      if (strengthFinding(testsOf(...values), EACH).verdict === "meets") expect(strengthFinding(testsOf(...values), ACI).verdict).toBe("meets");
    }));
  });

  it.each<Partial<StrengthRequirement>>([{ specified: 0 }, { specified: Number.NaN }, { specified: Number.POSITIVE_INFINITY }, { leastSpecimens: 0 }, { leastSpecimens: 1.5 }, { leastSpecimens: Number.NaN }])("is refused with %j", (wrong) => {
    expect(() => strengthFinding(testsOf(6000), { ...ACI, ...wrong })).toThrow(RangeError);
    expect(() => earlyStrength({ specimens: [4_000, 4_000] }, { ...ACI, ...wrong, share: 0.7 })).toThrow(RangeError);
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY, -1])("refuses a strength of %d", (strength) => expect(() => strengthFinding(testsOf(strength), ACI)).toThrow(RangeError));
});

describe("early strength", () => {
  const early = (specimens: number[], share = 0.7) => earlyStrength({ specimens }, { ...ACI, share });

  it("warns where it stands behind the share that the requirement expects at that age", () => {
    expect(early([4_100, 4_300])).toEqual({ expected: expect.closeTo(6_000, 6), warns: false });
    expect(early([4_100, 4_290])).toEqual({ expected: expect.closeTo(5_992.857, 3), warns: true });
    expect(early([4_100])).toBeNull();
  });

  it.each([0, -0.1, 1.1, Number.NaN])("is refused with a share of %d", (share) => expect(() => early([4_000, 4_000], share)).toThrow(RangeError));
});
