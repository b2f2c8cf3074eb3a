import { BENT_02 } from "#seed/facts/bent-02";
import { BENT_03 } from "#seed/facts/bent-03";
import { BENT_04 } from "#seed/facts/bent-04";
import { BENT_05 } from "#seed/facts/bent-05";
import { BENT_06 } from "#seed/facts/bent-06";
import { BENT_07 } from "#seed/facts/bent-07";
import type { PileFact } from "#seed/facts/fact";

export const PILES: PileFact[] = [...BENT_02, ...BENT_03, ...BENT_04, ...BENT_05, ...BENT_06, ...BENT_07];
