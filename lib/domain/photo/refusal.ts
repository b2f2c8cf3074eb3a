/** Why a file was not taken. Each sentence says what is wrong and what to do next. */
export const REFUSALS = {
  EMPTY: "The file is empty. Take or choose the photo again.",
  NOT_AN_IMAGE: "This is not a picture that can be read. Send the photo itself, as the camera wrote it.",
  FORMAT_NOT_ALLOWED: "This kind of file is not taken. Photos: JPEG, PNG, WebP or HEIC, not moving. Documents: PDF.",
  TOO_MANY_PIXELS: "The picture has too many pixels. Send it at the size the camera took it, not a stitched or enlarged one.",
  TOO_SMALL: "The picture is too small to show anything. Send the photo itself, not its thumbnail.",
  TOO_LARGE: "The file is too large. Send the photo at the camera's normal size.",
  METADATA_OVERSIZE: "The file carries more hidden data than picture. Send the photo as the camera wrote it.",
  DIGEST_MISMATCH: "What arrived is not what the phone sent. It is still on the phone: send it again.",
  INTERRUPTED: "The transfer broke off before the end. The file is still on the phone: send it again.",
} as const;

export type RefusalCode = keyof typeof REFUSALS;

/** A refusal: the code, the sentence for the person, and what was measured against which limit where there is a number. */
export interface Refusal {
  readonly code: RefusalCode;
  readonly sentence: string;
  readonly measured: string | null;
}

export function refusal(code: RefusalCode, measured: string | null = null): Refusal {
  return { code, sentence: REFUSALS[code], measured };
}
