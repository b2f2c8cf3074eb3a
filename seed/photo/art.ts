import { fittingSize, letter, reading } from "#seed/photo/lettering";
import type { Rand } from "#seed/photo/random";

type Stop = readonly [at: number, colour: string];

/** A fill that runs across ("x") or down ("y") the shape it fills. */
function blend(direction: "x" | "y", stops: readonly Stop[]): { defs: string; fill: string } {
  const id = `b${direction}${stops.map(([at, colour]) => `${at}${colour}`).join("").replace(/[^a-z0-9]/gi, "")}`;
  const marks = stops.map(([at, colour]) => `<stop offset="${at}" stop-color="${colour}"/>`).join("");
  const end = direction === "x" ? `x2="1" y2="0"` : `x2="0" y2="1"`;
  return { defs: `<defs><linearGradient id="${id}" x1="0" y1="0" ${end}>${marks}</linearGradient></defs>`, fill: `url(#${id})` };
}

/** Colour for a surface drawing: shade 1 leaves the surface as it is; over and wet run from 0 to 1. */
export function material(shade: number, over = 0, wet = 0): string {
  const level = (v: number): number => Math.round(Math.min(255, Math.max(0, v)));
  return `rgb(${level(shade * 128)},${level(over * 255)},${level(wet * 255)})`;
}

export function rect(x: number, y: number, width: number, height: number, fill: string, more = ""): string {
  return `<rect x="${x.toFixed(1)}" y="${y.toFixed(1)}" width="${width.toFixed(1)}" height="${height.toFixed(1)}" fill="${fill}" ${more}/>`;
}

export function circle(x: number, y: number, r: number, fill: string, more = ""): string {
  return `<circle cx="${x.toFixed(1)}" cy="${y.toFixed(1)}" r="${r.toFixed(1)}" fill="${fill}" ${more}/>`;
}

export function ellipse(x: number, y: number, rx: number, ry: number, fill: string, more = ""): string {
  return `<ellipse cx="${x.toFixed(1)}" cy="${y.toFixed(1)}" rx="${rx.toFixed(1)}" ry="${ry.toFixed(1)}" fill="${fill}" ${more}/>`;
}

export function path(d: string, fill: string, more = ""): string {
  return `<path d="${d}" fill="${fill}" ${more}/>`;
}

export function stroke(d: string, colour: string, width: number, more = ""): string {
  return `<path d="${d}" fill="none" stroke="${colour}" stroke-width="${width}" stroke-linecap="round" ${more}/>`;
}

/** A filled shape whose fill runs; saves saying the gradient twice. */
export function blended(direction: "x" | "y", stops: readonly Stop[], shape: (fill: string) => string): string {
  const { defs, fill } = blend(direction, stops);
  return defs + shape(fill);
}

export function turned(degrees: number, x: number, y: number, drawing: string): string {
  return `<g transform="rotate(${degrees.toFixed(2)} ${x.toFixed(1)} ${y.toFixed(1)})">${drawing}</g>`;
}

export function moved(x: number, y: number, drawing: string, scale = 1): string {
  return `<g transform="translate(${x.toFixed(1)} ${y.toFixed(1)}) scale(${scale.toFixed(3)})">${drawing}</g>`;
}

/** A closed outline round a middle, its radius wandering by `wander` (a share). */
export function blob(rand: Rand, x: number, y: number, rx: number, ry: number, wander = 0.15, corners = 10): string {
  const points = Array.from({ length: corners }, (_, i) => {
    const angle = (i / corners) * 2 * Math.PI;
    const out = 1 + rand.between(-wander, wander);
    return [x + Math.cos(angle) * rx * out, y + Math.sin(angle) * ry * out] as const;
  });
  const middle = (i: number): string => {
    const [ax, ay] = points[i % corners] ?? [x, y];
    const [bx, by] = points[(i + 1) % corners] ?? [x, y];
    return `${((ax + bx) / 2).toFixed(1)} ${((ay + by) / 2).toFixed(1)}`;
  };
  return `M${middle(corners - 1)}${points.map(([px, py], i) => `Q${px.toFixed(1)} ${py.toFixed(1)} ${middle(i)}`).join("")}Z`;
}

