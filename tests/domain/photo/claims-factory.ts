import { NO_CLAIMS } from "#lib/domain/photo/claims";
import type { PhotoClaims } from "#lib/domain/photo/claims";

/** Claims that say only what is given. */
export function claimsWith(parts: {
  readonly camera?: Partial<PhotoClaims["camera"]>;
  readonly gps?: Partial<PhotoClaims["gps"]>;
  readonly xmp?: Partial<PhotoClaims["xmp"]>;
  readonly device?: PhotoClaims["device"];
}): PhotoClaims {
  return {
    ...NO_CLAIMS,
    camera: { ...NO_CLAIMS.camera, ...parts.camera },
    gps: { ...NO_CLAIMS.gps, ...parts.gps },
    xmp: { ...NO_CLAIMS.xmp, ...parts.xmp },
    device: parts.device ?? {},
  };
}

/** "2026:10:20 12:13:05" as the two GPS fields of a file. */
export function gpsTime(text: string): Pick<PhotoClaims["gps"], "dateStamp" | "timeStamp"> {
  const [date = "", time = ""] = text.split(" ");
  return { dateStamp: date, timeStamp: time.split(":").map((part) => `${Number(part)}/1`).join(" ") };
}

export const at = (iso: string): number => Date.parse(iso);
