import sharp from "sharp";
import { withExif } from "#seed/photo/exif";
import type { MakerReply, MakerRequest } from "#seed/photo/maker-pool";
import { drawScene } from "#seed/photo/scene";

// One thread for each picture: the pool already has a process for each core.
sharp.concurrency(1);

/** What a message makes of a photo: fewer pixels, and nothing of what the camera wrote. */
const AGAIN = { width: 640, quality: 62 } as const;

async function answer({ id, scene, options, facts, savedAgain }: MakerRequest): Promise<MakerReply> {
  try {
    const drawn = await drawScene(scene, options);
    const jpeg = savedAgain ? await sharp(drawn).resize(AGAIN.width).jpeg({ quality: AGAIN.quality }).toBuffer() : drawn;
    return { id, jpeg: facts ? withExif(jpeg, facts) : jpeg };
  } catch (error) {
    return { id, error: error instanceof Error ? error.message : String(error) };
  }
}

process.on("message", (request: MakerRequest) => {
  void answer(request).then((reply) => process.send?.(reply));
});
