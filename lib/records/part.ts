import { z } from "zod";

// The parts that records of every kind are made of.
export const Id = z.string().min(1).max(64);
export const Words = z.string().min(1).max(2_000);
export const OptionalWords = z.string().max(2_000);
export const Sha256 = z.string().regex(/^[0-9a-f]{64}$/);
export const Utc = z.iso.datetime({ precision: 3 });
export const Day = z.iso.date();
