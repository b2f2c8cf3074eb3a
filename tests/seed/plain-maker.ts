import sharp from "sharp";
import { withExif } from "#seed/photo/exif";
import type { PhotoMaker } from "#seed/photo/maker-pool";

/** Makes photos of nothing, each unlike the others, that say the same about their time and place as drawn ones. */
export function plainMaker(): PhotoMaker {
  return {
    async make({ options, facts }) {
      const { variant } = options;
      const grey = await sharp({
        create: { width: 96, height: 72, channels: 3, background: { r: variant % 256, g: (variant >> 8) % 256, b: (variant >> 16) % 256 }, noise: { type: "gaussian", mean: 120, sigma: 20 } },
      }).jpeg().toBuffer();
      return facts ? withExif(grey, facts) : grey;
    },
    close: async () => undefined,
  };
}
