import { open } from "node:fs/promises";

import { looksOf, readPixels, turn, writeRenditions } from "./picture.mjs";
import { readSmallPicture } from "./small-picture.mjs";

/**
 * @typedef {{ path: string, width: number, height: number, px: number, orientation: number, smallPicture?: Uint8Array | null,
 * renditions: import("./picture.mjs").RenditionJob[] }} DecodeJob
 */

/**
 * Reads every pixel once. Answers what the decoder complained about and what the pixels give; the renditions are written
 * from the same pixels afterwards.
 * @param {DecodeJob} job
 */
export async function decode({ path, width, height, px, orientation, smallPicture = null, renditions }) {
  let damage = null;
  let pixels = await readPixels(path, { width, height, px, failOn: "warning" }).catch((error) => {
    damage = complaintOf(error);
    return null;
  });
  // A damaged picture still shows something: what can be read is kept visible.
  pixels ??= await readPixels(path, { width, height, px, failOn: "none" }).catch(() => null);
  const truncated = damage !== null && ((await lacksEnd(path)) || damage.includes("premature end of JPEG image"));
  const answer = { damage, truncated, looks: pixels && (await looksOf(pixels)), small: smallPicture && (await readSmallPicture(smallPicture)) };
  if (pixels === null || renditions.length === 0) return { answer };
  return { answer, rest: async () => writeRenditions(await turn(pixels, orientation), renditions) };
}

/** The decoder's own words, without the name of the part that says them. @param {Error} error */
function complaintOf(error) {
  const [first = ""] = error.message.split("\n");
  return first.replace(/^[A-Za-z0-9]+: /, "");
}

/** True for a PNG without its end chunk or a WebP shorter than it says. @param {string} path */
async function lacksEnd(path) {
  const file = await open(path, "r");
  try {
    const { size } = await file.stat();
    const head = Buffer.alloc(12);
    const tail = Buffer.alloc(12);
    await file.read(head, 0, 12, 0);
    await file.read(tail, 0, 12, Math.max(0, size - 12));
    if (head.toString("latin1", 1, 4) === "PNG") return tail.toString("latin1", 4, 8) !== "IEND";
    if (head.toString("latin1", 8, 12) === "WEBP") return size < head.readUInt32LE(4) + 8;
    return false;
  } finally {
    await file.close();
  }
}
