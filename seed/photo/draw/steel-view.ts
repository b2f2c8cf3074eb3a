import { blended, card, circle, display, material, nut, path, rect, scaleBar, stroke, tagPlate, turned } from "#seed/photo/art";
import { HEIGHT, WIDTH } from "#seed/photo/light";
import { letter } from "#seed/photo/lettering";
import { pileBody } from "#seed/photo/draw/pile";
import { closeLight, handheld, type Painter, PREPARED, type Shot, underdeck } from "#seed/photo/shot";

const GALVANISED = [[0, "#8e979b"], [0.25, "#c3cacd"], [0.6, "#a2abaf"], [1, "#6a7377"]] as const;

function plate(x: number, y: number, width: number, height: number): string {
  return blended("y", GALVANISED, (fill) => rect(x, y, width, height, fill, `rx="8"`)) + rect(x + 3, y + 3, width - 6, 5, "#eef2f3", `opacity="0.6"`) + rect(x, y + height - 9, width, 9, "#3f464a", `opacity="0.6" rx="4"`);
}

/** A stripe of paint over nut and plate, so that a turned nut shows. */
function witnessMark(shot: Shot, x: number, y: number, r: number, colour: string): string {
  const turn = shot.rand.between(0, 360);
  return turned(turn, x, y, path(`M${x + r * 0.2} ${y - r * 0.13}L${x + r * 2.1} ${y - r * 0.16}l3 ${r * 0.3}L${x + r * 0.2} ${y + r * 0.15}Z`, colour, `opacity="0.92"`));
}

function boltHoles(x: number, y: number, width: number, height: number): [number, number][] {
  return [[0.2, 0.28], [0.8, 0.28], [0.2, 0.72], [0.8, 0.72]].map(([u, v]) => [x + width * (u ?? 0), y + height * (v ?? 0)]);
}

export const clamp: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.8);
  const stance = { left: 180, width: 600, topPx: 0, waterPx: HEIGHT };
  const body = plate(110, 232, 740, 250);
  const stiffeners = [300, 470, 640].map((x) => blended("x", [[0, "#c9d0d3"], [1, "#596165"]], (fill) => rect(x, 246, 22, 222, fill))).join("");
  const nuts = boltHoles(110, 232, 740, 250).map(([x, y]) => nut(x, y, 40, rand.between(0, 60))).join("");
  const label = `${shot.mark}${shot.item === undefined ? "" : ` C${shot.item}`}`.trim();
  return {
    ...underdeck(shot, rand.between(200, 420)),
    light: closeLight(shot),
    surfaces: [{ base: PREPARED[shot.core], svg: seen(pileBody(shot, stance, -200, HEIGHT + 200)), wetRamp: { fromPx: 420, toPx: 760, above: 0, below: 0.5 } }],
    objects: seen(body + stiffeners + nuts + (label === "" ? "" : turned(rand.between(-5, 5), 480, 555, tagPlate(label, 370, 510, 230)))),
    standOffPx: 20,
  };
};

export const torqueWrench: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot);
  const turn = rand.between(-14, 14);
  const arm = blended("y", [[0, "#8d9498"], [0.3, "#f0f3f4"], [0.7, "#a3aaad"], [1, "#545b5f"]], (fill) => rect(290, 342, 520, 46, fill, `rx="10"`));
  const grip = blended("y", [[0, "#33373a"], [0.35, "#5b6165"], [1, "#17191b"]], (fill) => rect(780, 326, 330, 78, fill, `rx="22"`)) + Array.from({ length: 12 }, (_, i) => rect(806 + i * 20, 330, 6, 70, "#0e0f10", `opacity="0.6"`)).join("") + rect(768, 328, 22, 74, "#b8332a", `rx="6"`);
  const head = circle(250, 365, 112, "#4c5357") + circle(246, 358, 106, "#a4acb0") + circle(250, 362, 78, "#626a6e") + circle(246, 356, 70, "#8d9599") + circle(250, 362, 44, "#2e3336") + rect(232, 344, 36, 36, "#777f83", `rx="4"`);
  const window_ = rect(404, 262, 330, 150, "#22272b", `rx="22"`) + rect(412, 268, 314, 30, "#3d454b", `rx="12"`) + display(shot.value ?? "", 434, 300, 270, 88, rand.pick(["lcd", "led", "white"]));
  const label = `${shot.mark}${shot.item === undefined ? "" : ` · ${shot.item}`}`;
  return {
    backdrop: { surface: "steel-bright" },
    light: closeLight(shot),
    objects: seen(turned(turn, 250, 365, plate(-60, 190, 460, 340)) + nut(100, 300, 44, rand.between(0, 60)) + nut(110, 450, 44, rand.between(0, 60)) + turned(turn, 250, 365, arm + grip + head + window_) + card(label, 520, 520, 230, 80, rand.between(-8, 8))),
    standOffPx: 22,
  };
};

