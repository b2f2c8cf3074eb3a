import type { Instant } from "#lib/domain/instant";
import { SECOND } from "#lib/domain/instant";
import type { DeviceClaims } from "#lib/domain/photo/claims";

/**
 * The phone's time of capture, corrected by its measured difference to our clock. A clock that was never compared says nothing:
 * it can be set to anything.
 *
 * @returns The instant and half the exchange that measured the difference, in seconds; null without a comparison.
 */
export function deviceCapture(device: DeviceClaims): { readonly at: Instant; readonly halfExchangeSeconds: number } | null {
  const { capturedAt, offsetToServerMs, roundTripMs } = device;
  if (capturedAt === undefined || offsetToServerMs === undefined || roundTripMs === undefined) return null;
  return { at: Math.round(Date.parse(capturedAt) + offsetToServerMs), halfExchangeSeconds: roundTripMs / 2 / SECOND };
}
