// Plain JavaScript like the worker that runs it: an Exif block is a stranger's too, and may cost that process, nothing else.
import exifr from "exifr";
import ExifReader from "exifreader";

/** @typedef {"main" | "exif" | "gps"} Directory */
/** @typedef {Record<Directory, Record<string, string>>} Fields */

/**
 * The fields that are read, by directory: tag number, and the name that the second reader has for it.
 * Source: CIPA DC-008-2019; numbers checked against the tag tables of exiftool.
 */
/** @type {Record<Directory, Record<string, [number, string]>>} */
const FIELDS = {
  main: {
    make: [0x010f, "Make"],
    model: [0x0110, "Model"],
    orientation: [0x0112, "Orientation"],
    software: [0x0131, "Software"],
    modifyDate: [0x0132, "DateTime"],
  },
  exif: {
    dateTimeOriginal: [0x9003, "DateTimeOriginal"],
    dateTimeDigitized: [0x9004, "DateTimeDigitized"],
    offsetTime: [0x9010, "OffsetTime"],
    offsetTimeOriginal: [0x9011, "OffsetTimeOriginal"],
    offsetTimeDigitized: [0x9012, "OffsetTimeDigitized"],
    subSecTimeOriginal: [0x9291, "SubSecTimeOriginal"],
    serial: [0xa431, "BodySerialNumber"],
    comment: [0x9286, "UserComment"],
    pixelWidth: [0xa002, "PixelXDimension"],
    pixelHeight: [0xa003, "PixelYDimension"],
  },
  gps: {
    latitudeRef: [0x01, "GPSLatitudeRef"],
    latitude: [0x02, "GPSLatitude"],
    longitudeRef: [0x03, "GPSLongitudeRef"],
    longitude: [0x04, "GPSLongitude"],
    altitudeRef: [0x05, "GPSAltitudeRef"],
    altitude: [0x06, "GPSAltitude"],
    timeStamp: [0x07, "GPSTimeStamp"],
    status: [0x09, "GPSStatus"],
    dop: [0x0b, "GPSDOP"],
    dateStamp: [0x1d, "GPSDateStamp"],
    hPositioningError: [0x1f, "GPSHPositioningError"],
  },
};

/** Fields that hold numbers. In every other field bytes are characters. */
const NUMERIC = new Set(["orientation", "pixelWidth", "pixelHeight", "latitude", "longitude", "altitudeRef", "altitude", "timeStamp", "dop", "hPositioningError"]);

/** Most numbers taken from one field: written out they are longer than any claim may be, so nothing cut here looks whole. */
const MOST_NUMBERS = 256;

/** Longest comment that is looked at, bytes: longer than any claim may be, so that nothing cut here looks whole. */
const MOST_COMMENT_BYTES = 1200;

/** @param {Directory} directory */
const tagsOf = (directory) => Object.values(FIELDS[directory]).map(([tag]) => tag);

// Raw values only: no dates, no words for numbers, nothing of one directory written over another's. Only the wanted tags are
// looked at, each at most once, so that a hostile directory cannot have the same bytes read over and over.
const FIRST_READER = {
  reviveValues: false,
  translateValues: false,
  translateKeys: false,
  mergeOutput: false,
  silentErrors: false, // else a broken directory below the first one goes unsaid
  ifd0: { pick: tagsOf("main") },
  exif: { pick: tagsOf("exif") },
  gps: { pick: tagsOf("gps") },
};
const SECOND_READER = {
  computed: true,
  includeTags: { exif: Object.values(FIELDS).flatMap((fields) => Object.values(fields).map(([, name]) => name)) },
};

/** What the second reader puts in place of a value that lies outside the block, or of its only text. */
const FAULTY = "<faulty value>";

/**
 * Reads the wanted fields of an Exif block, each as text. Numbers are decimals ("44 0 1.25", and "NaN" or "Infinity" for a
 * zero denominator), or fractions ("44/1 0/1 5/4") where the first reader could not read them and the second one did.
 *
 * @param {Uint8Array} block With or without "Exif\0\0" in front.
 * @returns {Promise<import("./read-exif.mjs").ExifFields>} It never rejects: what cannot be read is named in `problems`.
 */
export async function readExif(block) {
  // Copied into memory of its own: the first reader ends where the memory ends, and would read on in what lies behind the block.
  const tiff = withoutMark(Buffer.from(new Uint8Array(block).buffer));
  // Both readers would also take a whole picture here, and read that one's claims.
  if (!/^(?:II\*\0|MM\0\*)/.test(tiff.toString("latin1", 0, 4))) return { main: {}, exif: {}, gps: {}, problems: ["the Exif block has no header"] };

  return readBlock(tiff);
}

/**
 * Reads the same fields from a whole HEIC: for one whose Exif block hangs on to no picture, so that it is not found by way of
 * the picture.
 *
 * @param {Uint8Array} file
 * @returns {Promise<import("./read-exif.mjs").ExifFields | null>} Null when the file holds none of them.
 */
export async function readExifOfHeic(file) {
  const fields = await readBlock(Buffer.from(file));
  return isEmpty(fields) ? null : fields;
}

