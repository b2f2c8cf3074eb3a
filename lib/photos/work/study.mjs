import { readFileCodes, readPixelCodes } from "./code.mjs";
import { readHeicPixels } from "./heic.mjs";
import { fromPixels, looksOf, readPixels, turn, writeRenditions } from "./picture.mjs";

/** Of a HEIC the codes are read from its pixels at most at this side: they are decoded only once. */
const HEIC_PX = 4600;

/**
 * @typedef {{
 *   path: string, heic: boolean, width: number, height: number, orientation: number, px: number,
 *   renditions: import("./picture.mjs").RenditionJob[], wantLooks: boolean
 * }} StudyJob
 */

/**
 * Reads what takes longer than a receipt may: the codes on tags and, where the receipt did not, the looks and the renditions.
 * @param {StudyJob} job
 * @returns {Promise<import("../study.ts").Studied>}
 */
export async function study(job) {
  return job.heic ? studyHeic(job) : studyFile(job);
}

/** @param {StudyJob} job */
async function studyFile({ path, width, height, orientation, px, renditions, wantLooks }) {
  const codes = await readFileCodes(path);
  if (!wantLooks) return { codes, looks: null };
  const pixels = await readPixels(path, { width, height, px, failOn: "none" });
  const looks = await looksOf(pixels);
  if (renditions.length > 0) await writeRenditions(await turn(pixels, orientation), renditions);
  return { codes, looks };
}

/** The decoder of a HEIC turns its pixels upright itself. @param {StudyJob} job */
async function studyHeic({ path, px, renditions, wantLooks }) {
  const whole = await readHeicPixels(path, { px: HEIC_PX });
  const codes = await readPixelCodes(whole);
  const pixels = await fromPixels(whole).resize(px, px, { fit: "inside", withoutEnlargement: true }).raw({ depth: "uchar" }).toBuffer({ resolveWithObject: true });
  if (renditions.length > 0) await writeRenditions(pixels, renditions);
  return { codes, looks: wantLooks ? await looksOf(pixels) : null };
}
