import { blended, circle, material, path, rect, stroke, tagPlate, tape, turned } from "#seed/photo/art";
import { HEIGHT, WIDTH } from "#seed/photo/light";
import { capBeam, clumps, drip, faceCard, foam, hangingTag, pileBody, pileReflection, spacerRing, stand, standingBar, type Stance, waterRing } from "#seed/photo/draw/pile";
import { printedTag } from "#seed/photo/draw/printed-tag";
import { closeLight, handheld, type Painter, PREPARED, type Shot, underdeck, WEATHERED } from "#seed/photo/shot";

/** A tape hung down the pile. */
function hungTape(shot: Shot, { left, width, topPx, waterPx }: Stance): string {
  const x = left + width * shot.rand.between(0.62, 0.86);
  return turned(90, x, topPx + 20, tape(x, topPx + 20, waterPx - topPx - 60, 30, { from: 0, pitchPx: 34 }));
}

/** Where the stance lets the water begin in the backdrop: well above the pile's foot. */
const horizonOf = (shot: Shot, { waterPx }: Stance): number => waterPx - shot.rand.between(150, 240);

function stains(shot: Shot, { left, width, topPx }: Stance, colour: string): string {
  return Array.from({ length: 4 }, () => drip(shot, left + width * shot.rand.between(0.08, 0.9), topPx, shot.rand.between(60, 240), colour, shot.rand.between(0.12, 0.3))).join("");
}

export const workArea: Painter = (shot) => {
  const { rand } = shot;
  const stance = stand(shot, [90, 150]);
  const deck = rand.between(500, 540);
  const tilt = rand.between(-14, 14);
  const rail = (x: number): string => rect(x, deck - 120, 9, 130, "#d8a52a") + rect(x + 6, deck - 120, 3, 130, "#7d5c12");
  const rails = [60, 250, 710, 890].map((x) => rail(x + rand.between(-30, 30))).join("")
    + stroke(`M0 ${deck - 112 + tilt}L${WIDTH} ${deck - 112 - tilt}`, "#e0ae33", 8) + stroke(`M0 ${deck - 60 + tilt}L${WIDTH} ${deck - 60 - tilt}`, "#c99a2a", 6);
  const toolX = rand.between(90, 640);
  const tools = rect(toolX, deck + 34, 150, 74, "#a8321f", `rx="6"`) + rect(toolX, deck + 34, 150, 20, "#c4432c", `rx="6"`) + rect(toolX + 50, deck + 16, 50, 20, "none", `stroke="#26221e" stroke-width="8" rx="6"`);
  const coneX = rand.between(120, 820);
  const cone = path(`M${coneX} ${deck - 20}L${coneX + 38} ${deck + 96}H${coneX - 38}Z`, "#e0662a") + path(`M${coneX - 14} ${deck + 24}H${coneX + 14}L${coneX + 24} ${deck + 54}H${coneX - 24}Z`, "#efece4") + rect(coneX - 52, deck + 94, 104, 14, "#b84d1c", `rx="4"`);
  const rope = stroke(`M${WIDTH} ${deck + 60}q-90 90 -190 60t-160 ${rand.between(20, 60)}`, "#c9b98c", 9);
  return {
    ...underdeck(shot, rand.between(330, 400)),
    surfaces: [{
      base: "planks",
      over: WEATHERED[shot.core],
      svg: pileBody(shot, stance, stance.topPx, deck + 20, 1)
        + blended("y", [[0, material(0.75)], [0.12, material(1.1)], [1, material(0.85)]], (fill) => path(`M-20 ${deck + tilt}L${WIDTH + 20} ${deck - tilt}V${HEIGHT + 20}H-20Z`, fill))
        + path(`M-20 ${deck + tilt - 2}L${WIDTH + 20} ${deck - tilt - 2}v16L-20 ${deck + tilt + 14}Z`, material(0.35)),
    }],
    objects: capBeam(shot, stance.topPx) + rails + tools + cone + rope,
  };
};

export const pileTag: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot);
  const nails = [250, 712].map((x) => circle(x, 362, 12, "#6a6d6e") + circle(x - 3, 358, 7, "#b9bcbc")).join("");
  const over = rand.between(0.25, 0.5);
  const plate = tagPlate(shot.mark === "" ? "NO MARK" : shot.mark, 196, 246, 570) + nails + drip(shot, 252, 374, 110, "#7c4a22", 0.4) + drip(shot, 712, 374, 90, "#7c4a22", 0.35);
  return {
    backdrop: { surface: WEATHERED[shot.core] },
    light: closeLight(shot),
    surfaces: [{
      base: WEATHERED[shot.core], over: "growth", overRamp: { fromPx: 420, toPx: 860, above: rand.between(0, 0.2), below: over + 0.35 },
      wetRamp: { fromPx: 200, toPx: 700, above: 0.1, below: 0.8 },
      svg: shot.core === "round" ? blended("x", [[0, material(0.4)], [rand.between(0.3, 0.6), material(1.1)], [1, material(0.36)]], (fill) => rect(0, 0, WIDTH, HEIGHT, fill)) : rect(0, 0, WIDTH, HEIGHT, material(1)),
    }],
    objects: seen(shot.code === undefined ? plate : printedTag({ mark: shot.mark, code: shot.code }, 196, 150, 570)),
    standOffPx: 9,
  };
};

