import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { drawScene, type Scene, SCENES, type SceneOptions } from "#seed/photo/scene";

const CORES = ["H", "square", "round"] as const;
const FACES = ["N", "E", "S", "W"] as const;

/** A 64-bit difference hash: grey, 9 × 8, a bit for each pixel that is brighter than its right neighbour. */
async function differenceHash(photo: Buffer, turn = 0, flip = false): Promise<boolean[]> {
  const turned = await sharp(photo).rotate(turn).flop(flip).png().toBuffer();
  const grey = await sharp(turned).greyscale().resize(9, 8, { fit: "fill" }).raw().toBuffer();
  return Array.from({ length: 64 }, (_, bit) => {
    const at = Math.floor(bit / 8) * 9 + (bit % 8);
    return (grey[at] ?? 0) > (grey[at + 1] ?? 0);
  });
}

const distance = (a: readonly boolean[], b: readonly boolean[]): number => a.filter((bit, i) => bit !== b[i]).length;

function optionsFor(i: number, more: Partial<SceneOptions> = {}): SceneOptions {
  return { core: CORES[i % 3] ?? "H", variant: i, mark: "03-D", face: FACES[i % 4], item: 1 + (i % 6), value: "6.5 in", text: "LOT A-771\nEXP 2027-04", ...more };
}

describe("a drawn photo", () => {
  it.each(SCENES)("of %s is a JPEG of 960 by 720 with enough in it to see", async (scene) => {
    const photo = await drawScene(scene, optionsFor(SCENES.indexOf(scene)));

    const { format, width, height, exif } = await sharp(photo).metadata();
    expect({ format, width, height, exif }).toEqual({ format: "jpeg", width: 960, height: 720, exif: undefined });
    const { channels, sharpness } = await sharp(photo).stats();
    const brightness = channels.reduce((sum, { mean }) => sum + mean, 0) / channels.length;
    expect(brightness).toBeGreaterThan(35);
    expect(brightness).toBeLessThan(200);
    expect(Math.max(...channels.map(({ stdev }) => stdev))).toBeGreaterThan(15);
    expect(sharpness).toBeGreaterThan(1);
  });

  it("has the same bytes whenever it is drawn again, also beside others", async () => {
    const once = await drawScene("cover-up-overview", optionsFor(3));
    const [again] = await Promise.all([drawScene("cover-up-overview", optionsFor(3)), drawScene("mix", optionsFor(3)), drawScene("pile-tag", optionsFor(3))]);
    expect(again?.equals(once)).toBe(true);
  });

  it.each<[string, Partial<SceneOptions>]>([
    ["variant", { variant: 99 }], ["face", { face: "S" }], ["mark", { mark: "04-B" }], ["item", { item: 12 }],
    ["value", { value: "7.1 in" }], ["core", { core: "round" }], ["night", { night: true }],
  ])("is another picture when only its %s is another", async (_what, more) => {
    const [one, other] = await Promise.all([drawScene("spacer-ring", optionsFor(0)), drawScene("spacer-ring", optionsFor(0, more))]);
    expect(distance(await differenceHash(one), await differenceHash(other))).toBeGreaterThan(8);
  });

  it("shows more unlike resin with streaks than mixed through", async () => {
    const spread = async (streaks: boolean): Promise<number> => {
      const photo = await drawScene("mix", optionsFor(2, { streaks, variant: 5 }));
      const { channels } = await sharp(await sharp(photo).extract({ left: 330, top: 260, width: 260, height: 200 }).png().toBuffer()).stats();
      return Math.max(...channels.map(({ stdev }) => stdev));
    };
    expect(await spread(true)).toBeGreaterThan(1.5 * (await spread(false)));
  });

  it("is at night darker at the corners than in the middle", async () => {
    const photo = await drawScene("cover-up-overview", optionsFor(1, { night: true }));
    const mean = async (left: number, top: number): Promise<number> =>
      (await sharp(await sharp(photo).extract({ left, top, width: 120, height: 120 }).png().toBuffer()).stats()).channels[1]?.mean ?? Number.NaN;
    expect(await mean(0, 600)).toBeLessThan(0.6 * (await mean(420, 300)));
  });

  it("is not taken for another photo of the same kind by a difference hash in any orientation", async () => {
    // The kinds that a pile needs most of, drawn as they fall in the record: the same pile from four sides, and many piles alike.
    const crowded: readonly Scene[] = ["pile-face", "cover-up-overview", "annulus-top", "bar-tape", "torque-wrench"];
    for (const scene of crowded) {
      const photos = await Promise.all(Array.from({ length: 8 }, async (_, i) =>
        sharp(await drawScene(scene, optionsFor(i, { core: "square", item: 1 }))).resize(96, 72).png().toBuffer()));
      const upright = await Promise.all(photos.map((photo) => differenceHash(photo)));
      for (const [i, photo] of photos.entries()) {
        for (const [turn, flip] of [[0, false], [90, false], [180, false], [270, false], [0, true], [90, true], [180, true], [270, true]] as const) {
          const seen = await differenceHash(photo, turn, flip);
          upright.forEach((other, j) => {
            if (j !== i) expect(distance(seen, other), `${scene} ${i} and ${j}`).toBeGreaterThan(8);
          });
        }
      }
    }
  });
});
