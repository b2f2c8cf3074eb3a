import { z } from "zod";
import { APPLIES } from "#lib/domain/plan/compose";
import { OverrideSchema } from "#lib/domain/plan/plan";
import { LineIdSchema } from "#lib/domain/requirement/set";
import { OperationId } from "#lib/edge/schema/point";

export const ApprovalBody = z.strictObject({
  id: OperationId,
  impactDigest: z.string().regex(/^[0-9a-f]{64}$/).describe("Of the impact that the engineer was shown, from the difference"),
  answers: z.array(z.strictObject({ type: z.string().nullable().describe("Pile type; null for the project sheet"), line: LineIdSchema, applies: z.enum(APPLIES) })).max(2_000),
  appliesFrom: z.string().max(40).default("").describe("On the site's clock or with an offset; empty: from now"),
  words: z.string().max(2_000),
  password: z.string().max(400),
});

export const OverrideBody = z.strictObject({ id: OperationId, override: OverrideSchema, ends: z.boolean().default(false).describe("Takes the same requirement of the pile back") });
