/** How strength results are accepted; the requirement names one. Both were written for concrete and mortar: either on grout is the engineer's choice. */
export const STRENGTH_FORMS = ["averages of three", "no test below"] as const;
export type StrengthForm = (typeof STRENGTH_FORMS)[number];

/**
 * Up to `high` a single test may lie `below` f′c by a difference, above it by a share. The two editions are rounded apart: a specification in MPa is
 * never judged by converted psi.
 * @source ACI 318-19 and ACI 318M-19, 26.12.3.1 (read; the share above `high` from memory).
 */
const SINGLE = { psi: { high: 5_000, below: 500 }, MPa: { high: 35, below: 3.5 } } as const;
const SHARE = 0.9;
const GUARD = 1e-9;

export interface StrengthTest {
  /** Strengths of the specimens of one sample. */
  specimens: readonly number[];
}

export interface StrengthRequirement {
  /** Every strength of the requirement and of its tests is in this unit. */
  unit: keyof typeof SINGLE;
  /** f′c, more than zero. */
  specified: number;
  form: StrengthForm;
  /** A test of fewer specimens is no test; a whole number from 1. */
  leastSpecimens: number;
}

type StrengthVerdict = "meets" | "fails" | "cannot tell";

export interface StrengthFinding {
  /** Each test by itself. `mean` is unrounded; null, and no verdict told, for a test with too few specimens. */
  tests: { mean: number | null; verdict: StrengthVerdict }[];
  /** Each three consecutive tests; `last` is the number of the third, from 1. Empty while there are fewer, or where averages are not asked for. */
  averages: { last: number; mean: number; verdict: StrengthVerdict }[];
  /** No test may lie below it. */
  lowLimit: number;
  verdict: StrengthVerdict;
  /** What fails or cannot be told, one line for each. */
  findings: string[];
}

/**
 * Holds strength results, in the order in which they were made, against a specified strength f′c.
 *
 * "averages of three": every average of three consecutive tests reaches f′c, and no test lies below f′c − 500 psi or 3.5 MPa (f′c to 5000 psi or
 * 35 MPa) or below 0.90 f′c (above). With fewer than three tests nothing is said of averages, so that sound tests are "cannot tell".
 * "no test below": no test lies below f′c. Everything is compared unrounded, with a relative guard of 1e-9.
 *
 * A test with too few specimens is left out of the averages, and the whole is then never better than "cannot tell".
 * @throws RangeError for strengths that are not finite or negative, or a least number of specimens that is not whole or under 1.
 * @source ACI 318-19, 26.12.3.1 (the limit above 5000 psi from memory); UFGS mortar form as published.
 */
export function strengthFinding(tests: readonly StrengthTest[], { unit, specified, form, leastSpecimens }: StrengthRequirement): StrengthFinding {
  checkRequirement({ specified, leastSpecimens });
  const lowLimit = lowLimitOf({ unit, specified, form });
  const told = (mean: number, limit: number): StrengthVerdict => (below(mean, limit) ? "fails" : "meets");
  const means = tests.map(({ specimens }) => meanOf(specimens, leastSpecimens));
  const sound = means.flatMap((mean, index) => (mean === null ? [] : [{ mean, number: index + 1 }]));
  const averages = form === "no test below" ? [] : sound.slice(2).map(({ mean, number }, index) => {
    const average = ((sound[index]?.mean ?? 0) + (sound[index + 1]?.mean ?? 0) + mean) / 3;
    return { last: number, mean: average, verdict: told(average, specified) };
  });

  const failing = [
    ...sound.filter(({ mean }) => below(mean, lowLimit)).map(({ mean, number }) => `test ${number} at ${belowWords(mean, lowLimit, unit)}`),
    ...averages.filter(({ verdict }) => verdict === "fails").map(({ last, mean }) => `the average of three that ends with test ${last} at ${belowWords(mean, specified, unit)}`),
  ];
  const open = [
    ...means.flatMap((mean, index) => (mean === null ? [`test ${index + 1} has fewer than ${leastSpecimens} specimens`] : [])),
    ...(tests.length === 0 ? ["there is no test"] : form === "averages of three" && sound.length < 3 ? ["fewer than three tests make no average of three"] : []),
  ];
  return {
    tests: means.map((mean) => ({ mean, verdict: mean === null ? "cannot tell" : told(mean, lowLimit) })),
    averages, lowLimit, findings: [...failing, ...open], verdict: failing.length > 0 ? "fails" : open.length > 0 ? "cannot tell" : "meets",
  };
}

/**
 * Warns, from early results, that the strength may not be reached: the mean of the test over the share of f′c that the specification expects at that age.
 * A warning and never a verdict.
 *
 * @param share  Of the strength at the specified age that is there by now, more than 0 and at most 1; for the requirement to say.
 * @returns what to expect at the specified age, unrounded; null for a test with too few specimens.
 * @throws RangeError as `strengthFinding` does, and for a share outside its range.
 */
export function earlyStrength({ specimens }: StrengthTest, { specified, leastSpecimens, share }: Pick<StrengthRequirement, "specified" | "leastSpecimens"> & { share: number }): { expected: number; warns: boolean } | null {
  checkRequirement({ specified, leastSpecimens });
  if (!(share > 0 && share <= 1)) throw new RangeError("A share of strength is more than nothing and at most all.");
  const mean = meanOf(specimens, leastSpecimens);
  return mean === null ? null : { expected: mean / share, warns: below(mean, specified * share) };
}

function checkRequirement({ specified, leastSpecimens }: Pick<StrengthRequirement, "specified" | "leastSpecimens">): void {
  if (!(specified > 0 && Number.isFinite(specified))) throw new RangeError("A specified strength is more than zero.");
  if (!(Number.isInteger(leastSpecimens) && leastSpecimens >= 1)) throw new RangeError("A test has one specimen or more.");
}

function lowLimitOf({ unit, specified, form }: Pick<StrengthRequirement, "unit" | "specified" | "form">): number {
  if (form === "no test below") return specified;
  const { high, below: difference } = SINGLE[unit];
  return specified <= high * (1 + GUARD) ? Math.max(0, specified - difference) : specified * SHARE;
}

function meanOf(specimens: readonly number[], least: number): number | null {
  if (specimens.some((one) => !(one >= 0 && Number.isFinite(one)))) throw new RangeError("A strength is zero or more.");
  return specimens.length < least ? null : specimens.reduce((sum, one) => sum + one / specimens.length, 0);
}

function below(value: number, limit: number): boolean {
  return value < limit * (1 - GUARD);
}

/** With as many digits as keep a value that fails from reading like its limit. */
function belowWords(value: number, limit: number, unit: keyof typeof SINGLE): string {
  let places = unit === "psi" ? 1 : 2;
  while (places < 12 && Number(value.toFixed(places)) === Number(limit.toFixed(places))) places += 1;
  return `${Number(value.toFixed(places))} ${unit} lies below ${Number(limit.toFixed(places))} ${unit}`;
}
