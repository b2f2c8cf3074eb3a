import { z } from "zod";
import { PhotoClaimsSchema } from "#lib/domain/photo/claims";
import { OUTCOMES, REASON_CODES, SEEN_AS, type ReasonCode } from "#lib/domain/point/history";
import { FLAG_ANSWERS } from "#lib/records/kind";
import { RawSubmissionSchema } from "#lib/services/save-draft";

/** Ids are made by the caller, so that a call sent twice is one act. */
export const OperationId = z.uuid({ error: "Give a UUID made where this is sent, so that sending twice is one act." });
const Code = z.enum(Object.keys(REASON_CODES) as [ReasonCode, ...ReasonCode[]]);
const Words = z.string().max(2_000).default("");

export const SubmissionBody = RawSubmissionSchema.partial({ lots: true, setAside: true, words: true })
  .extend({ id: OperationId })
  .describe("What a point is submitted with. Times are on the site's clock, or carry an offset. Values are texts as typed, such as 18 1/2 in.");
export const WithdrawalBody = z.strictObject({ id: OperationId, sheet: z.string(), line: z.string(), words: z.string().max(2_000) });
export const CheckBody = z.strictObject({
  id: OperationId,
  sheet: z.string(),
  line: z.string(),
  outcome: z.enum(["checked", "sent back"]),
  codes: z.array(Code).default([]),
  words: Words,
});
export const DecisionBody = z.strictObject({
  id: OperationId,
  submissionId: z.string(),
  outcome: z.enum(OUTCOMES),
  seenAs: z.enum(SEEN_AS),
  observedOn: z.iso.date(),
  codes: z.array(Code).default([]),
  words: Words,
  answers: z
    .array(z.strictObject({ photo: z.string().regex(/^[0-9a-f]{64}$/).nullable(), code: z.string().max(40), answer: z.enum(FLAG_ANSWERS), words: Words }))
    .default([]),
  password: z.string().max(400),
});
export const TemperatureBody = z.strictObject({ id: OperationId, at: z.string().max(40), temperature: z.string().max(60), unit: z.string().max(12).nullable().default(null) });
export const AcceptanceBody = z.strictObject({ id: OperationId, words: Words, password: z.string().max(400) });
export const CloseoutBody = z.strictObject({ id: OperationId, kind: z.enum(["interim", "final"]) });
export const SessionBody = z.strictObject({ signIn: z.string().max(400), password: z.string().max(400) });

/** What a phone's page measures when a photo is taken, sent beside the file in the header x-device as JSON. */
export const DeviceHeader = PhotoClaimsSchema.shape.device;
