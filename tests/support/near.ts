import { expect } from "vitest";

/** Equal within a relative tolerance, absolute below 1. */
export function near(actual: number, wanted: number, tolerance = 1e-6): void {
  expect(Math.abs(actual - wanted), `${actual} is not ${wanted}`).toBeLessThanOrEqual(tolerance * Math.max(1, Math.abs(wanted)));
}
