import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { pileCode } from "#lib/domain/photo/tag";
import { drawScene, type Scene } from "#seed/photo/scene";
import { readPixelCodes } from "../../../lib/photos/work/code.mjs";

const CODE = pileCode("w2-05-A");
const TAGGED: Scene[] = ["pile-tag", "pile-face", "face-clean", "surface-overview", "cover-up-overview", "stripped-face", "final-face", "ties"];
const PLAIN: Scene[] = ["surface-closeup", "hole-clean", "bar-tape", "mix", "lot-label"];

async function codesIn(scene: Scene, variant: number): Promise<string[]> {
  const core = (["H", "square", "round"] as const)[variant % 3] ?? "H";
  const jpeg = await drawScene(scene, { core, variant: variant * 977, mark: "05-A", code: CODE, face: "N", item: 1, value: "7 in", night: variant % 2 === 1 });
  return readPixelCodes(await sharp(jpeg).raw().toBuffer({ resolveWithObject: true }));
}

describe("the printed tag in a drawn photo", () => {
  it.each(TAGGED)("is read in %s, by day and by night", async (scene) => {
    for (const variant of [1, 2, 3]) expect(await codesIn(scene, variant), `variant ${variant}`).toEqual([CODE]);
  });

  it.each(PLAIN)("is not in %s", async (scene) => {
    expect(await codesIn(scene, 2)).toEqual([]);
  });

  it("is not drawn where the pile has none", async () => {
    const jpeg = await drawScene("pile-face", { core: "H", variant: 3, mark: "M-1" });
    expect(await readPixelCodes(await sharp(jpeg).raw().toBuffer({ resolveWithObject: true }))).toEqual([]);
  });
});
