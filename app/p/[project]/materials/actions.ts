"use server";

import { z } from "zod";
import { UNIT_SYMBOLS } from "#lib/domain/quantity/unit";
import { DecimalText } from "#lib/domain/requirement/rule";
import { recordCalibration, receiveLot, registerInstrument } from "#lib/services/keep-register";
import type { FormState } from "#lib/edge/form-state";
import { formAsking } from "#lib/edge/page";
import { answerForm, readForm, showAgain } from "../form-input";

const Id = z.uuid();
const line = (message: string, most = 400) => z.string(message).trim().min(1, message).max(most, `At most ${most} characters.`);
const optional = z.string().trim().max(400, "At most 400 characters.");
const day = (message: string) => z.iso.date(message);
const number = z.literal("").transform(() => null).or(DecimalText);

const InstrumentForm = z.object({
  id: Id,
  mark: line("Give the mark that stands on the instrument.", 20),
  class: line("Give its class, as the plan names it."),
  name: line("Give its make and model, or what it is."),
  unit: z.literal("").transform(() => null).or(z.enum(UNIT_SYMBOLS, "This unit is not known here.")),
  rangeMin: number,
  rangeMax: number,
  accuracyKind: z.enum(["per cent", "absolute"]).optional(),
  accuracyValue: number,
}).superRefine(({ accuracyKind, accuracyValue }, context) => {
  if (accuracyValue !== null && !accuracyKind) context.addIssue({ code: "custom", path: ["accuracyKind"], message: "Say whether the accuracy is per cent or in the unit." });
});

const CalibrationForm = z.object({
  id: Id,
  instrumentId: line("Choose the instrument."),
  calibratedAt: z.string(),
  dueOn: day("Give the day on which it is due again."),
  certificate: z.string().trim().max(400),
  words: optional,
});

const LotForm = z.object({
  id: Id,
  number: line("Give the number on the label.", 40),
  lotKind: line("Give its kind, as the plan names it."),
  certificate: optional,
  expiresOn: z.literal("").transform(() => null).or(day("Give the day of expiry, or leave it empty where none is stated.")),
  receivedOn: day("Give the day on which it was received."),
  quantity: optional,
});

export async function addInstrument(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "keep instruments");
    const { accuracyKind, accuracyValue, ...input } = readForm(InstrumentForm, form);
    await registerInstrument(asking, { ...input, accuracy: accuracyKind && accuracyValue !== null ? { kind: accuracyKind, value: accuracyValue } : null });
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/materials`);
}

export async function addCalibration(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "keep instruments");
    await recordCalibration(asking, readForm(CalibrationForm, form));
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/materials`);
}

export async function addLot(project: string, _before: FormState, form: FormData): Promise<FormState> {
  const refusal = await answerForm(form, async () => {
    const asking = await formAsking(project, "keep lots");
    await receiveLot(asking, readForm(LotForm, form));
  });
  if (refusal) return refusal;
  showAgain(`/p/${project}/materials`);
}
