import { blended, blob, card, circle, ellipse, material, path, rect, stroke, tape, turned } from "#seed/photo/art";
import { HEIGHT, WIDTH } from "#seed/photo/light";
import { capBeam, drip, faceCard, hangingTag, pileBody, pileReflection, roundShade, spacerRing, stand, standingBar, type Stance, waterRing } from "#seed/photo/draw/pile";
import { letter } from "#seed/photo/lettering";
import { closeLight, handheld, type Painter, PREPARED, type Shot, underdeck } from "#seed/photo/shot";

const STRAP = "#1d2022";

/** A tie round the jacket with its buckle. */
function tie(left: number, width: number, y: number, thick: number, buckleAt: number): string {
  const sag = width * 0.035;
  const buckle = left + width * buckleAt;
  return stroke(`M${left - 2} ${y}Q${left + width / 2} ${y + sag * 2} ${left + width + 2} ${y}`, STRAP, thick) + stroke(`M${left} ${y - thick * 0.28}Q${left + width / 2} ${y + sag * 2 - thick * 0.28} ${left + width} ${y - thick * 0.28}`, "#62686c", thick * 0.16)
    + rect(buckle, y + sag * 0.5 - thick * 0.7, thick * 2.3, thick * 1.7, "#8b9296", `rx="3"`) + rect(buckle + thick * 0.5, y + sag * 0.5 - thick * 0.3, thick * 1.3, thick * 0.9, "#3a4044");
}

/** A jacket standing round its pile over the water. */
function standing(shot: Shot): { jacket: Stance; top: number; bottom: number; base: ReturnType<Painter>; tagged: string } {
  const { rand } = shot;
  const jacket = stand(shot, [320, 420]);
  const top = jacket.topPx + rand.between(45, 85);
  const bottom = jacket.waterPx - rand.between(15, 45);
  const inset = jacket.width * 0.18;
  const pile = { ...jacket, left: jacket.left + inset, width: jacket.width - 2 * inset };
  const lit = rand.between(0.28, 0.7);
  return {
    jacket, top, bottom,
    tagged: hangingTag(shot, pile, jacket.topPx + 4) + faceCard(shot, jacket.left + jacket.width + 14, top + rand.between(10, 160)),
    base: {
      ...underdeck(shot, jacket.waterPx - rand.between(150, 240)),
      surfaces: [{ base: "laminate", over: PREPARED[shot.core], wetRamp: { fromPx: bottom - 60, toPx: bottom, above: 0.1, below: 0.8 }, svg: pileBody(shot, pile, jacket.topPx - 10, top + 8, 1) + pileBody(shot, pile, bottom - 6, jacket.waterPx, 1) + blended("x", roundShade(lit), (fill) => rect(jacket.left, top, jacket.width, bottom - top, fill)) + pileReflection(jacket) }],
      objects: capBeam(shot, jacket.topPx) + blended("x", [[0, "#4d5141"], [0.4, "#b2b59c"], [1, "#45483a"]], (fill) => rect(jacket.left - 2, top - 4, jacket.width + 4, 10, fill)) + waterRing(pile),
      standOffPx: 5,
    },
  };
}

function screwLine(x: number, from: number, to: number, pitch: number, r: number): string {
  let line = "";
  for (let y = from; y <= to; y += pitch) line += circle(x, y, r, "#5d6366") + circle(x - r * 0.2, y - r * 0.2, r * 0.72, "#b6bcbf") + stroke(`M${x - r * 0.5} ${y}h${r}M${x} ${y - r * 0.5}v${r}`, "#3d4245", r * 0.24);
  return line;
}

function batten(x: number, from: number, to: number, width: number): string {
  return blended("x", [[0, "#6c7150"], [0.3, "#c3c6a8"], [1, "#565b40"]], (fill) => rect(x - width / 2, from, width, to - from, fill)) + rect(x + width / 2, from, width * 0.12, to - from, "#000", `opacity="0.35"`);
}

export const ties: Painter = (shot) => {
  const { jacket, top, bottom, base, tagged } = standing(shot);
  const sets = shot.rand.whole(4, 5);
  const at = shot.rand.between(0.25, 0.65);
  const straps = Array.from({ length: sets }, (_, i) => tie(jacket.left, jacket.width, top + 34 + (i * (bottom - top - 70)) / (sets - 1), 15, at + shot.rand.between(-0.05, 0.05))).join("");
  return { ...base, objects: base.objects + straps + tagged };
};

