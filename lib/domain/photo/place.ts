import geodesic from "geographiclib-geodesic";

import type { Position } from "#lib/domain/photo/position";
import type { PlaceVerdict } from "#lib/domain/photo/verdict";

/** Error of a position that states none, metres (68 %). Common practice, no source; a project sets its own. */
export const ASSUMED_ERROR_M = { openSky: 15, underDeck: 60 } as const;

/** Where the work is. */
export interface Site {
  /** Degrees, WGS 84. */
  readonly latitude: number;
  readonly longitude: number;
  /** Everything within this many metres is the site. */
  readonly radiusM: number;
  /** Taken for the error of a position that states none, metres (68 %). */
  readonly assumedErrorM: number;
}

export interface PlaceFinding {
  readonly verdict: PlaceVerdict;
  /** Metres from the middle of the site along the ellipsoid; null without a position. */
  readonly distanceM: number | null;
  /** The error used, metres (68 %); null without a position. */
  readonly errorM: number | null;
}

/**
 * Judges where a photo was taken. With distance d and error e: *at site* when d + 2e ≤ radius, *elsewhere* when d − 2e >
 * radius, else *place cannot tell*; a coarse
 * position is no fault. It says the site, never the pile: piles stand closer together than any phone can measure.
 *
 * @source Distance: C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013), through GeographicLib. Two errors for
 * 95 %: common practice, no source.
 */
export function placeVerdict(position: Position | null, site: Site): PlaceFinding {
  if (position === null) return { verdict: "no place", distanceM: null, errorM: null };

  const distanceM = distanceBetweenM(position, site);
  const errorM = position.errorM ?? site.assumedErrorM;
  if (distanceM + 2 * errorM <= site.radiusM) return { verdict: "at site", distanceM, errorM };
  if (distanceM - 2 * errorM > site.radiusM) return { verdict: "elsewhere", distanceM, errorM };
  return { verdict: "place cannot tell", distanceM, errorM };
}

/** Metres between two places given in degrees, along the WGS 84 ellipsoid. Good to well under a millimetre. */
export function distanceBetweenM(
  a: { readonly latitude: number; readonly longitude: number },
  b: { readonly latitude: number; readonly longitude: number },
): number {
  const line = geodesic.Geodesic.WGS84.Inverse(a.latitude, a.longitude, b.latitude, b.longitude, geodesic.Geodesic.DISTANCE);
  return line.s12 ?? Number.NaN;
}
