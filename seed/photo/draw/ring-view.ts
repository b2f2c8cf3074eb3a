import { blended, card, circle, ellipse, material, path, rect, stroke, tape, turned } from "#seed/photo/art";
import { HEIGHT, WIDTH } from "#seed/photo/light";
import { faceCard, standingBar } from "#seed/photo/draw/pile";
import type { SurfaceName } from "#seed/photo/plate";
import { closeLight, handheld, type Painter, PREPARED, type Shot, underdeck } from "#seed/photo/shot";

const CX = 480;
const CY = 390;
const RX = 372;
const RY = 158;

interface Filling {
  surface: SurfaceName;
  /** How far the filling stands under the rim: 0 level with it, 1 as deep as is seen. */
  depth: number;
  wet: number;
}

/** Looking down on the rim of a jacket: outer wall, rim, the gap to the pile and what fills it. */
function jacketMouth(filling: Filling | undefined): string {
  const wall = blended("x", [[0, material(0.35)], [0.35, material(1.1)], [0.7, material(0.8)], [1, material(0.3)]],
    (fill) => path(`M${CX - RX - 16} ${CY}A${RX + 16} ${RY + 12} 0 0 0 ${CX + RX + 16} ${CY}V${HEIGHT + 300}H${CX - RX - 16}Z`, fill));
  const rim = ellipse(CX, CY, RX + 16, RY + 12, material(1.5));
  const inside = blended("y", [[0, material(0.62)], [0.4, material(0.3)], [1, material(0.14)]], (fill) => ellipse(CX, CY, RX, RY, fill));
  if (!filling) return wall + rim + inside;
  const { depth, wet } = filling;
  const shrink = 8 + depth * 46;
  const level = blended("y", [[0, material(0.95 - depth * 0.35, 1, wet)], [1, material(1.12 - depth * 0.5, 1, wet)]],
    (fill) => ellipse(CX, CY + depth * 14, RX - shrink, RY - shrink * 0.62, fill));
  return wall + rim + inside + level;
}

/** The pile rising out of the mouth, its foot as deep as the filling. */
function pileInMouth(shot: Shot, depth: number): string {
  const half = shot.core === "H" ? 176 : 168;
  const foot = CY + 30 + depth * 26;
  const [left, right] = [CX - half, CX + half];
  if (shot.core === "round") return blended("x", [[0, material(0.4)], [0.35, material(1.12)], [1, material(0.36)]], (fill) => path(`M${left} -300H${right}V${foot}A${half} 62 0 0 1 ${left} ${foot}Z`, fill));
  const side = shot.rand.between(0.3, 0.7);
  const corner = left + 2 * half * side;
  const faces = path(`M${left} -300H${corner}V${foot + 56}L${left} ${foot}Z`, material(1.02)) + path(`M${corner} -300H${right}V${foot + 6}L${corner} ${foot + 56}Z`, material(0.56));
  if (shot.core === "square") return faces + rect(corner - 4, -300, 8, foot + 354, material(1.3));
  const flange = 44;
  return path(`M${left} -300H${left + flange}V${foot + 30}L${left} ${foot + 10}Z`, material(1.1))
    + blended("x", [[0, material(0.3)], [0.5, material(0.72)], [1, material(0.36)]], (fill) => path(`M${left + flange} -300H${right - flange}V${foot - 4}H${left + flange}Z`, fill))
    + path(`M${right - flange} -300H${right}V${foot + 10}L${right - flange} ${foot + 30}Z`, material(0.84));
}

const STRAP = "#1c1e20";
/** Straps round the outer wall. */
function straps(): string {
  return [90, 230].map((down) => stroke(`M${CX - RX - 16} ${CY + down}A${RX + 16} ${RY + 12} 0 0 0 ${CX + RX + 16} ${CY + down}`, STRAP, 17) + stroke(`M${CX - RX - 10} ${CY + down - 4}A${RX + 16} ${RY + 12} 0 0 0 ${CX + RX + 10} ${CY + down - 4}`, "#5a5f62", 3)).join("")
    + rect(CX + 60, CY + 222, 58, 40, "#6d7376", `rx="5"`);
}

function spacers(): string {
  return [[-318, 30], [-150, 104], [170, 104], [322, 26]].map(([x = 0, y = 0]) => blended("x", [[0, "#bdbbb3"], [0.5, "#ebe9e1"], [1, "#97958e"]], (fill) => rect(CX + x - 30, CY + y - 52, 60, 66, fill, `rx="8"`))).join("");
}

