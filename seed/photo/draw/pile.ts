import { blended, circle, ellipse, material, path, rect, ribbedBar, stroke, tagPlate, turned } from "#seed/photo/art";
import { HEIGHT, WIDTH } from "#seed/photo/light";
import type { Shot } from "#seed/photo/shot";
import { printedTag } from "#seed/photo/draw/printed-tag";
import { letter } from "#seed/photo/lettering";

/** A pile standing in the picture: its visible face between `left` and `left + width`. */
export interface Stance {
  left: number;
  width: number;
  topPx: number;
  waterPx: number;
}

export function stand(shot: Shot, width: readonly [number, number] = [230, 330]): Stance {
  const { rand } = shot;
  const wide = rand.between(...width);
  return { left: rand.between(150, WIDTH - 150 - wide), width: wide, topPx: rand.between(50, 170), waterPx: rand.between(550, 670) };
}

/** Shade of a column seen from the side, darkest at the edges; `lit` is where the light falls, 0 left to 1 right. */
export function roundShade(lit: number, over = 0, wet = 0): [number, string][] {
  return [[0, material(0.36, over, wet)], [lit * 0.5, material(0.8, over, wet)], [lit, material(1.12, over, wet)], [(1 + lit) / 2, material(0.78, over, wet)], [1, material(0.3, over, wet)]];
}

/** The pile's body as a surface drawing, from `from` to `to` px. */
export function pileBody(shot: Shot, { left, width }: Stance, from: number, to: number, over = 0, wet = 0): string {
  const height = to - from;
  const sideways = shot.face === "E" || shot.face === "W";
  const mirrored = shot.face === "S" || shot.face === "W";
  if (shot.core === "round") return blended("x", roundShade(mirrored ? 0.66 : 0.34, over, wet), (fill) => rect(left, from, width, height, fill));
  if (shot.core === "square") {
    const side = width * 0.17;
    const sideLeft = mirrored ? left + width - side : left;
    const chamfer = mirrored ? sideLeft - 7 : sideLeft + side;
    return rect(left, from, width, height, material(sideways ? 0.9 : 1.02, over, wet))
      + rect(sideLeft, from, side, height, material(0.48, over, wet))
      + rect(chamfer, from, 7, height, material(1.25, over, wet))
      + rect(mirrored ? left : left + width - 6, from, 6, height, material(0.7, over, wet));
  }
  if (!sideways) {
    return rect(left, from, width, height, material(1, over, wet))
      + rect(left, from, 8, height, material(1.35, over, wet)) + rect(left + width - 9, from, 9, height, material(0.5, over, wet));
  }
  const flange = width * 0.1;
  const web = blended("x", [[0, material(0.25, over, wet)], [0.18, material(0.5, over, wet)], [0.6, material(0.82, over, wet)], [1, material(0.5, over, wet)]],
    (fill) => rect(left + flange, from, width - 2 * flange, height, fill));
  return web + rect(left, from, flange, height, material(1.15, over, wet)) + rect(left + width - flange, from, flange, height, material(0.9, over, wet));
}

/** Clumps of growth that stick out beyond the pile's edges, from `from` px down to the water. */
export function clumps(shot: Shot, { left, width, waterPx }: Stance, from: number): string {
  const { rand } = shot;
  const count = Math.max(0, Math.round((waterPx - from) / 13));
  return Array.from({ length: count }, (_, i) => {
    const y = from + i * 13 + rand.between(-8, 8);
    const r = rand.between(6, 17) * Math.min(1, 0.4 + (y - from) / 200);
    return circle(left + rand.between(-3, 5), y, r, material(0.55, 1, 0.4)) + circle(left + width + rand.between(-5, 3), y + rand.between(-6, 6), r * rand.between(0.7, 1.1), material(0.42, 1, 0.4));
  }).join("");
}

/** The pile's mirror image in the water, so faint that the ripples show through. */
export function pileReflection({ left, width, waterPx }: Stance): string {
  return rect(left + 6, waterPx, width - 12, HEIGHT - waterPx, material(0.3), `opacity="0.55"`);
}

/** Rings of light water where the pile goes in. */
export function waterRing({ left, width, waterPx }: Stance): string {
  const middle = left + width / 2;
  return stroke(`M${left - 26} ${waterPx + 5}Q${middle} ${waterPx + 26} ${left + width + 30} ${waterPx + 3}`, "#b9c8c6", 3, `opacity="0.5"`)
    + stroke(`M${left - 60} ${waterPx + 22}Q${middle} ${waterPx + 46} ${left + width + 48} ${waterPx + 20}`, "#9fb2b2", 2, `opacity="0.35"`);
}