/** @param {Buffer} tiff @returns {Promise<import("./read-exif.mjs").ExifFields>} */
async function readBlock(tiff) {
  const first = await readFirst(tiff);
  if (first !== null && !isEmpty(first)) return { ...first, problems: [] };

  const { fields, faulty, damaged } = readSecond(tiff);
  if (first !== null && !damaged && faulty.length === 0) return { ...fields, problems: [] };
  const whole = isEmpty(fields) ? "the Exif block cannot be read" : "the Exif block is damaged";
  return { ...fields, problems: [whole, ...faulty.map((field) => `${field} cannot be read`)] };
}

/** @param {Buffer} tiff @returns {Promise<Fields | null>} Null when anything in the way of the wanted fields is broken. */
async function readFirst(tiff) {
  try {
    const found = await exifr.parse(tiff, FIRST_READER);
    const groups = { main: found?.ifd0, exif: found?.exif, gps: found?.gps };
    // Of all fields it gives the comment by itself.
    return eachField((name, field, [tag]) => textOf(field, field === "comment" ? found?.userComment : groups[name]?.[tag]));
  } catch {
    return null;
  }
}

/** Reads what can be read. @param {Buffer} tiff */
function readSecond(tiff) {
  const faulty = [];
  try {
    const found = ExifReader.load(tiff, SECOND_READER);
    const fields = eachField((_, field, [, name]) => {
      if ([found[name]?.value].flat()[0] !== FAULTY) return secondTextOf(field, found[name]);
      faulty.push(field);
      return null;
    });
    return { fields, faulty, damaged: false };
  } catch {
    return { fields: eachDirectory(() => ({})), faulty, damaged: true };
  }
}

/**
 * A value as text: a text up to the first NUL, since what lies behind it is left over from something else; numbers with
 * blanks between; null for nothing.
 * @param {string} field
 * @param {unknown} value
 */
function textOf(field, value) {
  if (field === "comment" && value instanceof Uint8Array) return commentOf(value);
  if (typeof value === "string") return value.split("\0", 1)[0] ?? "";
  if (typeof value === "number") return String(value);
  if (value instanceof Uint8Array && !NUMERIC.has(field)) return textOf(field, new TextDecoder("utf-8").decode(value));
  if (Array.isArray(value) || value instanceof Object.getPrototypeOf(Uint8Array)) return Array.from(value.slice(0, MOST_NUMBERS)).join(" ");
  return null;
}

/**
 * A comment begins with eight bytes that name its characters.
 * Source: CIPA DC-008-2019, UserComment. The order of UNICODE is not said there: the one that gives Latin letters is taken.
 * @param {Uint8Array} bytes
 */
function commentOf(bytes) {
  const code = Buffer.from(bytes.subarray(0, 8)).toString("latin1");
  const rest = bytes.subarray(8, 8 + MOST_COMMENT_BYTES);
  if (!code.startsWith("UNICODE")) return new TextDecoder("utf-8").decode(rest).split("\0", 1)[0] ?? "";
  const big = rest[0] === 0 || (rest[0] === 0xfe && rest[1] === 0xff);
  return new TextDecoder(big ? "utf-16be" : "utf-16le").decode(rest).split("\0", 1)[0] ?? "";
}

/**
 * The same for the second reader: texts come as a list, a fraction as a pair, bytes as numbers.
 * @param {string} field
 * @param {{ value: unknown, computed?: unknown } | undefined} tag
 */
function secondTextOf(field, tag) {
  const value = tag?.value;
  const list = Array.isArray(value) ? value : value === undefined ? [] : [value];
  if (list.length === 0 || typeof list[0] === "string") return textOf(field, list[0]);
  if (Array.isArray(list[0])) return textOf(field, list.slice(0, MOST_NUMBERS).map((pair) => pair.join("/")));
  // Only of a single fraction is a pair computed to one number, or to nothing.
  if (list.length === 2 && !Array.isArray(tag?.computed)) return list.join("/");
  return textOf(field, NUMERIC.has(field) || list.some((byte) => byte > 255) ? list : Uint8Array.from(list));
}

/**
 * @template Value
 * @param {(directory: Directory) => Value} make
 * @returns {Record<Directory, Value>}
 */
function eachDirectory(make) {
  return { main: make("main"), exif: make("exif"), gps: make("gps") };
}

/**
 * @param {(directory: Directory, field: string, names: [number, string]) => string | null} read
 * @returns {Fields} Without the fields that are not there.
 */
function eachField(read) {
  return eachDirectory((name) => {
    const texts = Object.entries(FIELDS[name]).map(([field, names]) => [field, read(name, field, names)]);
    return Object.fromEntries(texts.filter(([, text]) => text !== null));
  });
}

/** @param {Fields} fields */
function isEmpty({ main, exif, gps }) {
  return [main, exif, gps].every((directory) => Object.keys(directory).length === 0);
}

/** Most containers put "Exif\0\0" before the block, some do not. @param {Buffer} block */
function withoutMark(block) {
  return block.toString("latin1", 0, 6) === "Exif\0\0" ? block.subarray(6) : block;
}
