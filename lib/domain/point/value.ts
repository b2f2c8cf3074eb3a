import { z } from "zod";
import { MeasuredSchema } from "#lib/domain/quantity/measured";

const Words = z.string().min(1).max(2_000);
const QuantityId = z.string().min(1).max(40);
/** 1-based number of the bar, bolt, ring or lift; null where the point has one value only. */
const Item = z.int().min(1).max(200).nullable();

/** A value as the crew gave it. Nothing derived is kept here: what follows from these is computed again each time. */
export const EntrySchema = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("measured"),
    quantity: QuantityId,
    item: Item,
    measured: MeasuredSchema,
    instrumentId: z.string().nullable(),
  }),
  z.strictObject({ kind: z.literal("count"), quantity: QuantityId, item: Item, count: z.int().min(0).max(100_000) }),
  z.strictObject({ kind: z.literal("words"), quantity: QuantityId, item: Item, words: Words }),
  z.strictObject({ kind: z.literal("stated"), quantity: QuantityId, item: Item, yes: z.boolean() }),
]);
export type Entry = z.infer<typeof EntrySchema>;

/** Why a value is missing or is sent although it fails. */
export const ReasonSchema = z.strictObject({ quantity: QuantityId, item: Item, words: Words });
export type Reason = z.infer<typeof ReasonSchema>;