/** The cap beam that the pile carries. */
export function capBeam(shot: Shot, topPx: number): string {
  const { rand } = shot;
  const stains = Array.from({ length: 5 }, () => {
    const x = rand.between(0, WIDTH);
    return path(`M${x} 0L${x + rand.between(14, 50)} 0L${x + rand.between(10, 30)} ${topPx}L${x + 4} ${topPx}Z`, rand.pick(["#3b342b", "#8b8272", "#2d2f2c"]), `opacity="0.28"`);
  }).join("");
  const boards = [0.33, 0.66].map((at) => rect(0, topPx * at, WIDTH, 2, "#000", `opacity="0.22"`)).join("");
  return blended("y", [[0, "#4a4943"], [0.8, "#77746b"], [1, "#5d5a52"]], (fill) => rect(0, 0, WIDTH, topPx, fill))
    + stains + boards + rect(0, topPx - 9, WIDTH, 9, "#25241f", `opacity="0.8"`);
}

/** A card in the shot that says which face it is. */
export function faceCard(shot: Shot, x: number, y: number, size = 66): string {
  if (!shot.face) return "";
  return turned(shot.rand.between(-7, 7), x, y, rect(x, y, size, size, "#f0efe9", `rx="4"`) + letter(shot.face, x + size / 2, y + size * 0.24, { size: size * 0.52, colour: "#8c1d14", weight: 0.17, anchor: "middle" }));
}

export function hangingTag(shot: Shot, { left, width }: Stance, y: number): string {
  if (shot.mark === "") return "";
  const wide = shot.code === undefined ? Math.min(width * 0.56, 170) : Math.min(width * 0.75, 190);
  const x = left + shot.rand.between(0.22, 0.78) * (width - wide);
  return turned(shot.rand.between(-4, 4), x, y, shot.code === undefined ? tagPlate(shot.mark, x, y, wide) : printedTag({ mark: shot.mark, code: shot.code }, x, y, wide));
}

/** A spacer block tied to a ring. */
function block(x: number, y: number, size: number): string {
  return blended("x", [[0, "#c9c7bf"], [0.5, "#eceae2"], [1, "#a5a39b"]], (fill) => rect(x - size / 2, y - size * 0.55, size, size * 1.1, fill, `rx="${(size * 0.12).toFixed(1)}"`))
    + rect(x - size * 0.12, y - size * 0.55, size * 0.24, size * 1.1, "#8f8d86", `opacity="0.7"`)
    + rect(x - size / 2, y + size * 0.4, size, size * 0.15, "#6f6d67", `opacity="0.6"`);
}

/** One ring of spacers round the pile, as far as it is seen from this side. */
export function spacerRing({ left, width }: Stance, y: number, seen: number, size: number): string {
  const sag = width * 0.05;
  const at = (i: number): [number, number] => {
    const share = seen === 1 ? 0.5 : i / (seen - 1);
    const across = 0.5 - Math.cos(share * Math.PI) / 2;
    return [left - 6 + across * (width + 12), y + Math.sin(share * Math.PI) * sag];
  };
  const wire = stroke(`M${left - 6} ${y}Q${left + width / 2} ${y + sag * 2} ${left + width + 6} ${y}`, "#26272a", Math.max(3, size * 0.12));
  return wire + Array.from({ length: seen }, (_, i) => block(...at(i), size * (i === 0 || i === seen - 1 ? 0.82 : 1))).join("");
}

/** A bar standing beside the pile from `from` to `to` px. */
export function standingBar(x: number, from: number, to: number, thick: number, rust: boolean): string {
  return turned(90, x, from, ribbedBar(x, from, to - from, thick, rust));
}

/** A wet stain running down from a point. */
export function drip(shot: Shot, x: number, y: number, length: number, colour: string, opacity: number): string {
  const w = shot.rand.between(6, 22);
  return path(`M${x} ${y}Q${x - w} ${y + length * 0.5} ${x - w * 0.3} ${y + length}Q${x + w} ${y + length * 0.6} ${x + w * 1.4} ${y}Z`, colour, `opacity="${opacity}"`);
}

export function foam(shot: Shot, y: number): string {
  return Array.from({ length: 7 }, () => ellipse(shot.rand.between(0, WIDTH), y + shot.rand.between(-8, 18), shot.rand.between(20, 70), 3, "#c8d3d1", `opacity="0.3"`)).join("");
}