/** The yellow plate that carries a pile's mark. */
export function tagPlate(mark: string, x: number, y: number, width: number): string {
  const height = width * 0.42;
  const size = fittingSize(mark, width * 0.78, height * 0.54);
  return blended("y", [[0, "#f2c63c"], [0.5, "#e8b92c"], [1, "#cf9f1e"]], (fill) => rect(x, y, width, height, fill, `rx="${width * 0.03}"`))
    + rect(x + width * 0.02, y + width * 0.02, width * 0.96, height - width * 0.04, "none", `stroke="#3a2e08" stroke-width="${width * 0.008}" rx="${width * 0.02}"`)
    + [0.06, 0.94].map((at) => circle(x + width * at, y + height / 2, width * 0.018, "#5b5b58", `stroke="#2a2a28" stroke-width="1"`)).join("")
    + letter(mark, x + width / 2, y + (height - size) / 2, { size, colour: "#1d1a10", weight: 0.17, anchor: "middle" });
}

/** A white card with marker lettering, held in the picture. */
export function card(text: string, x: number, y: number, width: number, height: number, turn = 0): string {
  const size = fittingSize(text, width * 0.82, height * 0.5);
  return turned(turn, x + width / 2, y + height / 2,
    blended("y", [[0, "#f4f3ee"], [1, "#dad8cf"]], (fill) => rect(x, y, width, height, fill, `rx="3"`))
    + letter(text, x + width / 2, y + (height - size) / 2, { size, colour: "#1c2440", anchor: "middle" }));
}

interface TapeFace {
  /** Reading at the left end. */
  from: number;
  /** px for one figure on the tape. */
  pitchPx: number;
  /** What one figure stands for: 1 on an inch tape, 10 on a millimetre tape. */
  step?: number;
  colour?: string;
}

/** A steel tape lying along x, its figures and ticks readable. */
export function tape(x: number, y: number, length: number, height: number, face: TapeFace): string {
  const step = face.step ?? 1;
  const parts = step === 1 ? 8 : 10;
  const last = face.from / step + length / face.pitchPx;
  let ticks = "";
  let figures = "";
  for (let n = Math.ceil((face.from / step) * parts); n <= last * parts; n++) {
    const at = x + (n / parts - face.from / step) * face.pitchPx;
    const whole = n % parts === 0;
    const rise = whole ? 0.46 : n % (parts / 2) === 0 ? 0.36 : n % 2 === 0 && parts === 8 ? 0.27 : 0.18;
    ticks += `M${at.toFixed(1)} ${y}v${(height * rise).toFixed(1)}`;
    if (whole && at > x + 4 && at < x + length - height * 0.5) {
      const size = height * 0.34;
      figures += letter(String((n / parts) * step), at + height * 0.08, y + height * 0.54, { size, colour: "#1b1a16", weight: 0.16 });
    }
  }
  const colour = face.colour ?? "#efc83a";
  return blended("y", [[0, colour], [0.45, colour], [1, "#b48d22"]], (fill) => rect(x, y, length, height, fill))
    + stroke(ticks, "#1b1a16", Math.max(1.6, height * 0.026))
    + rect(x, y + height * 0.93, length, height * 0.07, "#000", `opacity="0.25"`)
    + figures;
}

/** A scale bar in alternate black and white, ten divisions. */
export function scaleBar(x: number, y: number, length: number, label: string): string {
  const part = length / 10;
  const boxes = Array.from({ length: 10 }, (_, i) => rect(x + i * part, y + 12, part, 20, i % 2 === 0 ? "#141414" : "#f3f1ea")).join("");
  const figures = [0, 5, 10].map((n) => letter(String(n), x + n * part + (n === 0 ? 10 : n === 10 ? -26 : -6), y + 42, { size: 24, colour: "#141414" })).join("");
  return rect(x - 10, y, length + 20, 80, "#f3f1ea", `rx="4"`) + boxes + figures + letter(label, x + length * 0.74, y + 46, { size: 18, colour: "#141414", anchor: "middle" });
}

