/**
 * Writes what a camera says about a photo into the file, as Exif 2.31 (CIPA DC-008-2016). Written here because the
 * image library would decode and encode the picture again, and states Exif 2.1, which has no OffsetTimeOriginal.
 */

export interface CameraFacts {
  /** Local time on the camera's clock, "YYYY:MM:DD HH:MM:SS"; written as it is, so that a faulty one can be made. */
  dateTimeOriginal: string;
  /** Digits after the second. */
  subSec?: string;
  /** "-04:00"; null or missing leaves the tag out, as many cameras do. */
  offset?: string | null;
  make: string;
  model: string;
  serial?: string;
  software?: string;
  gps?: {
    /** Degrees, north and east positive. */
    latitude: number;
    longitude: number;
    /** Horizontal positioning error, m. */
    errorM?: number;
    /** Time of the fix, ISO 8601 with Z or an offset. */
    utc?: string;
  };
  /** 1 to 8, as in Exif; 1 when missing. */
  orientation?: number;
}

const ASCII = 2;
const SHORT = 3;
const LONG = 4;
const RATIONAL = 5;
const UNDEFINED = 7;
const BYTE = 1;

interface Field {
  tag: number;
  type: number;
  count: number;
  data: Buffer;
}

const ascii = (tag: number, text: string): Field => {
  const data = Buffer.from(`${text}\0`, "latin1");
  return { tag, type: ASCII, count: data.length, data };
};
const bytes = (tag: number, type: typeof BYTE | typeof UNDEFINED, values: readonly number[]): Field => ({ tag, type, count: values.length, data: Buffer.from(values) });
const short = (tag: number, value: number): Field => {
  const data = Buffer.alloc(2);
  data.writeUInt16BE(value);
  return { tag, type: SHORT, count: 1, data };
};
const long = (tag: number, value: number): Field => {
  const data = Buffer.alloc(4);
  data.writeUInt32BE(value);
  return { tag, type: LONG, count: 1, data };
};
const rational = (tag: number, parts: readonly (readonly [over: number, under: number])[]): Field => {
  const data = Buffer.alloc(parts.length * 8);
  parts.forEach(([over, under], i) => {
    data.writeUInt32BE(over, i * 8);
    data.writeUInt32BE(under, i * 8 + 4);
  });
  return { tag, type: RATIONAL, count: parts.length, data };
};

/** One directory with its long values behind it; `start` is where it will stand in the TIFF part. */
function directory(fields: readonly Field[], start: number): Buffer {
  const sorted = [...fields].sort((a, b) => a.tag - b.tag);
  const head = Buffer.alloc(2 + sorted.length * 12 + 4);
  head.writeUInt16BE(sorted.length);
  const tail: Buffer[] = [];
  let next = start + head.length;
  sorted.forEach(({ tag, type, count, data }, i) => {
    const at = 2 + i * 12;
    head.writeUInt16BE(tag, at);
    head.writeUInt16BE(type, at + 2);
    head.writeUInt32BE(count, at + 4);
    if (data.length <= 4) {
      data.copy(head, at + 8);
      return;
    }
    head.writeUInt32BE(next, at + 8);
    const even = data.length % 2 === 0 ? data : Buffer.concat([data, Buffer.alloc(1)]);
    tail.push(even);
    next += even.length;
  });
  return Buffer.concat([head, ...tail]);
}

/** Degrees, minutes and seconds to a ten-thousandth of a second: 3 mm on the ground. */
function sexagesimal(degrees: number): [number, number][] {
  const parts = Math.round(Math.abs(degrees) * 3600 * 10_000);
  return [[Math.floor(parts / 36_000_000), 1], [Math.floor(parts / 600_000) % 60, 1], [parts % 600_000, 10_000]];
}

function gpsFields(gps: NonNullable<CameraFacts["gps"]>): Field[] {
  const fields = [
    bytes(0x0000, BYTE, [2, 3, 0, 0]),
    ascii(0x0001, gps.latitude < 0 ? "S" : "N"), rational(0x0002, sexagesimal(gps.latitude)),
    ascii(0x0003, gps.longitude < 0 ? "W" : "E"), rational(0x0004, sexagesimal(gps.longitude)),
    ascii(0x0012, "WGS-84"),
  ];
  if (gps.errorM !== undefined) fields.push(rational(0x001f, [[Math.round(gps.errorM * 100), 100]]));
  if (gps.utc !== undefined) {
    const fix = new Date(gps.utc);
    fields.push(
      ascii(0x001d, fix.toISOString().slice(0, 10).replaceAll("-", ":")),
      rational(0x0007, [[fix.getUTCHours(), 1], [fix.getUTCMinutes(), 1], [fix.getUTCSeconds() * 1000 + fix.getUTCMilliseconds(), 1000]]),
    );
  }
  return fields;
}

