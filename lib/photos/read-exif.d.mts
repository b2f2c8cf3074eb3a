type Texts<Name extends string> = { readonly [name in Name]?: string };

/** The fields of an Exif block by directory, as text. A field that is not in the file is not in here. */
export interface ExifFields {
  readonly main: Texts<"make" | "model" | "orientation" | "software" | "modifyDate">;
  readonly exif: Texts<
    | "dateTimeOriginal"
    | "dateTimeDigitized"
    | "offsetTime"
    | "offsetTimeOriginal"
    | "offsetTimeDigitized"
    | "subSecTimeOriginal"
    | "serial"
    | "comment"
    | "pixelWidth"
    | "pixelHeight"
  >;
  readonly gps: Texts<
    | "latitudeRef"
    | "latitude"
    | "longitudeRef"
    | "longitude"
    | "altitudeRef"
    | "altitude"
    | "timeStamp"
    | "status"
    | "dop"
    | "dateStamp"
    | "hPositioningError"
  >;
  /** What could not be read, in words. */
  readonly problems: readonly string[];
}

export function readExif(block: Uint8Array): Promise<ExifFields>;
export function readExifOfHeic(file: Uint8Array): Promise<ExifFields | null>;
