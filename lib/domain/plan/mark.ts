/** A mark as people say it: "03-C", "3c" and "3 C" are one pile. Zeros before a number say nothing. */
function said(mark: string): string {
  return mark
    .normalize("NFKC")
    .toUpperCase()
    .replace(/[^0-9A-Z]+/g, "")
    .replace(/(?<!\d)0+(?=\d)/g, "");
}

/**
 * The piles that a typed mark can mean: the one that reads the same, else every one that begins with it. Empty when
 * nothing fits, or nothing was typed.
 */
export function pilesSaid<P extends { mark: string }>(piles: readonly P[], typed: string): P[] {
  const wanted = said(typed);
  if (wanted === "") return [];
  const same = piles.filter(({ mark }) => said(mark) === wanted);
  return same.length > 0 ? same : piles.filter(({ mark }) => said(mark).startsWith(wanted));
}
