import { z } from "zod";
import { OperationId } from "#lib/edge/schema/point";
import { LIKENESS_ANSWERS } from "#lib/records/photo-kind";

export const LikenessBody = z
  .strictObject({ id: OperationId, other: z.string().min(1).max(64), answer: z.enum(LIKENESS_ANSWERS), words: z.string().max(2_000).default("") })
  .describe("What is said of the photo in the address and another one. Every answer but \"two pictures\" needs its reason.");
