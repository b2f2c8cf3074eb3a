import sharp from "sharp";
import { withExif } from "#seed/photo/exif";
import type { MakerReply, MakerRequest } from "#seed/photo/maker-pool";
import { drawScene } from "#seed/photo/scene";

// One thread for each picture: the pool already has a process for each core.
sharp.concurrency(1);

async function answer({ id, scene, options, facts }: MakerRequest): Promise<MakerReply> {
  try {
    const jpeg = await drawScene(scene, options);
    return { id, jpeg: facts ? withExif(jpeg, facts) : jpeg };
  } catch (error) {
    return { id, error: error instanceof Error ? error.message : String(error) };
  }
}

process.on("message", (request: MakerRequest) => {
  void answer(request).then((reply) => process.send?.(reply));
});
