import { z } from "zod";
import { OperationId } from "#lib/edge/schema/point";

export const CameraClockBody = z
  .strictObject({
    id: OperationId,
    camera: z.string().min(1, "Name the camera by its key.").max(2_000).describe("Key of the camera, from the list of cameras"),
    seen: z.int().min(0).describe("Place in the log of the last reference that was looked at, from the list of cameras"),
    words: z.string().max(2_000).default(""),
  })
  .describe("The QC manager takes the camera's clock to have run as its references show.");
