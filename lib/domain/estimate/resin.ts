import { finiteAbove, notNegative, wholePieces, withWaste } from "#lib/domain/estimate/amount";
import { celsiusOfPotLife, potLifeMinutes } from "#lib/domain/estimate/pot-life";
import type { PotLife } from "#lib/domain/requirement/rule";

/**
 * Mixed resin for a coated face, kg: area × wet film × density, with waste.
 * @param densityKgPerL  Of the mixed resin.
 * @throws RangeError for an area, film or density that is not more than zero, or negative waste.
 */
export function resinMassKg({ areaM2, filmMm, densityKgPerL, wastePct }: { areaM2: number; filmMm: number; densityKgPerL: number; wastePct: number }): number {
  // 1 m² under 1 mm is 1 L.
  return finiteAbove(areaM2, 0, "An area") * finiteAbove(filmMm, 0, "A film") * finiteAbove(densityKgPerL, 0, "A density") * withWaste(wastePct);
}

/** Average wet film of a mass spread on an area, mm. Throws as `resinMassKg` does. */
export function averageFilmMm({ massKg, areaM2, densityKgPerL }: { massKg: number; areaM2: number; densityKgPerL: number }): number {
  return notNegative(massKg, "A mass") / (finiteAbove(areaM2, 0, "An area") * finiteAbove(densityKgPerL, 0, "A density"));
}

export interface MixRatio {
  a: number;
  b: number;
  basis: "mass" | "volume";
  /** Of the two parts, kg/L; needed where the ratio is by volume. */
  densityAKgPerL: number | null;
  densityBKgPerL: number | null;
}

/**
 * Masses of part A and part B in a mixed mass, kg.
 * @returns null for a ratio by volume without both densities: it says nothing of masses.
 * @throws RangeError for parts that are not more than zero, or a negative mass.
 */
export function splitMass(massKg: number, { a, b, basis, densityAKgPerL, densityBKgPerL }: MixRatio): { aKg: number; bKg: number } | null {
  notNegative(massKg, "A mass");
  finiteAbove(a, 0, "A part of a ratio");
  finiteAbove(b, 0, "A part of a ratio");
  if (basis === "volume" && (densityAKgPerL === null || densityBKgPerL === null)) return null;
  const partA = basis === "mass" ? a : a * finiteAbove(densityAKgPerL ?? 0, 0, "A density");
  const partB = basis === "mass" ? b : b * finiteAbove(densityBKgPerL ?? 0, 0, "A density");
  return { aKg: (massKg * partA) / (partA + partB), bKg: (massKg * partB) / (partA + partB) };
}

export interface Spreading {
  life: PotLife;
  /** What the crew spreads, kg/min. */
  rateKgPerMin: number;
  /** Share of the pot life in which it is still spread, more than 0 and at most 1. */
  usableShare: number;
  /** The data sheet's largest mixed mass, kg: a bigger one heats itself and gels sooner. */
  capKg: number;
}

/**
 * The largest batch that can be spread in time at a temperature, kg: rate × usable share × pot life, and never above the cap.
 * @returns null where the data sheet says no pot life at that temperature.
 * @throws RangeError for a rate, share or cap out of range.
 */
export function largestBatchKg(celsius: number, spreading: Spreading): number | null {
  checkSpreading(spreading);
  const minutes = potLifeMinutes(spreading.life, celsius);
  return minutes === null ? null : Math.min(spreading.capKg, spreading.rateKgPerMin * spreading.usableShare * minutes);
}

/** Batches of equal mass that a jacket takes at a temperature. Returns and throws as `largestBatchKg` does. */
export function batchPlan(massKg: number, celsius: number, spreading: Spreading): { batches: number; eachKg: number; largestKg: number } | null {
  const largestKg = largestBatchKg(celsius, spreading);
  if (largestKg === null) return null;
  const batches = Math.max(1, wholePieces(finiteAbove(massKg, 0, "A mass") / largestKg));
  return { batches, eachKg: massKg / batches, largestKg };
}

/**
 * The temperature above which one batch no longer does, °C.
 * @returns null where no temperature lets it: the mass is above the cap, or the data sheet does not say.
 */
export function oneBatchUpToC(massKg: number, spreading: Spreading): number | null {
  checkSpreading(spreading);
  if (finiteAbove(massKg, 0, "A mass") > spreading.capKg * (1 + 1e-9)) return null;
  return celsiusOfPotLife(spreading.life, massKg / (spreading.rateKgPerMin * spreading.usableShare));
}

function checkSpreading({ rateKgPerMin, usableShare, capKg }: Spreading): void {
  finiteAbove(rateKgPerMin, 0, "A spread rate");
  finiteAbove(capKg, 0, "A batch cap");
  if (!(usableShare > 0 && usableShare <= 1)) throw new RangeError("A usable share lies above 0 and at most at 1.");
}
