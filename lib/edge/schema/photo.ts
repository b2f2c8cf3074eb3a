import type { MixArea } from "#lib/domain/photo/streak";
import { z } from "zod";
import { OperationId } from "#lib/edge/schema/point";
import { LIKENESS_ANSWERS, MixAreaSchema } from "#lib/records/photo-kind";

export const LikenessBody = z
  .strictObject({ id: OperationId, other: z.string().min(1).max(64), answer: z.enum(LIKENESS_ANSWERS), words: z.string().max(2_000).default("") })
  .describe("What is said of the photo in the address and another one. Every answer but \"two pictures\" needs its reason.");

export const StreakBody = z.strictObject({ id: OperationId, area: MixAreaSchema }).describe("A circle of the upright picture: its middle in shares of width and height, its radius in shares of the shorter side.");

const share = (least: number, most: number, words: string) =>
  z.string().trim().transform((text) => Number(text.replace(",", "."))).pipe(z.number(words).min(least, words).max(most, words));

/** The same circle as a form or an address gives it. */
export const AreaFields = z.object({
  x: share(0, 1, "Across: a number from 0 to 1."),
  y: share(0, 1, "Down: a number from 0 to 1."),
  r: share(0.02, 0.5, "Radius: a number from 0.02 to 0.5."),
});

/** Reads a circle from an address; none where none is given, and a sentence where it is none. */
export function readArea(query: Record<string, string | string[] | undefined>): { area: MixArea | null; error: string | null } {
  if (query.x === undefined && query.y === undefined && query.r === undefined) return { area: null, error: null };
  const read = AreaFields.safeParse(query);
  return read.success ? { area: read.data, error: null } : { area: null, error: read.error.issues[0]?.message ?? "This is no circle." };
}

const Digest = z.string().regex(/^[0-9a-f]{64}$/);
const CardId = z.string().min(1).max(64);
export const KnownFilesBody = z.strictObject({ sha256s: z.array(Digest).max(5_000) }).describe("Digests of files that might be sent.");
export const CardChoiceBody = z
  .strictObject({ taken: z.array(z.strictObject({ photo: CardId, sheet: CardId, line: z.string().max(8), subject: CardId })).max(2_000), left: z.array(CardId).max(5_000) })
  .describe("Where the photos of the caller's card go, and which of them go off it.");
