/** The fields of one directory by tag number, as text: characters, whole numbers "6", or fractions "12/1 13/1 5/1". */
export type TiffFields = ReadonlyMap<number, string>;

export interface TiffBlock {
  readonly main: TiffFields;
  readonly exif: TiffFields;
  readonly gps: TiffFields;
  /** What could not be read, in words. */
  readonly problems: readonly string[];
}

/** Tags that are read, by directory. Source: CIPA DC-008-2019; numbers checked against the tag tables of exiftool. */
export const TAG = {
  main: { make: 0x010f, model: 0x0110, orientation: 0x0112, software: 0x0131, modifyDate: 0x0132 },
  exif: {
    dateTimeOriginal: 0x9003,
    dateTimeDigitized: 0x9004,
    offsetTime: 0x9010,
    offsetTimeOriginal: 0x9011,
    offsetTimeDigitized: 0x9012,
    subSecTimeOriginal: 0x9291,
    serial: 0xa431,
  },
  gps: {
    latitudeRef: 0x01,
    latitude: 0x02,
    longitudeRef: 0x03,
    longitude: 0x04,
    altitudeRef: 0x05,
    altitude: 0x06,
    timeStamp: 0x07,
    status: 0x09,
    dop: 0x0b,
    dateStamp: 0x1d,
    hPositioningError: 0x1f,
  },
} as const;

const EXIF_POINTER = 0x8769;
const GPS_POINTER = 0x8825;
/** None of the tags holds more numbers than this, nor longer text (bytes). More is a broken or hostile file. */
const MOST_NUMBERS = 8;
const MOST_TEXT_BYTES = 65_536;

interface FieldType {
  /** Bytes of one value. */
  readonly size: number;
  readonly read: "text" | ((view: DataView, at: number, little: boolean) => string);
}

/** Byte, text, 16 and 32 bits, fraction, untyped bytes (text in practice), signed fraction, UTF-8 text (Exif 3.0). */
const TYPES: Readonly<Record<number, FieldType>> = {
  1: { size: 1, read: (view, at) => String(view.getUint8(at)) },
  2: { size: 1, read: "text" },
  3: { size: 2, read: (view, at, little) => String(view.getUint16(at, little)) },
  4: { size: 4, read: (view, at, little) => String(view.getUint32(at, little)) },
  5: { size: 8, read: (view, at, little) => `${view.getUint32(at, little)}/${view.getUint32(at + 4, little)}` },
  7: { size: 1, read: "text" },
  10: { size: 8, read: (view, at, little) => `${view.getInt32(at, little)}/${view.getInt32(at + 4, little)}` },
  129: { size: 1, read: "text" },
};

/**
 * Reads the wanted fields of an Exif block (a TIFF header and its directories, without the "Exif\0\0" in front).
 *
 * Written here because a fraction has to stay a fraction and a text has to stay as written: readers at hand divide 0/0,
 * trim, and turn texts into dates of the machine's own zone.
 * Each field stands for itself: one that points outside the block is named in `problems` and the rest is still read. No
 * count in the file decides how much memory is used.
 *
 * @source TIFF 6.0, section 2; CIPA DC-008-2019, 4.6.
 */
export function readTiff(block: Uint8Array): TiffBlock {
  const problems: string[] = [];
  const view = new DataView(block.buffer, block.byteOffset, block.byteLength);
  const order = view.byteLength >= 8 ? view.getUint16(0) : 0;
  const little = order === 0x4949;
  if ((!little && order !== 0x4d4d) || view.getUint16(2, little) !== 42) {
    return { main: new Map(), exif: new Map(), gps: new Map(), problems: ["the Exif block has no header"] };
  }

  const read = (name: string, at: number, wanted: readonly number[]) => readDirectory({ view, little, name, problems }, at, wanted);
  const main = read("IFD0", view.getUint32(4, little), [...Object.values(TAG.main), EXIF_POINTER, GPS_POINTER]);
  const below = (name: string, pointer: number, wanted: readonly number[]) => {
    const at = main.get(pointer);
    return at === undefined ? new Map<number, string>() : read(name, Number(at), wanted);
  };
  return { main, exif: below("Exif", EXIF_POINTER, Object.values(TAG.exif)), gps: below("GPS", GPS_POINTER, Object.values(TAG.gps)), problems };
}

interface Source {
  readonly view: DataView;
  readonly little: boolean;
  readonly name: string;
  readonly problems: string[];
}

function readDirectory(source: Source, at: number, wanted: readonly number[]): TiffFields {
  const { view, little, name, problems } = source;
  const fields = new Map<number, string>();
  if (!Number.isInteger(at) || at < 8 || at + 2 > view.byteLength) {
    problems.push(`${name} lies outside the block`);
    return fields;
  }

  const count = view.getUint16(at, little);
  const inside = Math.min(count, Math.floor((view.byteLength - at - 2) / 12));
  if (inside < count) problems.push(`${name} is cut off`);
  for (let entry = at + 2; entry < at + 2 + inside * 12; entry += 12) {
    const tag = view.getUint16(entry, little);
    if (!wanted.includes(tag) || fields.has(tag)) continue;
    const value = readValue(source, entry);
    if (value === null) problems.push(`${name} field 0x${tag.toString(16).padStart(4, "0")} cannot be read`);
    else fields.set(tag, value);
  }
  return fields;
}

function readValue({ view, little }: Source, entry: number): string | null {
  const type = TYPES[view.getUint16(entry + 2, little)];
  const count = view.getUint32(entry + 4, little);
  if (type === undefined || count > (type.read === "text" ? MOST_TEXT_BYTES : MOST_NUMBERS)) return null;

  const size = type.size * count;
  const at = size <= 4 ? entry + 8 : view.getUint32(entry + 8, little);
  if (at + size > view.byteLength) return null;
  if (type.read === "text") return textOf(new Uint8Array(view.buffer, view.byteOffset + at, size));

  const { read } = type;
  return Array.from({ length: count }, (_, i) => read(view, at + i * type.size, little)).join(" ");
}

/** Up to the first NUL: what lies behind it is left over from something else. */
function textOf(bytes: Uint8Array): string {
  const end = bytes.indexOf(0);
  return new TextDecoder("utf-8").decode(end === -1 ? bytes : bytes.subarray(0, end));
}
