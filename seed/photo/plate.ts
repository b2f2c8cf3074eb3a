import { type Octave, noiseField } from "#seed/photo/noise";
import { boards, type Canvas, checks, type Colour, pits, PLATE_HEIGHT, PLATE_WIDTH, shells, stones, weave } from "#seed/photo/plate-finish";
import { randFrom } from "#seed/photo/random";

/** A baked surface, larger than a photo so that every photo can show another part of it. */
export interface Plate {
  readonly rgb: Uint8Array;
}

const SIZE = PLATE_WIDTH * PLATE_HEIGHT;

/** Colours laid along the tone noise, from its low to its high end. */
type Palette = readonly [Colour, Colour, ...Colour[]];

interface Surface {
  tone: readonly Octave[];
  palette: Palette;
  /** The relief that the light rakes over. */
  relief: readonly Octave[];
  reliefGain: number;
  /** Swing of single-pixel brightness, in levels of 255. */
  speckle: number;
  finish?: (canvas: Canvas) => void;
}

const SURFACES = {
  "concrete-old": {
    tone: [[260, 200, 0.34], [70, 90, 0.26], [18, 18, 0.2], [5, 5, 0.14]],
    palette: [[100, 98, 90], [140, 136, 125], [166, 162, 150], [180, 174, 158]],
    relief: [[40, 40, 1.2], [14, 14, 0.9], [5, 5, 0.7], [2.2, 2.2, 0.5]], reliefGain: 0.16, speckle: 9,
    finish: (canvas) => pits(canvas, 420, 2, 6),
  },
  "concrete-prepared": {
    tone: [[200, 160, 0.22], [30, 30, 0.3], [9, 9, 0.4]],
    palette: [[132, 126, 116], [168, 163, 152], [190, 186, 176], [176, 160, 140]],
    relief: [[60, 60, 2.2], [20, 20, 2.4], [8, 8, 1.8], [3, 3, 0.9]], reliefGain: 0.17, speckle: 10,
    finish: (canvas) => stones(canvas, 1500, 3, 12),
  },
  "steel-rust": {
    tone: [[180, 240, 0.34], [50, 60, 0.3], [14, 14, 0.3], [4, 4, 0.2]],
    palette: [[48, 34, 30], [92, 54, 36], [128, 74, 42], [150, 98, 62], [92, 84, 80]],
    relief: [[30, 36, 1.6], [10, 12, 1.3], [4, 4, 0.9]], reliefGain: 0.18, speckle: 12,
    finish: (canvas) => pits(canvas, 700, 3, 11),
  },
  "steel-bright": {
    tone: [[240, 260, 0.3], [60, 70, 0.2], [12, 12, 0.16], [3, 3, 0.22]],
    palette: [[112, 116, 120], [140, 144, 148], [158, 162, 166], [172, 174, 174]],
    relief: [[26, 26, 0.5], [6, 6, 0.5], [2.2, 2.2, 0.9]], reliefGain: 0.16, speckle: 16,
    finish: (canvas) => pits(canvas, 260, 3, 10),
  },
  "timber-old": {
    tone: [[34, 700, 0.4], [11, 300, 0.3], [90, 140, 0.22], [4, 60, 0.2]],
    palette: [[50, 42, 34], [88, 72, 54], [118, 100, 78], [140, 124, 104]],
    relief: [[22, 500, 1.3], [7, 240, 1.3], [3, 60, 0.6]], reliefGain: 0.24, speckle: 10,
    finish: (canvas) => checks(canvas, 46),
  },
  "timber-bright": {
    tone: [[46, 800, 0.44], [13, 420, 0.34], [5, 140, 0.22]],
    palette: [[150, 104, 58], [190, 140, 84], [212, 166, 108], [226, 188, 132]],
    relief: [[16, 500, 0.7], [5, 200, 0.6]], reliefGain: 0.16, speckle: 8,
    finish: (canvas) => checks(canvas, 16),
  },
  growth: {
    tone: [[120, 90, 0.4], [30, 30, 0.3], [8, 12, 0.3]],
    palette: [[24, 30, 22], [44, 52, 32], [66, 74, 40], [84, 78, 52]],
    relief: [[30, 30, 1.6], [9, 9, 1.2], [3, 3, 0.8]], reliefGain: 0.2, speckle: 10,
    finish: shells,
  },
  "grout-wet": {
    tone: [[300, 220, 0.3], [80, 60, 0.26], [20, 16, 0.16]],
    palette: [[92, 96, 98], [116, 119, 120], [136, 138, 137]],
    relief: [[90, 70, 2.4], [26, 20, 1.1], [8, 8, 0.3]], reliefGain: 0.1, speckle: 6,
    finish: (canvas) => pits(canvas, 300, 2, 5),
  },
  "grout-set": {
    tone: [[280, 220, 0.3], [60, 60, 0.26], [10, 10, 0.2]],
    palette: [[146, 146, 142], [168, 168, 163], [186, 185, 179]],
    relief: [[70, 60, 1.4], [18, 18, 0.8], [4, 4, 0.6]], reliefGain: 0.15, speckle: 9,
    finish: (canvas) => pits(canvas, 200, 2, 5),
  },
  fabric: {
    tone: [[240, 200, 0.3], [60, 50, 0.2]],
    palette: [[196, 196, 182], [214, 214, 200], [226, 226, 214]],
    relief: [[160, 30, 1.2], [30, 90, 0.9]], reliefGain: 0.09, speckle: 7,
    finish: (canvas) => weave(canvas, 9, 16),
  },
  laminate: {
    tone: [[220, 180, 0.36], [60, 60, 0.26], [16, 16, 0.14]],
    palette: [[92, 100, 74], [118, 124, 92], [138, 142, 108], [150, 150, 122]],
    relief: [[120, 60, 1.6], [40, 40, 0.7]], reliefGain: 0.12, speckle: 6,
    finish: (canvas) => weave(canvas, 9, 9),
  },
  coat: {
    tone: [[260, 220, 0.34], [70, 80, 0.24], [14, 14, 0.14]],
    palette: [[128, 136, 136], [146, 153, 152], [160, 165, 163]],
    relief: [[70, 50, 1.2], [12, 9, 0.7], [4, 4, 0.3]], reliefGain: 0.13, speckle: 5,
  },
  resin: {
    tone: [[300, 260, 0.34], [90, 80, 0.2]],
    palette: [[168, 148, 106], [178, 158, 116], [186, 167, 126]],
    relief: [[90, 60, 1.1], [30, 22, 0.5]], reliefGain: 0.06, speckle: 4,
  },
  planks: {
    tone: [[600, 30, 0.4], [240, 9, 0.3], [60, 4, 0.2], [150, 150, 0.2]],
    palette: [[94, 78, 58], [128, 108, 82], [156, 136, 106], [172, 154, 126]],
    relief: [[400, 12, 0.8], [120, 4, 0.8]], reliefGain: 0.18, speckle: 9,
    finish: (canvas) => boards(canvas, 150),
  },
  "planks-wet": {
    tone: [[600, 30, 0.4], [240, 9, 0.3], [60, 4, 0.2], [150, 150, 0.3]],
    palette: [[40, 35, 29], [60, 52, 42], [78, 69, 56], [92, 83, 70]],
    relief: [[400, 12, 0.8], [120, 4, 0.8]], reliefGain: 0.18, speckle: 8,
    finish: (canvas) => boards(canvas, 150),
  },
  mat: {
    tone: [[220, 180, 0.34], [40, 40, 0.2], [8, 8, 0.14]],
    palette: [[48, 51, 54], [64, 67, 69], [80, 82, 82]],
    relief: [[30, 30, 0.6], [4, 4, 0.8]], reliefGain: 0.16, speckle: 8,
  },
} as const satisfies Record<string, Surface>;

