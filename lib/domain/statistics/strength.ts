/** How strength results are accepted; the requirement names one. Both were written for concrete and mortar: either on grout is the engineer's choice. */
export const STRENGTH_FORMS = ["averages of three", "no test below"] as const;
export type StrengthForm = (typeof STRENGTH_FORMS)[number];

/** Above this strength the single-test limit is a share and not a difference, psi. @source ACI 318-19, 26.12.3.1, from memory. */
const HIGH_PSI = 5_000;
const BELOW_PSI = 500;
const BELOW_SHARE = 0.9;
const GUARD = 1e-9;

export interface StrengthTest {
  /** Specimens of one sample, psi. */
  specimensPsi: readonly number[];
}

export interface StrengthFinding {
  /** Mean of the specimens of each test, psi, unrounded; null for a test with too few. */
  means: (number | null)[];
  /** Means of each three consecutive tests, psi; empty while there are fewer. */
  averages: number[];
  /** No test may lie below it, psi. */
  lowLimitPsi: number;
  verdict: "meets" | "fails" | "cannot tell";
  /** What fails or cannot be told, one line for each. */
  findings: string[];
}

/**
 * Holds strength results, in the order in which they were made, against a specified strength f′c.
 *
 * "averages of three": every average of three consecutive tests reaches f′c, and no test lies below f′c − 500 psi (f′c to 5000 psi) or below
 * 0.90 f′c (above). With fewer than three tests nothing is said of averages, so that sound tests are "cannot tell".
 * "no test below": no test lies below f′c. Averages are compared unrounded, with a relative guard of 1e-9.
 *
 * @param specifiedPsi  f′c, psi, more than zero.
 * @param leastSpecimens  A test of fewer specimens is no test.
 * @throws RangeError for strengths that are not finite or negative.
 * @source ACI 318-19, 26.12.3.1 (the limit above 5000 psi from memory); UFGS mortar form as published.
 */
export function strengthFinding(
  tests: readonly StrengthTest[],
  { specifiedPsi, form, leastSpecimens }: { specifiedPsi: number; form: StrengthForm; leastSpecimens: number },
): StrengthFinding {
  if (!(specifiedPsi > 0 && Number.isFinite(specifiedPsi))) throw new RangeError("A specified strength is more than zero.");
  const means = tests.map(({ specimensPsi }) => meanOf(specimensPsi, leastSpecimens));
  const lowLimitPsi = form === "no test below" ? specifiedPsi : specifiedPsi <= HIGH_PSI ? specifiedPsi - BELOW_PSI : specifiedPsi * BELOW_SHARE;
  const sound = means.filter((mean): mean is number => mean !== null);
  const averages = form === "no test below" ? [] : sound.slice(2).map((mean, index) => ((sound[index] ?? 0) + (sound[index + 1] ?? 0) + mean) / 3);

  const failing = [
    ...means.flatMap((mean, index) => (mean !== null && below(mean, lowLimitPsi) ? [`test ${index + 1} at ${shown(mean)} psi lies below ${shown(lowLimitPsi)} psi`] : [])),
    ...averages.flatMap((mean, index) => (below(mean, specifiedPsi) ? [`the average of three that ends with test ${index + 3} at ${shown(mean)} psi lies below ${shown(specifiedPsi)} psi`] : [])),
  ];
  const open = [
    ...means.flatMap((mean, index) => (mean === null ? [`test ${index + 1} has fewer than ${leastSpecimens} specimens`] : [])),
    ...(tests.length === 0 ? ["there is no test"] : form === "averages of three" && sound.length < 3 ? ["fewer than three tests make no average of three"] : []),
  ];
  const verdict = failing.length > 0 ? "fails" : open.length > 0 ? "cannot tell" : "meets";
  return { means, averages, lowLimitPsi, verdict, findings: [...failing, ...open] };
}

function meanOf(specimens: readonly number[], least: number): number | null {
  if (specimens.some((one) => !(one >= 0 && Number.isFinite(one)))) throw new RangeError("A strength is zero or more.");
  return specimens.length < least || specimens.length === 0 ? null : specimens.reduce((sum, one) => sum + one, 0) / specimens.length;
}

function below(value: number, limit: number): boolean {
  return value < limit * (1 - GUARD);
}

function shown(psi: number): string {
  return String(Math.round(psi * 10) / 10);
}
