import { blended, card, circle, display, ellipse, material, moved, path, rect, stroke, turned } from "#seed/photo/art";
import { HEIGHT, WIDTH } from "#seed/photo/light";
import { fittingSize, letter } from "#seed/photo/lettering";
import { closeLight, handheld, type Painter, type Shot } from "#seed/photo/shot";

/** Body, lit and shaded colour of a round thing. */
type Tones = readonly [body: string, lit: string, shaded: string];

function barcode(shot: Shot, x: number, y: number, width: number, height: number): string {
  let bars = "";
  for (let at = 0; at < width; ) {
    const thick = shot.rand.pick([2, 2, 3, 5, 7]);
    bars += rect(x + at, y, thick, height, "#15171a");
    at += thick + shot.rand.pick([2, 3, 4, 6]);
  }
  return bars;
}

export const lotLabel: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 1.4, 12);
  const pail = rand.pick<Tones>([["#2d4f6b", "#5b86a8", "#1b3145"], ["#8b8f92", "#d9dcde", "#5c6064"], ["#5a5e2f", "#989c62", "#33361a"]]);
  const drum = blended("x", [[0, pail[2]], [0.34, pail[1]], [0.7, pail[0]], [1, pail[2]]], (fill) => rect(60, -300, 840, 1340, fill)) + [40, 650].map((y) => rect(60, y, 840, 22, "#000", `opacity="0.22"`) + rect(60, y - 5, 840, 5, "#fff", `opacity="0.3"`)).join("");
  const box = blended("y", [[0, "#b98f5c"], [0.3, "#c9a06c"], [1, "#8d6a40"]], (fill) => rect(-40, rand.between(20, 110), 1040, 900, fill)) + rect(rand.between(120, 760), -40, 92, 900, "#d9c79a", `opacity="0.8"`) + path("M-40 104L90 -60H880L1000 104Z", "#a57d4c");
  const band = rand.pick(["#23485c", "#7a2d20", "#3b5a2e", "#4d3b63"]);
  const lines = (shot.text ?? "").split("\n");
  const size = Math.min(...lines.map((line) => fittingSize(line, 500, 70)));
  const paper = rect(190, 150, 580, 430, "#f4f2ea", `rx="6"`) + rect(190, 150, 580, 74, band, `rx="6"`) + letter(rand.pick(["PART A", "PART B", "BATCH", "LOT"]), 220, 172, { size: 32, colour: "#f4f2ea" })
    + path("M700 160l28 28l-28 28l-28 -28z", "#f4f2ea") + path("M700 168l20 20l-20 20l-20 -20z", "#d0362b")
    + lines.map((line, i) => letter(line, 222, 262 + i * (size + 30), { size, colour: "#16181c", weight: 0.16 })).join("")
    + barcode(shot, 224, 486, 330, 66) + stroke("M586 492H740M586 516H728M586 540H736", "#8c8a82", 6);
  return { backdrop: { surface: rand.pick(["planks", "mat"]) }, light: closeLight(shot), objects: seen((rand.chance(0.5) ? drum : box) + moved(rand.between(-90, 90), rand.between(-60, 50), turned(rand.between(-5, 5), 480, 360, paper))), standOffPx: 10 };
};

export const scaleReading: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.8);
  const bucket = rand.pick<Tones>([["#d8d6ce", "#f7f5ef", "#a5a39b"], ["#33373a", "#666c70", "#1a1c1e"], ["#3f6f8a", "#78a8c2", "#27475a"]]);
  const resin = rand.pick(["#c79a52", "#b7b2a6", "#8f9da1", "#d5c9a4"]);
  const lean = rand.between(-14, 14);
  const body = blended("x", [[0, bucket[2]], [0.32, bucket[1]], [0.7, bucket[0]], [1, bucket[2]]], (fill) => path(`M308 130L${346 + lean} 408H${614 + lean}L652 130Z`, fill));
  const mouth = ellipse(480, 130, 176, 46, bucket[1]) + ellipse(480, 132, 164, 39, "#4b4943") + ellipse(480, 140, 152, 31, resin) + stroke("M372 138q60 -22 120 -18", "#fff", 6, `opacity="0.5"`);
  const handle = stroke("M306 136Q220 300 420 330", "#8f9599", 7);
  const pan = ellipse(480, 424, 330, 52, "#6f767a") + ellipse(480, 412, 330, 50, "#c5cbce") + ellipse(480, 408, 300, 42, "#aab1b5") + rect(430, 440, 100, 40, "#5b6266");
  const box = blended("y", [[0, "#e2e4e2"], [1, "#a2a6a6"]], (fill) => path("M190 470H770L812 668H148Z", fill)) + path("M148 668H812V690H148Z", "#5e6364") + display(shot.value ?? "", 300, 510, 300, 110, rand.pick(["led", "lcd", "white"])) + [0, 1].map((i) => circle(660 + i * 62, 566, 22, i === 0 ? "#b6402e" : "#596066")).join("");
  return { backdrop: { surface: rand.pick(["planks", "mat"]) }, light: closeLight(shot), objects: seen(pan + box + body + handle + mouth + (shot.text ? card(shot.text, 660, 150, 170, 72, rand.between(-8, 8)) : "")), standOffPx: 24 };
};

