import sharp from "sharp";
import { withExif } from "#seed/photo/exif";
import type { PhotoMaker } from "#seed/photo/maker-pool";
import { pictureOf } from "#tests/support/picture";

/** Makes photos of nothing, each unlike the others, that say the same about their time and place as drawn ones. */
export function plainMaker(): PhotoMaker {
  return {
    async make({ options, facts, savedAgain }) {
      const drawn = await pictureOf(options.variant, 128, 96);
      const jpeg = savedAgain ? await sharp(drawn).resize(100).jpeg({ quality: 62 }).toBuffer() : drawn;
      return facts ? withExif(jpeg, facts) : jpeg;
    },
    close: async () => undefined,
  };
}
