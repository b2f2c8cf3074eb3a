import { develop } from "#seed/photo/develop";
import { randFrom } from "#seed/photo/random";
import { PAINTERS, SCENES, type Scene } from "#seed/photo/draw/painters";
import type { Core, Face } from "#seed/photo/shot";

export { SCENES, type Scene };

export interface SceneOptions {
  core: Core;
  /** Another number is another press of the shutter: camera, light, stains and offsets all change. */
  variant: number;
  mark?: string;
  /** What the code on the pile's printed tag says. */
  code?: string;
  face?: Face;
  item?: number;
  /** The reading of the instrument, as it should be read off the photo: "7.1 in", "385 g". */
  value?: string;
  /** Lettering on labels and tags; a line break starts the next line. */
  text?: string;
  night?: boolean;
  /** For the mix: resin with streaks of one part left in it. */
  streaks?: boolean;
}

/** Draws one photo, 960 × 720 px JPEG without metadata. The same scene and options give the same bytes. */
export async function drawScene(scene: Scene, options: SceneOptions): Promise<Buffer> {
  const { core, variant, mark = "", code, face, item, value, text, night = false, streaks = false } = options;
  const rand = randFrom(JSON.stringify([scene, core, variant, mark, face ?? "", item ?? "", value ?? "", text ?? "", night, streaks]));
  return develop(PAINTERS[scene]({ rand, core, variant, mark, code, face, item, value, text, night, streaks }), rand);
}