function bars(shot: Shot): string {
  return [-262, 270].map((x) => standingBar(CX + x, -200, CY + shot.rand.between(10, 40), 24, shot.rand.chance(0.4))).join("");
}

interface Extra {
  filling?: Filling;
  /** Drawn in front of everything. */
  front: string;
  spaced?: boolean;
}

/** Every view into a jacket's mouth: what differs is the filling and what is held in it. */
function mouthView(shot: Shot, { filling, front, spaced }: Extra): ReturnType<Painter> {
  const seen = handheld(shot, 0.9, 20);
  const depth = filling?.depth ?? 1;
  const label = shot.mark === "" ? "" : card(shot.mark, 620, 555, 180, 72, shot.rand.between(-6, 6));
  return {
    backdrop: { surface: shot.rand.pick(["planks-wet", "planks", "mat"]) },
    light: closeLight(shot),
    surfaces: [
      { base: "laminate", over: filling?.surface, svg: seen(jacketMouth(filling)) },
      { base: PREPARED[shot.core], svg: seen(pileInMouth(shot, depth)) },
    ],
    objects: seen(straps() + bars(shot) + (spaced ? spacers() : "") + front + label + faceCard(shot, 150, 556, 80)),
    standOffPx: 9,
  };
}

/** A rule standing in the gap, figures upwards; `under` hides its foot. */
function standingStick(x: number, foot: number, height: number, colour: string): string {
  const marks = Array.from({ length: Math.floor(height / 14) }, (_, i) => `M${x} ${foot - i * 14}h${i % 5 === 0 ? 34 : i % 5 === 2 ? 14 : 18}`).join("");
  return blended("x", [[0, colour], [0.6, colour], [1, "#8c7a4a"]], (fill) => rect(x, foot - height, 42, height, fill)) + stroke(marks, "#2a2014", 3);
}

export const annulusTop: Painter = (shot) => mouthView(shot, {
  spaced: true,
  front: turned(shot.rand.between(-4, 4), 700, 400, tape(640, 376, 250, 46, { from: 0, pitchPx: 52 })),
});

export const sealTest: Painter = (shot) => {
  const depth = shot.rand.between(0.35, 0.6);
  const water = ellipse(CX, CY + 10, RX - 26, RY - 18, "#4f7f92", `opacity="0.5"`);
  const lights = Array.from({ length: 6 }, () => stroke(`M${CX + shot.rand.pick([-1, 1]) * shot.rand.between(200, 290)} ${CY + shot.rand.between(-30, 60)}q24 -8 52 0`, "#eaf5f8", 5, `opacity="0.6"`)).join("");
  const stick = standingStick(206, CY + 62, 330, "#f0efe8") + ellipse(228, CY + 62, 46, 9, "none", `stroke="#d7eaf0" stroke-width="4" opacity="0.8"`);
  const value = shot.value ? card(shot.value, 96, 110, 180, 76, shot.rand.between(-6, 6)) : "";
  const watch = circle(820, 200, 82, "#1c1f22") + circle(820, 200, 66, "#e9ece8") + stroke("M820 200V152M820 200l34 20", "#1c1f22", 7) + rect(792, 96, 56, 26, "#1c1f22") + rect(792, 278, 56, 60, "#1c1f22");
  return mouthView(shot, { filling: { surface: "grout-wet", depth, wet: 1 }, front: water + lights + stick + value + watch });
};

const FRESH = { surface: "grout-wet", wet: 0.8 } as const;

export const liftTop: Painter = (shot) => mouthView(shot, {
  filling: { ...FRESH, depth: shot.rand.between(0.55, 0.8) },
  front: standingStick(716, CY + 66, 400, "#d9b45c") + ellipse(738, CY + 66, 40, 8, "#6b6f70", `opacity="0.8"`),
});

export const liftBefore: Painter = (shot) => mouthView(shot, { filling: { surface: "grout-set", depth: shot.rand.between(0.85, 1), wet: 0 }, front: stroke(`M${CX - 330} ${CY + 20}q20 30 60 52`, "#f3f1e8", 7, `opacity="0.7"`) });