export const seamFull: Painter = (shot) => {
  const { jacket, top, bottom, base, tagged } = standing(shot);
  const x = jacket.left + jacket.width * shot.rand.between(0.38, 0.6);
  const straps = [0.12, 0.5, 0.88].map((share) => tie(jacket.left, jacket.width, top + (bottom - top) * share, 11, 0.8)).join("");
  return { ...base, objects: base.objects + straps + batten(x, top - 4, bottom, 46) + screwLine(x, top + 24, bottom - 16, 44, 7) + tagged };
};

/** Close on the jacket's wall: everything that is seen there starts from this. */
function closeOnWall(shot: Shot, lit: number, details: string, over?: { from: number; to: number }): ReturnType<Painter> {
  const wall = blended("x", [[0, material(0.62)], [lit, material(1.14)], [1, material(0.6)]], (fill) => rect(-200, -200, WIDTH + 400, HEIGHT + 400, fill));
  return {
    backdrop: { surface: "laminate" },
    light: { ...closeLight(shot), dapple: 0.3 },
    surfaces: [{ base: "laminate", over: over ? "coat" : undefined, overRamp: over ? { fromPx: over.from, toPx: over.to, above: 0, below: 1 } : undefined, svg: wall }],
    objects: details,
    standOffPx: 8,
  };
}

function markCard(shot: Shot, x: number, y: number): string {
  return shot.mark === "" ? "" : card(shot.item === undefined ? shot.mark : `${shot.mark} ${shot.item}`, x, y, 200, 76, shot.rand.between(-8, 8));
}

export const seam: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot);
  const x = rand.between(400, 560);
  const strap = (y: number): string => blended("y", [[0, "#3d4245"], [0.4, "#1f2224"], [1, "#0e0f10"]], (fill) => rect(-200, y, WIDTH + 400, 62, fill));
  return closeOnWall(shot, rand.between(0.3, 0.7), seen(batten(x, -200, HEIGHT + 200, 150) + strap(rand.between(60, 150)) + strap(rand.between(540, 620)) + screwLine(x, -90, HEIGHT + 100, 124, 24) + stroke(`M${x - 84} -200V${HEIGHT + 200}`, "#1b1c16", 5, `opacity="0.7"`) + markCard(shot, x + 150, 300)));
};

export const overlap: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.8);
  const shown = Number.parseFloat(shot.value ?? "");
  const pitchPx = 56;
  const lap = (Number.isFinite(shown) ? shown : 8) * pitchPx;
  const edge = 190;
  const lower = rect(-300, -200, edge + 300, HEIGHT + 400, "#20241a", `opacity="0.38"`);
  const line = stroke(`M${edge} -200V${HEIGHT + 200}`, "#23261c", 9) + stroke(`M${edge + 8} -200V${HEIGHT + 200}`, "#dfe2c9", 5, `opacity="0.8"`) + Array.from({ length: 26 }, (_, i) => stroke(`M${edge} ${-180 + i * 44}l${rand.between(-30, -8)} ${rand.between(-10, 10)}`, "#d9dcc4", 2, `opacity="0.7"`)).join("");
  const mark = stroke(`M${edge + lap} ${rand.between(60, 120)}V${rand.between(600, 660)}`, "#cf3522", 8, `stroke-dasharray="46 8"`);
  return closeOnWall(shot, rand.between(0.3, 0.7), seen(lower + line + mark + tape(edge, rand.between(300, 380), Math.max(lap + 140, 420), 76, { from: 0, pitchPx }) + (shot.value ? letter(shot.value, edge + 60, 490, { size: 56, colour: "#cf3522", weight: 0.16 }) : "") + markCard(shot, 560, 90)));
};

export const defect: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot);
  const [x, y] = [rand.between(340, 560), rand.between(280, 400)];
  const cracks = Array.from({ length: 3 }, () => stroke(`M${x} ${y}${Array.from({ length: 6 }, () => `l${rand.between(-26, 34)} ${rand.between(-24, 30)}`).join("")}`, "#14150f", 3.4)).join("");
  const hollow = path(blob(rand, x, y, 64, 44, 0.22, 11), "#2a2c22") + path(blob(rand, x + 4, y + 8, 50, 30, 0.22, 11), "#77786c");
  const ring = stroke(blob(rand, x, y, 190, 160, 0.05, 14), rand.pick(["#c9261a", "#f2d52e", "#f4f3ee"]), 11);
  return closeOnWall(shot, rand.between(0.3, 0.7), seen(hollow + cracks + ring + turned(rand.between(-10, 10), x, y + 210, tape(x - 190, y + 196, 420, 56, { from: 0, pitchPx: 60 })) + letter(`D${shot.item ?? 1}`, x + 210, y - 190, { size: 70, colour: "#c9261a", weight: 0.17 }) + markCard(shot, 140, 90)));
};