/** A ribbed bar along x, its cut end at the right. */
export function ribbedBar(x: number, y: number, length: number, thick: number, rust: boolean): string {
  const stops: Stop[] = rust
    ? [[0, "#4a3527"], [0.3, "#8f6a4f"], [0.62, "#694a36"], [1, "#2a1d15"]]
    : [[0, "#3e3d3b"], [0.28, "#a09d97"], [0.6, "#6d6a65"], [1, "#242321"]];
  let ribs = "";
  let lights = "";
  for (let at = x + 6; at < x + length - thick * 0.3; at += thick * 0.36) {
    ribs += `M${at.toFixed(1)} ${(y + thick).toFixed(1)}q${(thick * 0.2).toFixed(1)} ${(-thick * 0.5).toFixed(1)} ${(thick * 0.14).toFixed(1)} ${(-thick).toFixed(1)}`;
    lights += `M${(at + thick * 0.1).toFixed(1)} ${(y + thick * 0.62).toFixed(1)}l${(thick * 0.06).toFixed(1)} ${(-thick * 0.4).toFixed(1)}`;
  }
  return blended("y", stops, (fill) => rect(x, y, length, thick, fill))
    + stroke(ribs, "#1b1714", thick * 0.09, `opacity="0.75"`)
    + stroke(lights, "#d8d2c6", thick * 0.05, `opacity="0.45"`)
    + ellipse(x + length, y + thick / 2, thick * 0.2, thick / 2, rust ? "#9b8878" : "#b9b6af", `stroke="#2a2622" stroke-width="2"`);
}

/** A hexagon nut on a washer, seen along its bolt. */
export function nut(x: number, y: number, r: number, turn: number, tone = "#8d9090"): string {
  const corner = (i: number, radius: number): string => {
    const angle = ((turn + i * 60) * Math.PI) / 180;
    return `${(x + Math.cos(angle) * radius).toFixed(1)} ${(y + Math.sin(angle) * radius).toFixed(1)}`;
  };
  const sides = [0, 1, 2, 3, 4, 5].map((i) => path(`M${x} ${y}L${corner(i, r)}L${corner(i + 1, r)}Z`, ["#6f7272", "#5a5d5d", "#747777", "#a4a7a6", "#c1c3c2", "#939695"][i] ?? tone)).join("");
  return circle(x, y, r * 1.42, "#5f6160") + circle(x - r * 0.03, y - r * 0.05, r * 1.36, "#9a9c9a") + circle(x, y, r * 1.1, "#6d6f6e")
    + sides + circle(x, y, r * 0.8, tone) + circle(x, y, r * 0.52, "#4d4f4f") + circle(x - r * 0.04, y - r * 0.06, r * 0.46, "#7f8281")
    + circle(x, y, r * 0.3, "none", `stroke="#5c5e5d" stroke-width="${(r * 0.06).toFixed(1)}"`);
}

type Display = "lcd" | "led" | "white";
const DISPLAYS: Record<Display, readonly [glass: string, figure: string, ghost: string]> = {
  lcd: ["#a9b79a", "#1c261c", "#9eac90"],
  led: ["#14201c", "#7df0b4", "#1d2f28"],
  white: ["#dfe6ea", "#15202c", "#d2dade"],
};

/** The window of an instrument with its reading. */
export function display(value: string, x: number, y: number, width: number, height: number, kind: Display): string {
  const [glass, figure, ghost] = DISPLAYS[kind];
  return rect(x - 6, y - 6, width + 12, height + 12, "#16181a", `rx="8"`)
    + rect(x, y, width, height, glass, `rx="4"`)
    + reading(value, x + width * 0.07, y + height * 0.2, width * 0.86, height * 0.6, figure, ghost)
    + path(`M${x} ${y + height}V${y}H${x + width * 0.42}Z`, "#fff", `opacity="0.1"`);
}