export const mix: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.9);
  const [cx, cy, r] = [480, 360, 262];
  const hole = (out: number): string => `M${cx - r - out} ${cy}a${r + out} ${r + out} 0 1 0 ${2 * (r + out)} 0a${r + out} ${r + out} 0 1 0 ${-2 * (r + out)} 0M${cx - r} ${cy}a${r} ${r} 0 1 1 ${2 * r} 0a${r} ${r} 0 1 1 ${-2 * r} 0`;
  const wall = blended("y", [[0, "#8b8980"], [1, "#dddbd2"]], (fill) => path(hole(50), fill, `fill-rule="evenodd"`)) + circle(cx, cy, r + 54, "none", `stroke="#f4f2ec" stroke-width="16"`);
  const spiral = (turns: number, from: number): string => Array.from({ length: 40 }, (_, i) => {
    const angle = from + (i / 39) * turns * 2 * Math.PI;
    const out = 40 + (i / 39) * (r - 70);
    return `${i === 0 ? "M" : "L"}${(cx + Math.cos(angle) * out).toFixed(1)} ${(cy + Math.sin(angle) * out).toFixed(1)}`;
  }).join("");
  const left = shot.streaks ? [["#e9e4d2", 15], ["#55422a", 13], ["#efe9d8", 9], ["#5b4a31", 7]].map(([colour, width]) => stroke(spiral(rand.between(0.9, 1.6), rand.between(0, 6.2)), String(colour), Number(width), `opacity="0.8" stroke-linejoin="round"`)).join("") : "";
  const lean = rand.between(-60, 60);
  const paddle = stroke(`M${cx + 40} ${cy + 30}L${cx + 330 + lean} ${cy - 420}`, "#8b9195", 26) + stroke(`M${cx + 34} ${cy + 26}L${cx + 322 + lean} ${cy - 424}`, "#dfe4e6", 6) + ellipse(cx + 34, cy + 38, 62, 24, "#5c6367") + ellipse(cx + 30, cy + 32, 58, 20, "#9aa1a5");
  return {
    backdrop: { surface: rand.pick(["planks", "mat"]) },
    // Flat light: patches on the resin would be taken for streaks.
    light: { ...closeLight(shot), dapple: 0.07, falloff: 0.3 },
    surfaces: [{ base: "resin", svg: seen(blended("y", [[0, material(0.92)], [1, material(1.06)]], (fill) => circle(cx, cy, r + 20, fill))) }],
    objects: seen(wall + left + paddle),
    standOffPx: 12,
  };
};

function cylinder(x: number, y: number, width: number, height: number, grey: number): string {
  const tone = (share: number): string => `rgb(${Math.round(grey * share)},${Math.round(grey * share)},${Math.round(grey * share * 0.97)})`;
  const flat = width * 0.16;
  return blended("x", [[0, tone(0.5)], [0.3, tone(1.05)], [0.7, tone(0.8)], [1, tone(0.42)]], (fill) => path(`M${x} ${y}V${y + height}A${width / 2} ${flat} 0 0 0 ${x + width} ${y + height}V${y}Z`, fill)) + ellipse(x + width / 2, y, width / 2, flat, tone(1.12)) + ellipse(x + width / 2, y, width * 0.44, flat * 0.8, tone(1.02));
}

