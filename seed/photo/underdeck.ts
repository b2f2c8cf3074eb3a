import sharp from "sharp";
import { noiseField } from "#seed/photo/noise";
import type { Plate } from "#seed/photo/plate";
import { PLATE_HEIGHT, PLATE_WIDTH } from "#seed/photo/plate-finish";
import { type Rand, randFrom } from "#seed/photo/random";

/** The row of the plate where water meets the far light. */
export const HORIZON_PX = 430;

interface Weather {
  sky: string;
  haze: string;
  deck: string;
  pile: string;
  water: readonly [number, number, number];
}

const WEATHERS: readonly [Weather, ...Weather[]] = [
  { sky: "#b9c6c8", haze: "#8fa2a6", deck: "#2b2e30", pile: "#4b5354", water: [48, 66, 70] },
  { sky: "#c9d0c4", haze: "#93a497", deck: "#2a2d28", pile: "#50564c", water: [50, 68, 58] },
  { sky: "#d8cdb8", haze: "#a89c88", deck: "#332e28", pile: "#57504a", water: [66, 66, 60] },
  { sky: "#aebccb", haze: "#7e90a3", deck: "#262a31", pile: "#434b57", water: [40, 56, 74] },
  { sky: "#dfe3e0", haze: "#a9b4b3", deck: "#393c3c", pile: "#626968", water: [74, 88, 88] },
  { sky: "#1c232b", haze: "#161b20", deck: "#0c0d0f", pile: "#14181b", water: [10, 14, 17] },
  { sky: "#2b2a26", haze: "#1f1e1a", deck: "#100f0d", pile: "#191816", water: [14, 15, 14] },
];

/** The views by day and by night, each a place in WEATHERS. */
export const DAY_VIEWS = [0, 1, 2, 3, 4] as const;
export const NIGHT_VIEWS = [5, 6] as const;

function pileRow(rand: Rand, count: number, widthPx: number, topPx: number, feetPx: number, fill: string, opacity: number): string {
  const pitch = PLATE_WIDTH / count;
  const start = rand.between(-pitch / 2, pitch / 2);
  let row = "";
  for (let i = 0; i <= count; i++) {
    const x = start + i * pitch + rand.between(-6, 6);
    row += `<rect x="${x}" y="${topPx}" width="${widthPx}" height="${feetPx - topPx}" fill="${fill}" opacity="${opacity}"/>`
      + `<rect x="${x}" y="${topPx}" width="${widthPx * 0.3}" height="${feetPx - topPx}" fill="#000" opacity="${opacity * 0.35}"/>`
      + `<rect x="${x}" y="${feetPx - widthPx * 1.6}" width="${widthPx}" height="${widthPx * 1.6}" fill="#14180f" opacity="${opacity * 0.75}"/>`;
  }
  return row;
}

function above(weather: Weather, rand: Rand): Buffer {
  let beams = "";
  for (let i = 0; i < 9; i++) {
    const x = i * 160 + rand.between(-20, 20);
    beams += `<polygon points="${x},0 ${x + 70},0 ${640 + (x + 50 - 640) * 0.45},250 ${640 + (x + 12 - 640) * 0.45},250" fill="#000" opacity="0.35"/>`;
  }
  return Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="${PLATE_WIDTH}" height="${HORIZON_PX}">
    <defs><linearGradient id="air" x2="0" y2="1"><stop offset="0" stop-color="${weather.deck}"/><stop offset="0.52" stop-color="${weather.deck}"/>
    <stop offset="0.66" stop-color="${weather.haze}"/><stop offset="1" stop-color="${weather.sky}"/></linearGradient></defs>
    <rect width="100%" height="100%" fill="url(#air)"/>${beams}
    <rect y="236" width="100%" height="40" fill="${weather.deck}" opacity="0.85"/>
    <path d="M0 ${HORIZON_PX}V${HORIZON_PX - 26}Q160 ${HORIZON_PX - 46} 330 ${HORIZON_PX - 24}T700 ${HORIZON_PX - 20}T${PLATE_WIDTH} ${HORIZON_PX - 30}V${HORIZON_PX}Z" fill="${weather.haze}" opacity="0.8"/>
    ${pileRow(rand, 15, 16, 262, HORIZON_PX, weather.pile, 0.5)}
    <rect y="150" width="100%" height="62" fill="#000" opacity="0.35"/>
    ${pileRow(rand, 8, 40, 190, HORIZON_PX, weather.pile, 0.75)}
    ${pileRow(rand, 4, 84, 60, HORIZON_PX, weather.pile, 0.95)}
  </svg>`);
}

/** Water that mirrors what stands above it, stretched and broken by ripples that grow towards the viewer. */
function layWater(rgb: Uint8Array, upper: Uint8Array, weather: Weather, rand: Rand): void {
  const ripple = noiseField(PLATE_WIDTH, PLATE_HEIGHT, [[150, 26, 0.5], [60, 12, 0.5], [22, 5, 0.4]], rand);
  const depthPx = PLATE_HEIGHT - HORIZON_PX;
  for (let y = HORIZON_PX; y < PLATE_HEIGHT; y++) {
    const near = (y - HORIZON_PX) / depthPx;
    const line = Math.floor(Math.log(0.06 + near) * 240 + 720) % PLATE_HEIGHT;
    for (let x = 0; x < PLATE_WIDTH; x++) {
      const u = Math.floor((x - PLATE_WIDTH / 2) / (0.18 + near) + 40 * PLATE_WIDTH) % PLATE_WIDTH;
      const swell = ripple[line * PLATE_WIDTH + u] ?? 0;
      const fromX = Math.min(PLATE_WIDTH - 1, Math.max(0, Math.round(x + swell * (6 + 60 * near))));
      const fromY = Math.min(HORIZON_PX - 1, Math.max(0, Math.round(HORIZON_PX - 1 - (y - HORIZON_PX) * 0.75 + swell * (10 + 130 * near))));
      const mirror = (fromY * PLATE_WIDTH + fromX) * 3;
      const at = (y * PLATE_WIDTH + x) * 3;
      const share = 0.62 - 0.3 * near;
      const lift = swell > 0.32 ? (swell - 0.32) * 150 : swell * 16;
      for (let c = 0; c < 3; c++) rgb[at + c] = Math.min(255, Math.max(0, (upper[mirror + c] ?? 0) * share + (weather.water[c] ?? 0) * (1 - share) * 1.15 + lift));
    }
  }
}

const baked = new Map<number, Promise<Plate>>();

async function bake(view: number): Promise<Plate> {
  const weather = WEATHERS[view] ?? WEATHERS[0];
  const rand = randFrom(`underdeck ${view}`);
  // Softened: the eye of the camera is on the pile in front.
  const upper = await sharp(above(weather, rand)).removeAlpha().blur(2.6).raw().toBuffer();
  const rgb = new Uint8Array(PLATE_WIDTH * PLATE_HEIGHT * 3);
  const dirt = noiseField(PLATE_WIDTH, HORIZON_PX, [[140, 60, 0.1], [30, 40, 0.08]], rand);
  for (let i = 0; i < upper.length; i++) rgb[i] = Math.min(255, Math.max(0, (upper[i] ?? 0) * (1 + (dirt[Math.floor(i / 3)] ?? 0))));
  layWater(rgb, upper, weather, rand);
  return { rgb };
}

/** The view under a deck: beams, rows of piles going away, water. `view` is one of DAY_VIEWS or NIGHT_VIEWS. */
export function underdeckPlate(view: number): Promise<Plate> {
  const kept = baked.get(view) ?? bake(view);
  baked.set(view, kept);
  return kept;
}
