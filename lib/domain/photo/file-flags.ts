import type { PhotoFlag } from "#lib/domain/photo/flag";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import { pictureDetail } from "#lib/domain/photo/picture-detail";
import { smallPictureBits } from "#lib/domain/photo/small-picture";
import type { GreyPicture } from "#lib/domain/photo/small-picture";
import { sourceKind } from "#lib/domain/photo/source-type";

const KB = 1024;

/** How a file is put together, as far as it raises flags. */
export interface FileFacts {
  /** Everything in it that is no picture, bytes. */
  readonly metadataBytes: number;
  /** Behind the end of the picture, without what the file itself says is there, bytes. */
  readonly trailingBytes: number;
  /** The file says that it is longer than it is. */
  readonly cutShort: boolean;
  /** What its content credentials call the source of the picture, in the words of the IPTC. */
  readonly sourceTypes: readonly string[];
  /** Exif blocks, of which the first is read. */
  readonly exifBlocks: number;
}

/** The flags that the bytes of a file raise, before any pixel is read. */
export function fileFlags({ metadataBytes, trailingBytes, cutShort, sourceTypes, exifBlocks }: FileFacts, limits: PhotoLimits): PhotoFlag[] {
  const flags: PhotoFlag[] = [];
  if (metadataBytes > limits.largeMetadataKb * KB) {
    flags.push({ code: "METADATA_OVERSIZE", measured: `${metadataBytes} bytes`, limit: `${limits.largeMetadataKb * KB} bytes` });
  }
  if (trailingBytes > limits.trailingBytes * KB) {
    flags.push({ code: "TRAILING_DATA", measured: `${trailingBytes} bytes after the end of the picture`, limit: `${limits.trailingBytes * KB} bytes` });
  }
  if (exifBlocks > 1) flags.push({ code: "METADATA_CONFLICT", measured: `${exifBlocks} Exif blocks, of which the first is read`, limit: "one" });
  if (cutShort) flags.push({ code: "TRUNCATED", measured: "shorter than the file says", limit: "a whole picture" });

  const saying = (kind: ReturnType<typeof sourceKind>) => sourceTypes.filter((type) => sourceKind(type) === kind).join(", ");
  if (saying("generated") !== "") flags.push({ code: "SYNTHETIC_DECLARED", measured: `content credentials: ${saying("generated")}`, limit: SOURCE_LIMIT });
  if (saying("edited") !== "") flags.push({ code: "SOFTWARE_EDITED", measured: `content credentials: ${saying("edited")}`, limit: SOURCE_LIMIT });
  if (saying("screen") !== "") flags.push({ code: "SCREENSHOT_SUSPECT", measured: `content credentials: ${saying("screen")}`, limit: SOURCE_LIMIT });
  return flags;
}

/** What a declared source is held against. */
export const SOURCE_LIMIT = "taken with a camera";

/**
 * The flags that the look of a picture raises.
 *
 * @param large Null when its pixels could not be read.
 * @param small The small picture inside the file; null without one.
 */
export function lookFlags(large: GreyPicture | null, small: GreyPicture | null, limits: PhotoLimits): PhotoFlag[] {
  if (large === null) return [];
  const bits = small === null ? null : smallPictureBits(small, large);
  return [...detailFlags(large.grid, limits), ...(bits !== null && bits > limits.thumbnailBits ? [otherSmallPicture(bits, limits)] : [])];
}

function otherSmallPicture(bits: number, { thumbnailBits }: PhotoLimits): PhotoFlag {
  return { code: "THUMBNAIL_MISMATCH", measured: `${bits} of 64 bits differ`, limit: `${thumbnailBits} of 64 bits` };
}

/** A blank picture has little detail too: that is said once. */
function detailFlags(grid: Uint8Array, { blankLevels, lowDetailLevels }: PhotoLimits): PhotoFlag[] {
  const { spreadLevels, stepLevels } = pictureDetail(grid);
  if (spreadLevels < blankLevels) return [{ code: "BLANK_IMAGE", measured: `brightness varies by ${tenths(spreadLevels)} levels`, limit: `${blankLevels} of 255 levels` }];
  if (stepLevels < lowDetailLevels) return [{ code: "LOW_DETAIL", measured: `neighbouring parts differ by ${tenths(stepLevels)} levels`, limit: `${lowDetailLevels} of 255 levels` }];
  return [];
}

function tenths(value: number): string {
  return value.toFixed(2);
}
