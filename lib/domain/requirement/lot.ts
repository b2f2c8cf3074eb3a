/** What the register says about a lot, as far as its use goes. */
export interface LotFacts {
  certificate: string;
  /** Day in the site's zone, YYYY-MM-DD; null where it does not expire. */
  expiresOn: string | null;
}

export type LotMark = "lot expired" | "lot without certificate";

/**
 * What is to be said about a lot on the day it is used; null where there is nothing. A lot is good until the day before
 * it expires.
 *
 * @param day day of use in the site's zone, YYYY-MM-DD.
 */
export function lotMark({ certificate, expiresOn }: LotFacts, day: string): LotMark | null {
  if (expiresOn !== null && expiresOn <= day) return "lot expired";
  return certificate.trim() === "" ? "lot without certificate" : null;
}
