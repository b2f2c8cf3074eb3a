import type { ReasonCode } from "#lib/domain/point/history";
import type { Override } from "#lib/domain/plan/plan";
import type { Person } from "#seed/cast";
import type { CameraName } from "#seed/camera";
import type { LotSet } from "#seed/register";

/** How one photo differs from a sound one. */
export interface ShotFact {
  /** When it was taken, on the site's clocks. */
  taken?: string;
  camera?: CameraName;
  /** It is no photo of this pile but another one, saved again smaller, as a message carries it: "04-B-3-1-faces-1". */
  copyOf?: string;
  /** The position in the file, degrees, and the error that it states. */
  place?: { latitude: number; longitude: number; errorM: number };
}

/** What became of what was sent. */
export type Ending = "released" | "checked" | "sent" | { reject: ReasonCode[]; words: string };

/** One go at a point. Whatever is not said happens as it usually does. */
export interface StepFact {
  line: string;
  /** On the site's clocks of its day, HH:MM; without, it follows the step before it. */
  began?: string;
  ended?: string;
  /** HH:MM; without, a few minutes after the work. */
  sent?: string;
  /** Typed values that are special, by quantity or "quantity.item". */
  values?: Record<string, string>;
  /** Why a value is sent although it fails, by the same names. */
  reasons?: Record<string, string>;
  /** Class of instrument to the mark of the one taken. */
  instruments?: Record<string, string>;
  /** Photos that are special, by "subject.number" from 1. */
  shots?: Record<string, ShotFact>;
  camera?: CameraName;
  words?: string;
  ending?: Ending;
  /** Minutes after it was sent until it was decided. */
  decidedAfter?: number;
}

export interface DayFact {
  on: string;
  /** HH:MM; without, the tide says. */
  from?: string;
  steps: StepFact[];
}

/** A temperature at an instant of the site's clocks, with seconds where they matter. */
export type ReadingFact = [at: string, celsius: string];

export interface PileFact {
  mark: string;
  crew: Person;
  lots: LotSet;
  days: DayFact[];
  added?: { at: string; words: string };
  overrides?: Override[];
  /** Days on which the access check is entered although nothing of the pile was sent. */
  gates?: string[];
  /** Readings of the clocks of points 17 and 22 where they are not the usual ones. */
  readings?: Record<string, ReadingFact[]>;
  /** Decisions taken back later. */
  reopened?: { at: string; line: string; codes: ReasonCode[]; words: string }[];
  accepted?: string;
  /** What somebody has begun to write and not sent. */
  drafts?: { at: string; by: Person; line: string; values: Record<string, string>; began?: string; words?: string }[];
  /** Photos that came and stand in no submission yet. */
  loose?: { at: string; by: Person; line: string; subject: string; shot: ShotFact }[];
  /** Photos made ready for somebody who tries out the point: taken on the last day from this time on. */
  ready?: { line: string; from: string; only?: string[] }[];
}

export const step = (line: string, special: Omit<StepFact, "line"> = {}): StepFact => ({ line, ...special });

/** A day's work: points as they are usually done, by their numbers, or steps with something special. */
export function day(on: string, ...steps: (string | StepFact | { from: string })[]): DayFact {
  const start = steps.find((one): one is { from: string } => typeof one === "object" && "from" in one);
  const done = steps.filter((one): one is string | StepFact => typeof one === "string" || "line" in one);
  return {
    on,
    ...(start ? { from: start.from } : {}),
    steps: done.flatMap((one) => (typeof one === "string" ? one.split(" ").map((line) => step(line)) : [one])),
  };
}

export const from = (time: string): { from: string } => ({ from: time });