export const pileFace: Painter = (shot) => {
  const { rand } = shot;
  const stance = stand(shot);
  const tideline = rand.between(stance.topPx + 80, stance.topPx + 220);
  return {
    ...underdeck(shot, horizonOf(shot, stance)),
    surfaces: [{
      base: WEATHERED[shot.core], over: "growth",
      overRamp: { fromPx: tideline, toPx: tideline + 190, above: 0.05, below: 0.98 },
      wetRamp: { fromPx: tideline, toPx: stance.waterPx, above: 0, below: 0.75 },
      svg: pileBody(shot, stance, stance.topPx - 10, stance.waterPx) + clumps(shot, stance, tideline + 70) + pileReflection(stance),
    }],
    objects: capBeam(shot, stance.topPx) + stains(shot, stance, "#1c1712") + waterRing(stance) + hangingTag(shot, stance, stance.topPx + rand.between(14, 50)) + faceCard(shot, stance.left + stance.width + rand.between(10, 40), stance.topPx + 40),
  };
};

export const faceClean: Painter = (shot) => {
  const { rand } = shot;
  const stance = stand(shot);
  const end = rand.between(stance.waterPx - 90, stance.waterPx - 30);
  return {
    ...underdeck(shot, horizonOf(shot, stance)),
    surfaces: [{
      base: WEATHERED[shot.core], over: "growth",
      overRamp: { fromPx: end - 10, toPx: end + 50, above: 0.16, below: 0.98 },
      wetRamp: { fromPx: stance.topPx + 100, toPx: stance.waterPx, above: 0.1, below: 0.8 },
      svg: pileBody(shot, stance, stance.topPx - 10, stance.waterPx) + clumps(shot, stance, end + 20) + pileReflection(stance),
    }],
    objects: capBeam(shot, stance.topPx) + stains(shot, stance, "#d8d2c4") + hungTape(shot, stance) + waterRing(stance) + hangingTag(shot, stance, stance.topPx + 20) + faceCard(shot, stance.left - rand.between(74, 100), stance.topPx + rand.between(60, 200)),
  };
};

export const surfaceOverview: Painter = (shot) => {
  const { rand } = shot;
  const stance = stand(shot, [270, 370]);
  const from = stance.topPx + rand.between(30, 80);
  const to = stance.waterPx - rand.between(70, 120);
  return {
    ...underdeck(shot, horizonOf(shot, stance)),
    surfaces: [{
      base: WEATHERED[shot.core], over: PREPARED[shot.core],
      wetRamp: { fromPx: to, toPx: to + 60, above: 0, below: 0.9 },
      svg: pileBody(shot, stance, stance.topPx - 10, from) + pileBody(shot, stance, from, to, 1) + pileBody(shot, stance, to, stance.waterPx) + pileReflection(stance),
    }],
    objects: capBeam(shot, stance.topPx) + hungTape(shot, stance) + waterRing(stance) + hangingTag(shot, stance, from + rand.between(30, 120)),
  };
};

export const coverUpOverview: Painter = (shot) => {
  const { rand } = shot;
  const stance = stand(shot, [250, 320]);
  const reach = stance.waterPx - 60 - stance.topPx;
  const ring = (share: number): number => stance.topPx + reach * share + rand.between(-8, 8);
  const size = stance.width * 0.17;
  const seen = shot.core === "square" ? 4 : rand.whole(3, 4);
  const rings = (shot.core === "round" ? [0.3, 0.78] : [0.2, 0.5, 0.8]).map((share) => spacerRing(stance, ring(share), seen, size)).join("");
  const bars = [0.03, 0.5, 0.97].map((share) => standingBar(stance.left + stance.width * share + 9, stance.topPx - 6, stance.waterPx - rand.between(40, 70), 18, rand.chance(0.5))).join("");
  return {
    ...underdeck(shot, horizonOf(shot, stance)),
    surfaces: [{
      base: PREPARED[shot.core],
      wetRamp: { fromPx: stance.waterPx - 90, toPx: stance.waterPx, above: 0, below: 0.9 },
      svg: pileBody(shot, stance, stance.topPx - 10, stance.waterPx) + pileReflection(stance),
    }],
    objects: capBeam(shot, stance.topPx) + bars + rings + waterRing(stance) + hangingTag(shot, stance, stance.topPx + reach * 0.32) + faceCard(shot, stance.left + stance.width + 34, stance.topPx + rand.between(30, 160)),
    standOffPx: 16,
  };
};

