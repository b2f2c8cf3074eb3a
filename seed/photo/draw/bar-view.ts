import { blended, blob, card, circle, display, ellipse, path, rect, ribbedBar, stroke, tape, turned } from "#seed/photo/art";
import { letter } from "#seed/photo/lettering";
import { closeLight, handheld, type Painter, type Shot } from "#seed/photo/shot";

/** Lettering with a paint stick beside what it numbers: the mark and the number of the bar or hole. */
function caption({ mark, item }: Shot): string {
  return [mark, item === undefined ? "" : String(item)].filter((part) => part !== "").join(" · ");
}

/** A drilled hole with its broken edge. */
function drilledHole(shot: Shot, x: number, y: number, r: number): string {
  const { rand } = shot;
  const lip = path(blob(rand, x, y, r * 1.16, r * 1.14, 0.1, 14), "#d6d1c4", `opacity="0.8"`) + path(blob(rand, x + 2, y + 3, r * 1.08, r * 1.07, 0.06, 14), "#6f6a60");
  return lip + blended("y", [[0, "#0d0c0b"], [0.55, "#211f1c"], [1, "#4a463f"]], (fill) => circle(x, y, r, fill))
    + circle(x, y - r * 0.1, r * 0.68, "#0a0908", `opacity="0.75"`)
    + stroke(`M${x - r * 0.62} ${y + r * 0.7}Q${x} ${y + r * 1.02} ${x + r * 0.64} ${y + r * 0.68}`, "#a39d90", 4, `opacity="0.55"`);
}

export const holeDepth: Painter = (shot) => {
  const seen = handheld(shot);
  const ticks = Array.from({ length: 31 }, (_, i) => `M448 ${150 + i * 9}h${i % 5 === 0 ? 34 : 18}`).join("");
  const beam = blended("x", [[0, "#7d8285"], [0.3, "#e3e6e7"], [1, "#8b9093"]], (fill) => rect(442, 30, 76, 480, fill)) + stroke(ticks, "#1e2224", 2.4);
  const foot = blended("y", [[0, "#d5d9da"], [0.5, "#9ba0a2"], [1, "#5f6466"]], (fill) => rect(250, 470, 460, 58, fill, `rx="6"`));
  const head = rect(330, 190, 300, 190, "#23282c", `rx="20"`) + rect(338, 196, 284, 60, "#3a4147", `rx="16"`) + display(shot.value ?? "", 362, 218, 236, 92, "lcd")
    + [380, 446, 512].map((x) => rect(x, 330, 50, 26, x === 380 ? "#b8442e" : "#59626a", `rx="8"`)).join("") + circle(648, 285, 22, "#a7acae", `stroke="#4c5154" stroke-width="4"`);
  return {
    backdrop: { surface: "concrete-old" },
    light: closeLight(shot),
    objects: seen(drilledHole(shot, 480, 556, 92) + beam + foot + head + card(caption(shot), 652, 70, 176, 70, shot.rand.between(-8, 8))),
    standOffPx: 20,
  };
};

export const holeClean: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot);
  const ring = stroke(blob(rand, 470, 360, 236, 222, 0.03, 16), "#e6ecf2", 9, `opacity="0.75" stroke-dasharray="70 5 24 4"`);
  const brush = stroke("M700 690L820 520", "#5a6064", 14) + Array.from({ length: 20 }, (_, i) => stroke(`M${722 + i * 4.6} ${658 - i * 6.6}l${-20} -15m20 15l20 15`, i % 2 ? "#c9a45c" : "#9c7b3c", 3)).join("") + stroke("M690 704L640 776", "#8e2f20", 30);
  return {
    backdrop: { surface: rand.chance(0.5) ? "concrete-old" : "grout-set" },
    light: closeLight(shot),
    objects: seen(ring + drilledHole(shot, 470, 360, 150) + letter(caption(shot), 130, 58, { size: 54, colour: "#cf3522", weight: 0.16 }) + brush),
    standOffPx: 3,
  };
};

export const barTape: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot, 0.8);
  const value = shot.value ?? "";
  const step = /mm/.test(value) ? 10 : 1;
  const shown = Number.parseFloat(value);
  // The bar ends over its reading; the tape starts wherever that leaves the end in the middle of the picture.
  const pitchPx = 112;
  const end = 610;
  const left = -140;
  const from = Math.max(0, (Number.isFinite(shown) ? shown : 12) - ((end - left) / pitchPx) * step);
  const start = end - (((Number.isFinite(shown) ? shown : 12) - from) / step) * pitchPx;
  const hand = path("M1040 470q-140 -50 -230 0q-60 34 -40 66q30 20 90 -6l200 20z", "#c2702c") + stroke("M770 520q40 -34 96 -40", "#8d4c1a", 5);
  return {
    backdrop: { surface: rand.pick(["concrete-old", "planks", "concrete-prepared"]) },
    light: closeLight(shot),
    objects: seen(ribbedBar(-160, 230, end + 160, 104, rand.chance(0.4)) + tape(start, 366, 1160 - start, 128, { from, pitchPx, step })
      + stroke(`M${end} 210V520`, "#c1281c", 3, `opacity="0.8"`) + hand + card(`${caption(shot)}`, 560, 84, 240, 88, rand.between(-7, 7))
      + letter(value, 560, 556, { size: 54, colour: "#cf3522", weight: 0.16 })),
    standOffPx: 16,
  };
};

export const resinReturn: Painter = (shot) => {
  const { rand } = shot;
  const seen = handheld(shot);
  const drop = rand.between(120, 250);
  const collar = blob(rand, 480, 300, 190, 150, 0.09, 12);
  const resin = rand.pick(["#9fb0aa", "#b3aca0", "#8fa5b2"]);
  return {
    backdrop: { surface: "concrete-old" },
    light: closeLight(shot),
    objects: seen(
      path(collar, "#5c6a66") + blended("y", [[0, "#d3dcd8"], [0.4, resin], [1, "#5f706b"]], (fill) => path(blob(rand, 478, 294, 180, 142, 0.07, 12), fill))
      + ellipse(480, 300, 88, 62, "#3e4a47")
      + turned(90, 528, 290, ribbedBar(528, 290, 560, 96, rand.chance(0.3)))
      + blended("y", [[0, resin], [1, "#71837d"]], (fill) => path(`M404 372Q396 ${372 + drop * 0.5} 414 ${372 + drop}Q430 ${400 + drop} 444 ${372 + drop}Q450 ${372 + drop * 0.4} 470 366Z`, fill))
      + stroke("M350 236Q400 180 480 176", "#f4f8f6", 15, `opacity="0.65"`) + stroke(`M420 396V${366 + drop}`, "#eef4f1", 6, `opacity="0.5"`) + circle(600, 262, 9, "#f6faf8", `opacity="0.7"`)
      + ellipse(300, 460, 18, 12, resin) + ellipse(650, 500, 12, 9, resin)
      + letter(caption(shot), 820, 96, { size: 50, colour: "#cf3522", weight: 0.16, anchor: "end" })),
    standOffPx: 10,
  };
};
