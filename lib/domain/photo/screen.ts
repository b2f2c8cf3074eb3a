/**
 * Pixels of the screens of phones, tablets and desks, the longer side first. Sizes that cameras write too (4 : 3, such as
 * 2048 × 1536) are left out.
 * From memory; a screen missing here only goes unnoticed.
 */
const SCREENS: ReadonlySet<string> = new Set(
  `1136x640 1334x750 1792x828 2208x1242 1920x1080 2436x1125 2688x1242 2532x1170 2340x1080 2556x1179 2778x1284 2796x1290 2622x1206 2868x1320 2736x1260
   1280x720 1480x720 1520x720 1560x720 1600x720 1612x720 1640x720 2160x1080 2220x1080 2246x1080 2248x1080 2280x1080 2310x1080 2316x1080 2376x1080 2388x1080 2400x1080
   2408x1080 2412x1080 2424x1080 2460x1080 2520x1080 2640x1080 2244x1008 2670x1200 2712x1220 2856x1280 2772x1240 2992x1344 2560x1440 2880x1440 2960x1440 3040x1440 3088x1440 3120x1440 3168x1440
   3200x1440 3216x1440 3840x1644 2360x1640 2388x1668 2420x1668 2224x1668 2732x2048 2752x2064 2266x1488 2000x1200 2560x1600 2800x1752 2960x1848
   1366x768 1280x800 1280x1024 1440x900 1536x864 1600x900 1680x1050 1920x1200 2256x1504 2304x1440 2560x1664 2560x1080 2880x1620 2880x1800 2880x1864 2736x1824 3000x2000 3024x1964 3072x1920
   3200x1800 3200x2000 3440x1440 3456x2234 3840x2160 3840x2400 4096x2304 4480x2520 5120x1440 5120x2160 5120x2880 6016x3384`
    .trim()
    .split(/\s+/),
);

/** True for the pixel size of a common screen, lying or standing. */
export function isScreenSize(width: number, height: number): boolean {
  return SCREENS.has(`${Math.max(width, height)}x${Math.min(width, height)}`);
}

/** True for what programs that take pictures of a screen write into their fields, in any case of letters. From memory. */
export function screenshotNamed(text: string): boolean {
  return /screen[ _-]?(?:shot|capture|grab)|\bsnipping tool\b|\bspectacle\b|\bflameshot\b/i.test(text);
}