export const topEdge: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.8);
  const edge = 330;
  const pile: Stance = { left: 250, width: 460, topPx: 0, waterPx: 0 };
  const bevel = blended("y", [[0, material(0.8, 1)], [1, material(1.2, 1)]], (fill) => path(`M250 250H710L900 ${edge}H60Z`, fill));
  const wall = blended("x", roundShade(rand.between(0.3, 0.65)), (fill) => rect(40, edge, 880, HEIGHT, fill));
  const bead = blended("y", [[0, "#f3f5f4"], [0.5, "#b9c1c0"], [1, "#6f7877"]], (fill) => rect(36, edge - 16, 888, 38, fill, `rx="19"`));
  const seal = blended("y", [[0, "#e3e7e6"], [1, "#7d8685"]], (fill) => rect(246, 234, 468, 26, fill, `rx="13"`));
  const comb = turned(rand.between(-20, 20), 620, 540, blended("y", [[0, "#e8ebec"], [1, "#9aa1a4"]], (fill) => path(`M540 470h170v90${Array.from({ length: 8 }, () => "h-10v-16h-11v16").join("")}h-2z`, fill)) + letter(shot.value ?? "", 625, 500, { size: 24, colour: "#1b1e20", anchor: "middle" }));
  return {
    ...underdeck(shot, rand.between(180, 320)),
    light: closeLight(shot),
    surfaces: [{ base: PREPARED[shot.core], svg: seen(pileBody(shot, pile, -200, 256)) }, { base: "coat", over: "grout-set", svg: seen(wall + bevel) }],
    objects: seen(bead + seal + comb + drip(shot, rand.between(120, 400), edge + 20, 90, "#e9eeec", 0.35) + markCard(shot, 140, 520)),
    standOffPx: 10,
  };
};

export const wrapEdge: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.8);
  const mirrored = rand.chance(0.5);
  const pile: Stance = { left: 190, width: 580, topPx: 0, waterPx: HEIGHT };
  const edge = rand.between(430, 540);
  const wall = blended("x", mirrored ? [[0, material(0.42)], [0.6, material(1.12)], [1, material(0.95)]] : [[0, material(0.95)], [0.4, material(1.12)], [1, material(0.42)]], (fill) => (mirrored ? rect(60, -200, edge - 60, HEIGHT + 400, fill) : rect(edge, -200, 900 - edge, HEIGHT + 400, fill)));
  const lip = stroke(`M${edge} -200V${HEIGHT + 200}`, "#e4e7d0", 9) + stroke(`M${edge + (mirrored ? 9 : -9)} -200V${HEIGHT + 200}`, "#15160f", 12, `opacity="0.55"`);
  const bar = standingBar(mirrored ? 690 : 300, -200, HEIGHT + 200, 34, rand.chance(0.4));
  const ringLeft: Stance = mirrored ? { ...pile, left: edge, width: 330 } : { ...pile, left: 180, width: edge - 180 };
  return {
    ...underdeck(shot, rand.between(240, 420)),
    light: closeLight(shot),
    surfaces: [{ base: PREPARED[shot.core], svg: seen(pileBody(shot, pile, -200, HEIGHT + 200)) }, { base: "laminate", svg: seen(wall) }],
    objects: seen(bar + spacerRing(ringLeft, 190, 2, 92) + spacerRing(ringLeft, 520, 2, 92) + lip + markCard(shot, mirrored ? 150 : 600, 90)),
    standOffPx: 16,
  };
};