function cube(x: number, y: number, side: number, grey: number): string {
  const tone = (share: number): string => `rgb(${Math.round(grey * share)},${Math.round(grey * share)},${Math.round(grey * share * 0.97)})`;
  const back = side * 0.32;
  return rect(x, y, side, side, tone(0.86)) + path(`M${x} ${y}l${back} ${-back}h${side}l${-back} ${back}z`, tone(1.1)) + path(`M${x + side} ${y}l${back} ${-back}v${side}l${-back} ${back}z`, tone(0.56));
}

export const specimens: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.8);
  const cubes = rand.chance(0.4);
  const count = rand.whole(3, 5);
  const pitch = 760 / count;
  const row = Array.from({ length: count }, (_, i) => {
    const grey = rand.between(140, 186);
    const x = 110 + i * pitch;
    const number = letter(String(i + 1), x + pitch * 0.36, cubes ? 380 : 330, { size: 46, colour: "#23418f", anchor: "middle" });
    return (cubes ? cube(x, 330, pitch * 0.66, grey) : cylinder(x, 190, pitch * 0.72, 330, grey)) + number;
  }).join("");
  const lines = (shot.text ?? "").split("\n");
  const size = Math.min(...lines.map((line) => fittingSize(line, 430, 44)));
  const tag = turned(rand.between(-4, 4), 480, 610, rect(220, 572, 520, 50 + lines.length * (size + 18), "#f2f0e6", `rx="6"`) + circle(244, 600, 9, "#8d8a80") + lines.map((line, i) => letter(line, 480, 596 + i * (size + 18), { size, colour: "#1c2440", anchor: "middle" })).join(""));
  return { backdrop: { surface: "planks" }, light: closeLight(shot), objects: seen(row + tag), standOffPx: 26 };
};

export const loggerScreen: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot);
  const shell = rand.pick(["#c9a227", "#39434a", "#a8452a"]);
  let trace = "M182 430";
  let level = 430;
  for (let x = 194; x <= 778; x += 12) {
    level = Math.min(470, Math.max(330, level + rand.between(-16, 15)));
    trace += `L${x} ${level.toFixed(0)}`;
  }
  const grid = [340, 380, 420, 460].map((y) => `M180 ${y}H780`).join("") + Array.from({ length: 11 }, (_, i) => `M${180 + i * 60} 320V486`).join("");
  const body = rect(104, 66, 752, 560, "#14171a", `rx="52"`) + rect(110, 70, 740, 546, shell, `rx="48"`) + rect(132, 84, 696, 30, "#fff", `rx="15" opacity="0.16"`) + rect(156, 122, 648, 390, "#101315", `rx="14"`) + rect(166, 132, 628, 370, "#eaf1ee", `rx="6"`);
  const screen = rect(166, 132, 628, 44, "#31505b") + letter([shot.mark, shot.text ?? "LOG"].filter((part) => part !== "").join(" "), 186, 142, { size: 24, colour: "#eef5f2" })
    + display(shot.value ?? "", 196, 192, 380, 96, "white") + stroke(grid, "#b6c6c2", 1.5) + stroke("M180 470H780", "#b93a2a", 3, `stroke-dasharray="12 8"`) + stroke(trace, "#1d5fa8", 5, `stroke-linejoin="round"`)
    + path("M640 200h120v70h-120z", "#cfdcd8") + stroke("M656 250l24 -30l22 16l40 -30", "#2f7d4f", 6);
  const keys = [250, 390, 530, 670].map((x) => rect(x, 538, 90, 46, "#22282c", `rx="20"`)).join("");
  const lead = stroke(`M480 620Q${rand.between(380, 600)} 720 ${rand.between(240, 740)} ${HEIGHT + 60}`, "#1a1c1e", 16);
  return { backdrop: { surface: rand.pick(["planks", "mat", "concrete-old"]) }, light: closeLight(shot), objects: seen(lead + body + screen + keys), standOffPx: 22 };
};

/** A sheet of paper with lines of figures on it. */
function sheet(x: number, y: number, width: number, height: number): string {
  return blended("y", [[0, "#f6f5ef"], [1, "#e2e0d6"]], (fill) => rect(x, y, width, height, fill)) + stroke(`M${x + width * 0.5} ${y}V${y + height}`, "#000", 2, `opacity="0.05"`);
}

function scrawl(shot: Shot, x: number, y: number): string {
  const { rand } = shot;
  return stroke(`M${x} ${y}${Array.from({ length: 7 }, () => `q${rand.between(4, 18)} ${rand.between(-34, -6)} ${rand.between(12, 26)} ${rand.between(-4, 8)}`).join("")}`, "#20358c", 4);
}