export const spacerRingView: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.7);
  const stance: Stance = { left: 200, width: 560, topPx: 0, waterPx: HEIGHT };
  const bars = [0.12, 0.86].map((share) => standingBar(stance.left + stance.width * share, -160, HEIGHT + 160, 34, rand.chance(0.4))).join("");
  const label = shot.item === undefined ? "" : turned(rand.between(-6, 6), 400, 480, tagPlate(`R${shot.item}`, 390, 500, 150));
  return {
    ...underdeck(shot, rand.between(260, 420)),
    surfaces: [{ base: PREPARED[shot.core], svg: seen(pileBody(shot, stance, -200, HEIGHT + 200)), wetRamp: { fromPx: 300, toPx: 760, above: 0, below: 0.7 } }],
    objects: seen(bars + spacerRing(stance, 300, rand.whole(4, 5), 118) + turned(rand.between(-3, 3), 480, 420, tape(120, 440, 700, 38, { from: rand.whole(0, 6), pitchPx: 58 })) + label),
    standOffPx: 20,
  };
};

/** The shell of a finished encasement, rounder than the pile in it. */
function shell(shot: Shot, { left, width }: Stance, from: number, to: number, over = 0, wet = 0): string {
  const lit = shot.face === "E" || shot.face === "S" ? 0.64 : 0.36;
  return blended("x", [[0, material(0.36, over, wet)], [lit * 0.5, material(0.82, over, wet)], [lit, material(1.14, over, wet)], [(1 + lit) / 2, material(0.8, over, wet)], [1, material(0.3, over, wet)]],
    (fill) => rect(left, from, width, to - from, fill));
}

function encased(shot: Shot): { pile: Stance; jacket: Stance; top: number; bottom: number } {
  const jacket = stand(shot, [300, 400]);
  const inset = jacket.width * 0.17;
  return { jacket, pile: { ...jacket, left: jacket.left + inset, width: jacket.width - 2 * inset }, top: jacket.topPx + shot.rand.between(50, 90), bottom: jacket.waterPx - shot.rand.between(20, 50) };
}

export const strippedFace: Painter = (shot) => {
  const { rand } = shot;
  const { jacket, pile, top, bottom } = encased(shot);
  const marks = Array.from({ length: 4 }, (_, i) => rect(jacket.left, top + 50 + i * ((bottom - top - 70) / 4), jacket.width, 12, "#000", `opacity="0.14"`)).join("");
  const columns = 4;
  const rows = 5;
  let grid = "";
  for (let i = 0; i < columns; i++) grid += `M${jacket.left + jacket.width * (0.18 + i * 0.21)} ${top + 16}V${bottom - 10}`;
  for (let i = 0; i < rows; i++) grid += `M${jacket.left + 16} ${top + 24 + (i * (bottom - top - 50)) / (rows - 1)}h${jacket.width - 32}`;
  const ticks = Array.from({ length: 9 }, () => stroke(`M${jacket.left + jacket.width * rand.between(0.15, 0.8)} ${rand.between(top + 40, bottom - 40)}l8 10l16 -24`, "#f2f0e6", 4, `opacity="0.85"`)).join("");
  return {
    ...underdeck(shot, horizonOf(shot, jacket)),
    surfaces: [{ base: "laminate", over: WEATHERED[shot.core], wetRamp: { fromPx: bottom - 60, toPx: bottom, above: 0, below: 0.8 }, svg: pileBody(shot, pile, jacket.topPx - 10, top + 6, 1) + pileBody(shot, pile, bottom - 4, jacket.waterPx, 1) + shell(shot, jacket, top, bottom) + pileReflection(jacket) }],
    objects: capBeam(shot, jacket.topPx) + marks + stroke(grid, "#f2f0e6", 3, `opacity="0.6"`) + ticks + waterRing(pile) + hangingTag(shot, pile, top + 60) + faceCard(shot, jacket.left + jacket.width + 16, top + rand.between(0, 160)),
    standOffPx: 3,
  };
};

export const finalFace: Painter = (shot) => {
  const { jacket, pile, top, bottom } = encased(shot);
  const rim = blended("x", [[0, "#4c5150"], [0.4, "#aab0ae"], [1, "#454a49"]], (fill) => rect(jacket.left - 3, top - 8, jacket.width + 6, 16, fill, `rx="6"`));
  return {
    ...underdeck(shot, horizonOf(shot, jacket)),
    surfaces: [{ base: "coat", over: WEATHERED[shot.core], wetRamp: { fromPx: bottom - 80, toPx: bottom, above: 0.12, below: 0.85 }, svg: pileBody(shot, pile, jacket.topPx - 10, top + 6, 1) + pileBody(shot, pile, bottom - 4, jacket.waterPx, 1) + shell(shot, jacket, top, bottom) + pileReflection(jacket) }],
    objects: capBeam(shot, jacket.topPx) + rim + waterRing(pile) + foam(shot, jacket.waterPx) + hangingTag(shot, pile, top + shot.rand.between(30, 110)) + faceCard(shot, jacket.left - 82, top + shot.rand.between(20, 180)),
    standOffPx: 4,
  };
};