export const liftAfter: Painter = (shot) => {
  const side = shot.rand.pick([-1, 1]);
  const x = CX + side * 268;
  const hose = stroke(`M${x + side * 300} -60Q${x + side * 40} 20 ${x} ${CY + 10}`, "#22272a", 78) + stroke(`M${x + side * 292} -74Q${x + side * 22} 10 ${x - 18} ${CY - 10}`, "#5d666b", 12) + ellipse(x, CY + 22, 58, 18, "#8d9293") + ellipse(x, CY + 18, 38, 11, "#54595a");
  return mouthView(shot, { filling: { surface: "grout-wet", depth: shot.rand.between(0.12, 0.3), wet: 1 }, front: hose });
};

export const groutTop: Painter = (shot) => {
  const seen = handheld(shot, 0.9, 20);
  const bevel = blended("x", [[0, material(0.6, 1, 0.1)], [0.3, material(1.16, 1, 0.1)], [0.7, material(0.92, 1, 0.1)], [1, material(0.5, 1, 0.1)]],
    (fill) => path(`M${CX - RX + 2} ${CY}A${RX - 2} ${RY - 2} 0 0 0 ${CX + RX - 2} ${CY}Q${CX + 250} ${CY - 70} ${CX + 150} ${CY - 84}H${CX - 150}Q${CX - 250} ${CY - 70} ${CX - RX + 2} ${CY}Z`, fill));
  const x = shot.rand.between(520, 640);
  const trowel = turned(shot.rand.between(-30, 10), x, 500, path(`M${x} 500L${x + 190} 452L${x + 196} 536Z`, "#c2c8ca", `stroke="#5e6467" stroke-width="3"`) + stroke(`M${x + 190} 494q40 -50 80 -40`, "#8d9395", 12) + stroke(`M${x + 262} 454l110 -8`, "#7a4a24", 34));
  return {
    backdrop: { surface: shot.rand.pick(["planks-wet", "planks", "mat"]) },
    light: closeLight(shot),
    surfaces: [{ base: "laminate", over: "grout-set", svg: seen(jacketMouth(undefined)) }, { base: PREPARED[shot.core], svg: seen(pileInMouth(shot, 0)) }, { base: "laminate", over: "grout-set", svg: seen(bevel) }],
    objects: seen(straps() + trowel + stroke(`M${CX - 300} ${CY + 40}q140 90 300 98`, "#fff", 4, `opacity="0.25"`) + (shot.mark === "" ? "" : card(shot.mark, 170, 560, 180, 72, shot.rand.between(-6, 6)))),
    standOffPx: 9,
  };
};

/** The foot of a jacket seen from the water, its sealing ring dry. */
export const bottomNoLeak: Painter = (shot) => {
  const seen = handheld(shot, 0.9, 20);
  const base = 410;
  const shell = blended("x", [[0, material(0.35)], [0.34, material(1.15)], [0.7, material(0.8)], [1, material(0.3)]], (fill) => path(`M100 -300H860V${base}A380 110 0 0 1 100 ${base}Z`, fill));
  const under = ellipse(CX, base, 380, 110, material(0.5));
  const core = blended("x", [[0, material(0.34)], [0.4, material(0.95)], [1, material(0.3)]], (fill) => path(`M316 ${base + 6}A164 40 0 0 0 644 ${base + 6}V${HEIGHT + 300}H316Z`, fill));
  // The sealing ring, open in the middle for the pile.
  const ring = `M114 ${base}a366 102 0 1 0 732 0a366 102 0 1 0 -732 0M312 ${base}a168 44 0 1 1 336 0a168 44 0 1 1 -336 0`;
  const strap = stroke(`M100 250A380 110 0 0 0 860 250`, STRAP, 20) + rect(560, 330, 64, 42, "#6d7376", `rx="5"`);
  return {
    ...underdeck(shot, shot.rand.between(200, 300)),
    light: { ...closeLight(shot), centreX: WIDTH * shot.rand.between(0.3, 0.7), centreY: base },
    surfaces: [{ base: "laminate", svg: seen(shell + under) }, { base: PREPARED[shot.core], svg: seen(core) }],
    objects: seen(strap + path(ring, "#3d4346", `fill-rule="evenodd" opacity="0.94"`) + stroke(`M150 ${base + 30}Q300 ${base + 96} 480 ${base + 96}`, "#b9c2c5", 7, `opacity="0.6"`)
      + (shot.mark === "" ? "" : card(shot.mark, 650, 540, 180, 72, shot.rand.between(-7, 7)))),
    standOffPx: 6,
  };
};