export const lossMap: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.9);
  const board = rect(176, -30, 608, 800, "#7a5a38", `rx="14"`) + rect(400, -44, 160, 54, "#a7adb0", `rx="8"`);
  let figures = "";
  let hatch = "";
  for (let row = 0; row < 6; row++) {
    for (let column = 0; column < 4; column++) {
      const thickness = rand.between(0.3, 0.44);
      const low = thickness < 0.335;
      const [x, y] = [262 + column * 112, 158 + row * 78];
      if (low) hatch += rect(x - 8, y - 16, 104, 66, "#d0362b", `opacity="0.24"`);
      figures += letter(thickness.toFixed(3), x, y + 6, { size: 24, colour: low ? "#a92217" : "#1c2440" });
    }
  }
  const grid = Array.from({ length: 7 }, (_, i) => `M246 ${136 + i * 78}H706`).join("") + Array.from({ length: 5 }, (_, i) => `M${250 + i * 112} 136V604`).join("");
  return {
    backdrop: { surface: rand.pick(["planks", "mat"]) },
    light: closeLight(shot),
    objects: seen(board + sheet(206, 20, 548, 710) + letter("LOSS MAP", 236, 50, { size: 34, colour: "#1c2440" }) + letter(shot.mark, 724, 50, { size: 34, colour: "#1c2440", anchor: "end" }) + stroke("M236 104H724", "#1c2440", 3) + hatch + stroke(grid, "#8b8f9c", 2) + figures + ["N", "E", "S", "W"].map((face, i) => letter(face, 300 + i * 112, 112, { size: 18, colour: "#5a6070", anchor: "middle" })).join("") + scrawl(shot, 560, 676) + stroke("M540 690H720", "#8b8f9c", 2) + turned(rand.between(20, 60), 800, 600, rect(790, 420, 22, 330, "#23418f", `rx="8"`) + rect(790, 420, 22, 60, "#15171a", `rx="8"`))),
    standOffPx: 12,
  };
};

export const report: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 1, 14);
  const lines = (shot.text ?? "").split("\n").filter((line) => line !== "");
  const rows = Array.from({ length: 7 }, (_, i) => {
    const y = 300 + i * 46;
    const [x1, x2, x3] = [250, 430, 590];
    return letter(`${shot.mark}-${i + 1}`, x1, y, { size: 19, colour: "#2a2d33" }) + letter(`${i < 2 ? 7 : 28} d`, x2, y, { size: 19, colour: "#2a2d33" }) + letter(String(i < 2 ? rand.whole(4300, 5200) : rand.whole(6100, 7400)), x3, y, { size: 19, colour: "#2a2d33" });
  }).join("");
  const grid = Array.from({ length: 9 }, (_, i) => `M226 ${242 + i * 46}H734`).join("");
  const stampX = rand.between(540, 640);
  const stamp = turned(rand.between(-24, 12), stampX, 640, `<g opacity="0.75">${circle(stampX, 640, 62, "none", `stroke="#8a2f6b" stroke-width="6"`)}${circle(stampX, 640, 48, "none", `stroke="#8a2f6b" stroke-width="2.5"`)}${letter("LAB", stampX, 628, { size: 26, colour: "#8a2f6b", anchor: "middle" })}</g>`);
  const body = sheet(186, -20, 588, 780) + rect(226, 20, 60, 60, "#3d5a4a") + path("M236 70l20 -40l20 40z", "#e9e7dd") + letter("TEST REPORT", 306, 26, { size: 32, colour: "#22262c" }) + stroke("M306 74H640", "#8c8f96", 5)
    + lines.slice(0, 3).map((line, i) => letter(line, 226, 112 + i * 36, { size: fittingSize(line, 500, 24), colour: "#22262c" })).join("") + stroke(grid, "#9da1a8", 2) + ["No", "AGE", "psi"].map((head, i) => letter(head, [250, 430, 590][i] ?? 250, 256, { size: 20, colour: "#5a6070", weight: 0.17 })).join("") + rows + stamp + scrawl(shot, 250, 690);
  return { backdrop: { surface: rand.pick(["mat", "planks"]) }, light: { ...closeLight(shot), dapple: 0.12, falloff: 0.3, centreX: WIDTH / 2 }, objects: seen(body), standOffPx: 8 };
};
