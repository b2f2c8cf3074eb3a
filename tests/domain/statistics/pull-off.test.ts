import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FAILURE_MODES, pullOffFinding, pullOffMpa, type FailureMode } from "#lib/domain/statistics/pull-off";

const LBF = 4.4482216152605;
const PSI_MPA = LBF / 25.4 ** 2;
const BOTH = { leastMpa: 200 * PSI_MPA, inSubstrate: true };

describe("a pull-off test", () => {
  it("of 700 lbf on 2 in is 222.8 psi, and of 440 N on 20 mm 1.4006 MPa", () => {
    expect((pullOffMpa(700 * LBF, 50.8) / PSI_MPA).toFixed(3)).toBe("222.817");
    expect(pullOffMpa(440, 20).toFixed(4)).toBe("1.4006");
  });

  it.each<[number, FailureMode, boolean, "meets" | "fails" | "cannot tell"]>([
    [700, "in the substrate", true, "meets"],
    [700, "in the substrate", false, "meets"],
    [700, "at the bond", true, "fails"],
    [700, "at the bond", false, "meets"],
    [700, "in the coat", true, "fails"],
    [700, "in the coat", false, "meets"],
    [700, "in the glue", true, "cannot tell"],
    [700, "in the glue", false, "cannot tell"],
    [600, "in the substrate", true, "fails"],
    [600, "at the bond", false, "fails"],
    [600, "in the glue", true, "cannot tell"],
  ])("of %d lbf on 2 in that let go %s, with the substrate asked for: %s, is: %s", (lbf, mode, inSubstrate, verdict) => {
    const finding = pullOffFinding({ forceN: lbf * LBF, dollyMm: 50.8, mode }, { ...BOTH, inSubstrate });
    expect(finding.verdict).toBe(verdict);
    expect(finding.because === "").toBe(verdict === "meets");
  });

  it("exactly at the least stress meets", () => {
    const leastMpa = pullOffMpa(440, 20);
    expect([439.9999, 440].map((forceN) => pullOffFinding({ forceN, dollyMm: 20, mode: "in the substrate" }, { leastMpa, inSubstrate: true }).verdict)).toEqual(["fails", "meets"]);
  });

  it("that fails never meets a stricter requirement", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 5_000, noNaN: true }), fc.constantFrom(...FAILURE_MODES), fc.double({ min: 0, max: 3, noNaN: true }), fc.double({ min: 0, max: 3, noNaN: true }), fc.boolean(), (forceN, mode, leastMpa, more, inSubstrate) => {
        const verdict = (least: number, substrate: boolean) => pullOffFinding({ forceN, dollyMm: 50, mode }, { leastMpa: least, inSubstrate: substrate }).verdict;
        if (verdict(leastMpa, inSubstrate) === "fails") expect([verdict(leastMpa + more, inSubstrate), verdict(leastMpa, true)]).toEqual(["fails", "fails"]);
      }),
    );
  });

  it.each([
    () => pullOffMpa(-1, 20), () => pullOffMpa(440, 0), () => pullOffMpa(Number.NaN, 20), () => pullOffMpa(440, Number.POSITIVE_INFINITY), () => pullOffMpa(1e300, 1e-10),
    () => pullOffFinding({ forceN: 440, dollyMm: 20, mode: "in the substrate" }, { leastMpa: Number.NaN, inSubstrate: true }), () => pullOffFinding({ forceN: 440, dollyMm: 20, mode: "in the glue" }, { leastMpa: -1, inSubstrate: true }),
  ])("refuses %s", (wrong) => expect(wrong).toThrow(RangeError));
});
