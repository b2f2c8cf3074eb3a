import type { Picture } from "#seed/photo/develop";
import { HEIGHT, type Light, WIDTH } from "#seed/photo/light";
import type { SurfaceName } from "#seed/photo/plate";
import type { Rand } from "#seed/photo/random";
import { DAY_VIEWS, NIGHT_VIEWS } from "#seed/photo/underdeck";

export type Core = "H" | "square" | "round";
export type Face = "N" | "E" | "S" | "W";

/** One press of the shutter: what is in front of the camera and how it happens to be held. */
export interface Shot {
  rand: Rand;
  core: Core;
  variant: number;
  mark: string;
  /** What the code on the pile's printed tag says; without it the pile carries a painted plate. */
  code: string | undefined;
  face: Face | undefined;
  item: number | undefined;
  text: string | undefined;
  value: string | undefined;
  night: boolean;
  streaks: boolean;
}

export type Painter = (shot: Shot) => Picture;

/** The pile's surface as found and as prepared. */
export const WEATHERED: Record<Core, SurfaceName> = { H: "steel-rust", square: "concrete-old", round: "timber-old" };
export const PREPARED: Record<Core, SurfaceName> = { H: "steel-bright", square: "concrete-prepared", round: "timber-bright" };

function light(shot: Shot, day: Omit<Light, "centreX" | "centreY">): Light {
  const { rand } = shot;
  const centre = { centreX: WIDTH * rand.between(0.2, 0.8), centreY: HEIGHT * rand.between(0.15, 0.75) };
  if (!shot.night) return { ...day, ...centre };
  return {
    exposure: rand.between(1.05, 1.25), warmth: rand.between(-0.02, 0.1), falloff: rand.between(3.2, 5), dapple: 0.16,
    centreX: WIDTH * rand.between(0.35, 0.65), centreY: HEIGHT * rand.between(0.35, 0.6),
  };
}

/** Light on something held close or lying on a bench. */
export function closeLight(shot: Shot): Light {
  const { rand } = shot;
  return light(shot, { exposure: rand.between(0.98, 1.14), warmth: rand.between(-0.07, 0.08), falloff: rand.between(0.08, 0.4), dapple: 0.24 });
}

/** Backdrop and light of a view along the piles. The water meets the far light at `horizonPx`. */
export function underdeck(shot: Shot, horizonPx: number): Pick<Picture, "backdrop" | "light"> {
  const { rand } = shot;
  return {
    backdrop: { underdeckView: rand.pick(shot.night ? NIGHT_VIEWS : DAY_VIEWS), horizonPx },
    light: light(shot, { exposure: rand.between(1.04, 1.22), warmth: rand.between(-0.07, 0.07), falloff: rand.between(0.08, 0.4), dapple: 0.24 }),
  };
}

/**
 * Wraps drawings in one way of holding the camera: turned by up to `roll` degrees, nearer or farther, off centre.
 * Less `reach` keeps more of the drawing in the picture.
 */
export function handheld(shot: Shot, reach = 1, roll = 8): (drawing: string) => string {
  const { rand } = shot;
  const turn = rand.between(-roll, roll) * reach;
  const zoom = 1 + rand.between(-0.17, 0.08) * reach;
  const x = WIDTH / 2 + rand.between(-72, 72) * reach;
  const y = HEIGHT / 2 + rand.between(-52, 52) * reach;
  const transform = `translate(${x.toFixed(1)} ${y.toFixed(1)}) rotate(${turn.toFixed(2)}) scale(${zoom.toFixed(3)}) translate(${-WIDTH / 2} ${-HEIGHT / 2})`;
  return (drawing) => `<g transform="${transform}">${drawing}</g>`;
}