export type SurfaceName = keyof typeof SURFACES;

function paint(palette: Palette, tone: Float32Array): Float32Array {
  const colour = new Float32Array(SIZE * 3);
  const last = palette.length - 1;
  for (let i = 0; i < SIZE; i++) {
    const place = Math.min(0.9999, Math.max(0, (tone[i] ?? 0) * 0.9 + 0.5)) * last;
    const step = place | 0;
    const from = palette[step] ?? palette[0];
    const to = palette[step + 1] ?? from;
    const share = place - step;
    colour[i * 3] = from[0] + (to[0] - from[0]) * share;
    colour[i * 3 + 1] = from[1] + (to[1] - from[1]) * share;
    colour[i * 3 + 2] = from[2] + (to[2] - from[2]) * share;
  }
  return colour;
}

/** Light from the upper left over the relief, then single-pixel speckle. */
function light({ height, colour, rand }: Canvas, gain: number, speckle: number): Uint8Array {
  const rgb = new Uint8Array(SIZE * 3);
  for (let y = 0, at = 0; y < PLATE_HEIGHT; y++) {
    for (let x = 0; x < PLATE_WIDTH; x++, at++) {
      const here = height[at] ?? 0;
      const across = x > 0 ? here - (height[at - 1] ?? 0) : 0;
      const down = y > 0 ? here - (height[at - PLATE_WIDTH] ?? 0) : 0;
      const shade = Math.min(1.6, Math.max(0.4, 1 + gain * (across * 0.7 + down)));
      const grain = (rand.next() - 0.5) * speckle;
      for (let c = at * 3; c < at * 3 + 3; c++) rgb[c] = Math.min(255, Math.max(0, (colour[c] ?? 0) * shade + grain));
    }
  }
  return rgb;
}

const baked = new Map<SurfaceName, Plate>();

/** Bakes the surface the first time it is asked for (about a tenth of a second of CPU) and keeps it. */
export function surfacePlate(name: SurfaceName): Plate {
  const kept = baked.get(name);
  if (kept) return kept;

  const surface: Surface = SURFACES[name];
  const rand = randFrom(`plate ${name}`);
  const canvas: Canvas = {
    height: noiseField(PLATE_WIDTH, PLATE_HEIGHT, surface.relief, rand),
    colour: paint(surface.palette, noiseField(PLATE_WIDTH, PLATE_HEIGHT, surface.tone, rand)),
    rand,
  };
  surface.finish?.(canvas);
  const plate = { rgb: light(canvas, surface.reliefGain, surface.speckle) };
  baked.set(name, plate);
  return plate;
}
