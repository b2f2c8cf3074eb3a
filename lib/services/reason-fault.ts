import type { ReasonCode } from "#lib/domain/point/history";
import type { Fault } from "#lib/domain/refusal";

/** A refusal needs at least one code of the closed list, and words beside them. */
export function reasonFaults(codes: readonly ReasonCode[], words: string): Fault[] {
  const faults: Fault[] = [];
  if (codes.length === 0) faults.push({ field: "codes", message: "Choose at least one reason." });
  if (words.trim() === "") faults.push({ field: "words", message: "Say in words what has to be mended." });
  return faults;
}
