import { converter, differenceCiede2000, type Lab65 } from "culori";

/** A colour in CIELAB for daylight (D65): lightness 0–100, green to red and blue to yellow about −130–130. */
export interface Lab {
  readonly l: number;
  readonly a: number;
  readonly b: number;
}

const toLab = converter("lab65");
const difference = differenceCiede2000();
const as65 = ({ l, a, b }: Lab): Lab65 => ({ mode: "lab65", l, a, b });

/**
 * A colour of the screen in CIELAB.
 *
 * @param red,green,blue sRGB levels, 0–255; halves are allowed, as means have them.
 * @source IEC 61966-2-1 (sRGB) and CIE 15 (CIELAB) with white D65, through culori.
 */
export function labOf(red: number, green: number, blue: number): Lab {
  const { l, a, b } = toLab({ mode: "rgb", r: red / 255, g: green / 255, b: blue / 255 });
  return { l, a, b };
}

/**
 * How much two colours differ: 1 is about what can just be seen side by side, 5 is seen at a glance.
 *
 * @returns CIEDE2000 with kL = kC = kH = 1, 0 and more.
 * @source CIE 142-2001, through culori; the scale of what is seen is common practice, no source.
 */
export function deltaE00(one: Lab, other: Lab): number {
  return difference(as65(one), as65(other));
}

/** L* where the cube root of CIELAB begins: lightness counted from there grows with the cube root of the light. Source: CIE 15. */
const ROOT_FROM = -16;

/**
 * The same surface in more or less light: what it looks like at another lightness. Light that is multiplied multiplies
 * L* + 16, a* and b* alike, by its cube root.
 *
 * @param lightness L* of the surface in that light, 0–100.
 * @source Follows from the definition of CIELAB (CIE 15) above L* 8; below that it is an approximation.
 */
export function inLight({ l, a, b }: Lab, lightness: number): Lab {
  const times = (lightness - ROOT_FROM) / (l - ROOT_FROM);
  return { l: lightness, a: a * times, b: b * times };
}
