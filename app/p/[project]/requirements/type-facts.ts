import { z } from "zod";
import { DecimalText } from "#lib/domain/requirement/rule";
import { CORES } from "#lib/domain/requirement/set";
import type { TypeFacts } from "#lib/domain/requirement/draft-set";

const number = DecimalText.refine((text) => Number(text) > 0, "Give a number of more than nothing.");
const whole = (least: number, most: number) => z.string().regex(/^\d{1,3}$/, "Give a whole number.").transform(Number).pipe(z.number().min(least, `Give ${least} to ${most}.`).max(most, `Give ${least} to ${most}.`));

/** The form that begins a pile type. */
export const TypeFactsForm = z.object({
  type: z.string().trim().regex(/^[A-Z]$/, "Give the type one capital letter."),
  name: z.string().trim().min(1, "Give the type a name.").max(400),
  core: z.enum(CORES, "Choose the core."),
  coreWidthIn: number,
  insideDiameterIn: number,
  heightIn: number,
  layers: whole(1, 6),
  spacerRings: whole(0, 20),
  tieSets: whole(0, 40),
  clamps: whole(0, 40),
  bars: whole(0, 60),
});

export function factsOf({ type, name, core, coreWidthIn, ...jacket }: z.output<typeof TypeFactsForm>): TypeFacts {
  return { type, name, core, coreWidthIn, jacket };
}