function tiff(facts: CameraFacts, widthPx: number, heightPx: number): Buffer {
  const exif = [
    bytes(0x9000, UNDEFINED, [...Buffer.from("0231")]),
    ascii(0x9003, facts.dateTimeOriginal), ascii(0x9004, facts.dateTimeOriginal),
    bytes(0x9101, UNDEFINED, [1, 2, 3, 0]), bytes(0xa000, UNDEFINED, [...Buffer.from("0100")]),
    short(0xa001, 1), long(0xa002, widthPx), long(0xa003, heightPx),
  ];
  if (facts.offset) exif.push(ascii(0x9010, facts.offset), ascii(0x9011, facts.offset), ascii(0x9012, facts.offset));
  if (facts.subSec !== undefined) exif.push(ascii(0x9291, facts.subSec), ascii(0x9292, facts.subSec));
  if (facts.serial !== undefined) exif.push(ascii(0xa431, facts.serial));

  const image = (exifAt: number, gpsAt: number): Field[] => [
    ascii(0x010f, facts.make), ascii(0x0110, facts.model), short(0x0112, facts.orientation ?? 1),
    rational(0x011a, [[72, 1]]), rational(0x011b, [[72, 1]]), short(0x0128, 2),
    ...(facts.software === undefined ? [] : [ascii(0x0131, facts.software)]),
    ascii(0x0132, facts.dateTimeOriginal), short(0x0213, 1), long(0x8769, exifAt),
    ...(facts.gps ? [long(0x8825, gpsAt)] : []),
  ];
  const start = 8;
  const exifAt = start + directory(image(0, 0), start).length;
  const exifPart = directory(exif, exifAt);
  const gpsAt = exifAt + exifPart.length;
  const header = Buffer.from([0x4d, 0x4d, 0, 42, 0, 0, 0, start]);
  return Buffer.concat([header, directory(image(exifAt, gpsAt), start), exifPart, ...(facts.gps ? [directory(gpsFields(facts.gps), gpsAt)] : [])]);
}

interface Segment {
  marker: number;
  /** The whole segment, its marker and length included. */
  bytes: Buffer;
}

/** The segments before the picture data, and the rest as it is. */
function segments(jpeg: Buffer): { head: Segment[]; rest: Buffer } {
  if (jpeg.readUInt16BE(0) !== 0xffd8) throw new RangeError("This is not a JPEG.");
  const head: Segment[] = [];
  let at = 2;
  while (jpeg.readUInt16BE(at) !== 0xffda) {
    const end = at + 2 + jpeg.readUInt16BE(at + 2);
    head.push({ marker: jpeg.readUInt8(at + 1), bytes: jpeg.subarray(at, end) });
    at = end;
  }
  return { head, rest: jpeg.subarray(at) };
}

const APP0 = 0xe0;
const APP1 = 0xe1;
const isFrame = (marker: number): boolean => marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);

/**
 * Puts the facts into the file as its first segment; the picture's own bytes stay. A JFIF or Exif segment that was
 * there goes, as a camera writes only one.
 *
 * @throws RangeError when the bytes are no JPEG or `gps.utc` is no time.
 */
export function withExif(jpeg: Buffer, facts: CameraFacts): Buffer {
  const { head, rest } = segments(jpeg);
  const frame = head.find(({ marker }) => isFrame(marker));
  if (!frame) throw new RangeError("This JPEG has no frame.");
  const body = Buffer.concat([Buffer.from("Exif\0\0", "latin1"), tiff(facts, frame.bytes.readUInt16BE(7), frame.bytes.readUInt16BE(5))]);
  const start = Buffer.alloc(6);
  start.writeUInt16BE(0xffd8, 0);
  start.writeUInt16BE(0xff00 | APP1, 2);
  start.writeUInt16BE(body.length + 2, 4);
  const kept = head.filter(({ marker, bytes: own }) => marker !== APP0 && !(marker === APP1 && own.subarray(4, 8).toString("latin1") === "Exif"));
  return Buffer.concat([start, body, ...kept.map((segment) => segment.bytes), rest]);
}
