import { noiseField } from "#seed/photo/noise";
import type { Rand } from "#seed/photo/random";

export const PLATE_WIDTH = 1280;
export const PLATE_HEIGHT = 960;

export type Colour = readonly [red: number, green: number, blue: number];

/** What a finishing touch may work on before the light is laid over it. */
export interface Canvas {
  height: Float32Array;
  colour: Float32Array;
  rand: Rand;
}

/** Calls `touch` for every pixel of a disc with its distance from the middle as a share of the radius. */
function disc(x: number, y: number, radius: number, touch: (at: number, share: number, dx: number, dy: number) => void): void {
  const reach = Math.ceil(radius);
  for (let dy = -reach; dy <= reach; dy++) {
    for (let dx = -reach; dx <= reach; dx++) {
      const share = Math.sqrt(dx * dx + dy * dy) / radius;
      const px = Math.round(x) + dx;
      const py = Math.round(y) + dy;
      if (share > 1 || px < 0 || py < 0 || px >= PLATE_WIDTH || py >= PLATE_HEIGHT) continue;
      touch(py * PLATE_WIDTH + px, share, dx, dy);
    }
  }
}

function scale(colour: Float32Array, at: number, by: number): void {
  for (let c = at * 3; c < at * 3 + 3; c++) colour[c] = (colour[c] ?? 0) * by;
}

function set(colour: Float32Array, at: number, to: Colour, by = 1): void {
  colour[at * 3] = to[0] * by;
  colour[at * 3 + 1] = to[1] * by;
  colour[at * 3 + 2] = to[2] * by;
}

function somewhere(rand: Rand): [x: number, y: number] {
  return [rand.between(0, PLATE_WIDTH), rand.between(0, PLATE_HEIGHT)];
}

export function pits({ height, colour, rand }: Canvas, count: number, smallest: number, largest: number): void {
  for (let i = 0; i < count; i++) {
    const radius = smallest + (largest - smallest) * rand.next() ** 3;
    disc(...somewhere(rand), radius, (at, share) => {
      height[at] = (height[at] ?? 0) - (1 - share * share) * radius * 0.8;
      scale(colour, at, 0.72 + 0.28 * share);
    });
  }
}

export function stones({ height, colour, rand }: Canvas, count: number, smallest: number, largest: number): void {
  const kinds: readonly [Colour, ...Colour[]] = [[120, 112, 104], [150, 132, 112], [104, 106, 108], [186, 178, 166], [138, 120, 108]];
  for (let i = 0; i < count; i++) {
    const radius = smallest + (largest - smallest) * rand.next() ** 2;
    const kind = rand.pick(kinds);
    const squash = rand.between(0.7, 1.4);
    disc(...somewhere(rand), radius, (at, _share, dx, dy) => {
      const share = Math.hypot(dx * squash, dy / squash) / radius;
      if (share > 0.92) return;
      height[at] = (height[at] ?? 0) + Math.sqrt(1 - share * share) * radius * 0.45;
      set(colour, at, kind);
    });
  }
}

/** Drying cracks along the grain. */
export function checks({ height, colour, rand }: Canvas, count: number): void {
  for (let i = 0; i < count; i++) {
    let [x, y] = somewhere(rand);
    const length = rand.between(60, 420);
    for (let step = 0; step < length; step++, y++) {
      x += rand.between(-0.5, 0.5);
      const half = 3.2 * Math.sin((Math.PI * step) / length);
      disc(x, y, Math.max(1, half), (at, share) => {
        height[at] = (height[at] ?? 0) - 1.4 * (1 - share);
        scale(colour, at, 0.8 + 0.18 * share);
      });
    }
  }
}

/** Mussels first, then barnacles on top of them. */
export function shells({ height, colour, rand }: Canvas): void {
  for (let i = 0; i < 5200; i++) {
    const radius = rand.between(7, 19);
    const turn = rand.between(0, Math.PI);
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    const shell = rand.pick<Colour>([[34, 38, 46], [48, 50, 58], [62, 58, 52], [58, 66, 46], [82, 76, 62]]);
    disc(...somewhere(rand), radius, (at, _share, dx, dy) => {
      const share = Math.hypot((dx * cos + dy * sin) * 0.95, (dy * cos - dx * sin) * 1.7) / radius;
      if (share > 0.95) return;
      height[at] = Math.sqrt(1 - share * share) * radius * 0.9;
      set(colour, at, shell, 0.75 + 0.4 * (1 - share));
    });
  }
  for (let i = 0; i < 800; i++) {
    const radius = 3 + 9 * rand.next() ** 2;
    const pale = rand.between(0.8, 1.05);
    disc(...somewhere(rand), radius, (at, share) => {
      const crater = share < 0.24;
      height[at] = crater ? radius * 0.2 : (1.1 - share) * radius * 1.1;
      set(colour, at, crater ? [104, 96, 82] : [182, 175, 156], pale * (0.78 + 0.3 * share));
    });
  }
}

/** Yarns over and under; the period is in pixels. */
export function weave({ height, colour, rand }: Canvas, period: number, depth: number): void {
  const wander = noiseField(PLATE_WIDTH, PLATE_HEIGHT, [[180, 180, 3.5]], rand);
  for (let y = 0, at = 0; y < PLATE_HEIGHT; y++) {
    for (let x = 0; x < PLATE_WIDTH; x++, at++) {
      const bend = wander[at] ?? 0;
      const u = ((x + bend) / period) * Math.PI;
      const v = ((y + bend) / period) * Math.PI;
      const over = Math.sin(u) * Math.sin(v);
      const gap = Math.abs(Math.sin(u)) * Math.abs(Math.sin(v));
      height[at] = (height[at] ?? 0) + over * 0.6;
      scale(colour, at, 1 + ((gap - 0.5) * depth + over * depth * 0.5) / 100);
    }
  }
}

/** Planks side by side with dark gaps and a nail at each end. */
export function boards({ height, colour, rand }: Canvas, widthPx: number): void {
  for (let top = 0; top < PLATE_HEIGHT; top += widthPx) {
    const tint = rand.between(0.84, 1.1);
    for (let y = top; y < Math.min(PLATE_HEIGHT, top + widthPx); y++) {
      const edge = y - top < 6 ? 0.28 : y - top < 10 ? 0.85 : 1;
      for (let at = y * PLATE_WIDTH; at < (y + 1) * PLATE_WIDTH; at++) scale(colour, at, tint * edge);
    }
    for (let x = rand.between(40, 120); x < PLATE_WIDTH; x += 330) {
      disc(x, top + widthPx / 2, 5, (at, share) => {
        height[at] = -3 * (1 - share);
        scale(colour, at, 0.45);
      });
    }
  }
}
