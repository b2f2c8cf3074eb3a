import { z } from "zod";
import { PHOTO_LIMITS, type PhotoLimitName, type PhotoLimits } from "#lib/domain/photo/limits";
import { OperationId } from "#lib/edge/schema/point";

const NAMES = Object.keys(PHOTO_LIMITS) as PhotoLimitName[];

function rangeWords(name: PhotoLimitName): string {
  const { title, unit, least, most } = PHOTO_LIMITS[name];
  return `${title}: a number from ${least} to ${most} ${unit}.`;
}

function each<Value extends z.ZodType>(make: (name: PhotoLimitName) => Value): Record<PhotoLimitName, Value> {
  return Object.fromEntries(NAMES.map((name) => [name, make(name)])) as Record<PhotoLimitName, Value>;
}

function limit(name: PhotoLimitName) {
  const { title, unit, least, most } = PHOTO_LIMITS[name];
  return z.number(rangeWords(name)).min(least, rangeWords(name)).max(most, rangeWords(name)).describe(`${title}, ${unit}`);
}

export const PhotoLimitsBody = z
  .strictObject({ id: OperationId, limits: z.strictObject(each((name) => limit(name).optional())), words: z.string().max(2_000) })
  .describe("Limits that change, by name, and the reason. The others stay as they are.");

/** A number as it is typed, with a point or a comma. */
const NUMBER = /^\d{1,9}(?:[.,]\d{1,6})?$/;

/** The form of the limits: a field for each, and the reason. */
export const PhotoLimitsForm = z
  .object({
    id: z.uuid(),
    words: z.string().trim().min(1, "Give the reason: it stands in the log beside the change.").max(2_000, "At most 2,000 characters."),
    ...each((name) => z.string(rangeWords(name)).trim().regex(NUMBER, rangeWords(name)).transform((text) => Number(text.replace(",", "."))).pipe(limit(name))),
  })
  .transform(({ id, words, ...limits }) => ({ id, words, limits: limits as PhotoLimits }));