export const bottomSeal: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.7);
  const foot = 330;
  const pile: Stance = { left: 260, width: 440, topPx: 0, waterPx: 640 };
  const shell = blended("x", roundShade(rand.between(0.3, 0.68), 1), (fill) => rect(90, -200, 780, foot + 200, fill));
  const roll = (y: number, height: number, grow: number, tone: readonly [string, string, string]): string => blended("y", [[0, tone[0]], [0.35, tone[1]], [1, tone[2]]], (fill) => rect(90 - grow, y, 780 + 2 * grow, height, fill, `rx="${height / 2}"`));
  const rubber = ["#3b4145", "#7d868b", "#16191b"] as const;
  return {
    ...underdeck(shot, rand.between(330, 430)),
    surfaces: [{ base: PREPARED[shot.core], over: "laminate", wetRamp: { fromPx: 470, toPx: 640, above: 0, below: 0.9 }, svg: seen(pileBody(shot, pile, foot, 640) + shell + rect(266, 640, 428, 300, material(0.3), `opacity="0.5"`)) }],
    objects: seen(tie(90, 780, 210, 24, rand.between(0.3, 0.7)) + roll(foot - 20, 74, 14, rubber) + roll(foot + 48, 54, -60, ["#8d8a7c", "#d0ccba", "#6a675b"]) + stroke(`M110 ${foot + 6}H850`, "#c9d1d4", 5, `opacity="0.5"`) + stroke("M220 646Q480 680 740 644", "#cfdbd9", 4, `opacity="0.6"`) + markCard(shot, 600, 80) + faceCard(shot, 170, 80, 80)),
    standOffPx: 10,
  };
};

export const jacketCut: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.8);
  const roll = blended("y", [[0, "#8f8f80"], [0.35, "#f0f0e2"], [1, "#77776a"]], (fill) => rect(680, -40, 220, 800, fill, `rx="14"`)) + ellipse(790, -40, 110, 34, "#b9b9a8") + stroke("M700 -60V760M880 -60V760", "#000", 3, `opacity="0.18"`);
  const cloth = path("M-60 120L720 96V574L-60 596Z", material(1));
  const shears = turned(rand.between(-30, 30), 300, 250, stroke("M250 210L420 300M250 290L420 196", "#b8bec1", 15) + circle(234, 196, 30, "none", `stroke="#b5331f" stroke-width="15"`) + circle(234, 304, 30, "none", `stroke="#b5331f" stroke-width="15"`));
  return {
    backdrop: { surface: "planks-wet" },
    light: closeLight(shot),
    surfaces: [{ base: "fabric", svg: seen(cloth) }],
    objects: seen(roll + stroke("M-60 120L720 96M-60 596L720 574", "#8d8d7d", 4) + tape(-120, rand.between(592, 612), 1100, 60, { from: rand.whole(20, 60), pitchPx: 96 }) + shears + (shot.text || shot.mark ? card(shot.text ?? shot.mark, 380, 400, 220, 84, rand.between(-7, 7)) : "")),
    standOffPx: 14,
  };
};

export const coatedStrip: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.8);
  const reach = rand.between(440, 640);
  const dry = path("M-200 150H1160V560H-200Z", material(1));
  const wetEdge = Array.from({ length: 9 }, (_, i) => `L${(reach + rand.between(-26, 26)).toFixed(0)} ${150 + ((i + 1) * 410) / 9}`).join("");
  const coated = path(`M-200 150H${reach}${wetEdge}H-200Z`, material(0.95, 1, 0.55));
  const shine = Array.from({ length: 5 }, () => { const y = rand.between(190, 520); const x = rand.between(-40, reach - 240); return stroke(`M${x} ${y}q80 ${rand.between(-22, 22)} ${rand.between(120, 220)} 0`, "#f6fbf4", rand.between(5, 11), `opacity="0.4"`); }).join("");
  const roller = turned(rand.between(-16, 16), reach, 350, blended("y", [[0, "#d9d3b8"], [0.4, "#f4f0dd"], [1, "#8f8a70"]], (fill) => rect(reach - 30, 250, 86, 210, fill, `rx="30"`)) + stroke(`M${reach + 12} 470q4 60 70 70t90 130`, "#aab0b3", 13) + stroke(`M${reach + 166} 650l20 90`, "#9c2f22", 40));
  return {
    backdrop: { surface: "planks-wet" },
    light: closeLight(shot),
    surfaces: [{ base: "fabric", over: "laminate", svg: seen(dry + coated) }],
    objects: seen(shine + roller + tape(-120, 572, 1200, 56, { from: rand.whole(0, 30), pitchPx: 84 }) + markCard(shot, 600, 64)),
    standOffPx: 10,
  };
};