export const paintMarks: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot);
  const colour = rand.pick(["#f2d52e", "#f4f3ee", "#e2552d"]);
  const bolts = boltHoles(60, 110, 840, 500).map(([x, y]) => nut(x, y, 78, rand.between(0, 60)) + witnessMark(shot, x, y, 78, colour)).join("");
  return {
    backdrop: { surface: "steel-bright" },
    light: closeLight(shot),
    objects: seen(plate(20, 90, 920, 540) + bolts + letter(`${shot.mark} ${shot.item ?? ""}`.trim(), 480, 338, { size: 52, colour, anchor: "middle", weight: 0.17 })),
    standOffPx: 14,
  };
};

export const gaugeOnMetal: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot);
  const shellColour = rand.pick(["#2f4c5c", "#4a4f3a", "#5b3b30"]);
  const spot = path("M214 372m-150 0a150 140 0 1 0 300 0a150 140 0 1 0 -300 0", "#d9dddf", `opacity="0.42"`);
  const gel = circle(224, 402, 74, "#e6eef2", `opacity="0.5"`) + stroke("M176 372q20 -34 56 -36", "#fff", 8, `opacity="0.8"`);
  const cable = stroke("M226 250Q230 60 420 70T600 150", "#17191b", 17) + stroke("M226 250Q230 60 420 70T600 150", "#4b5054", 5);
  const probe = blended("x", [[0, "#1d2022"], [0.35, "#5d6468"], [1, "#121415"]], (fill) => rect(176, 246, 100, 160, fill, `rx="14"`)) + blended("x", [[0, "#7d8589"], [0.4, "#e1e6e8"], [1, "#6a7276"]], (fill) => rect(186, 386, 80, 34, fill, `rx="5"`));
  const body = rect(440, 128, 400, 520, "#15181a", `rx="40"`) + rect(446, 132, 388, 508, shellColour, `rx="36"`) + rect(456, 140, 372, 40, "#fff", `rx="20" opacity="0.12"`) + display(shot.value ?? "", 486, 208, 308, 150, "lcd")
    + [0, 1, 2, 3, 4, 5].map((i) => rect(492 + (i % 3) * 104, 410 + Math.floor(i / 3) * 96, 86, 66, i === 5 ? "#b6402e" : "#c8cccb", `rx="16"`)).join("");
  return {
    backdrop: { surface: shot.core === "H" ? "steel-bright" : PREPARED[shot.core] },
    light: closeLight(shot),
    objects: seen(spot + gel + cable + probe + body + letter(`${shot.mark} ${shot.item ?? ""}`.trim(), 110, 560, { size: 56, colour: "#1d2a8a", weight: 0.15 })),
    standOffPx: 20,
  };
};

export const surfaceCloseup: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot);
  const label = [shot.mark, shot.face ?? ""].filter((part) => part !== "").join(" ");
  const lower = rand.chance(0.5);
  const whole = shot.core === "round"
    ? blended("x", [[0, material(0.5)], [rand.between(0.3, 0.65), material(1.1)], [1, material(0.5)]], (fill) => rect(0, 0, WIDTH, HEIGHT, fill))
    : rect(0, 0, WIDTH, HEIGHT, material(1));
  // The passes of nozzle, bush hammer or plane, one lighter, one darker, from edge to edge; on timber along the grain.
  const sway = shot.core === "round" ? 40 : 420;
  const passes = Array.from({ length: 6 }, () => {
    const x = rand.between(-100, WIDTH + 100);
    return stroke(`M${x} -150q${rand.between(-sway, sway)} 500 ${rand.between(-sway, sway)} 1020`, material(rand.pick([0.7, 0.8, 1.2, 1.3])), rand.between(60, 150), `opacity="0.4"`);
  }).join("");
  return {
    backdrop: { surface: PREPARED[shot.core] },
    light: { ...closeLight(shot), dapple: 0.28 },
    surfaces: [{ base: PREPARED[shot.core], svg: whole + passes }],
    objects: seen(scaleBar(rand.between(150, 330), lower ? 510 : 120, 440, "cm") + card(label, rand.between(540, 590), lower ? 90 : 500, 220, 84, rand.between(-9, 9))),
    standOffPx: 6,
  };
};
