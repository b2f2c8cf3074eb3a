import geodesic from "geographiclib-geodesic";
import { z } from "zod";
import { Decimal, plain } from "#lib/domain/quantity/decimal";
import { readNumber } from "#lib/domain/quantity/number-text";
import { toSi } from "#lib/domain/quantity/unit";
import { DecimalText } from "#lib/domain/requirement/rule";

/** A place on WGS 84 as a record keeps it: degrees as decimal text, north and east positive. */
export interface PlaceText {
  latitude: string;
  longitude: string;
}
export type AngleReading = { ok: true; degrees: string } | { ok: false; message: string };
export type PlaceReading = { ok: true; place: PlaceText } | { ok: false; message: string };

export type Axis = "latitude" | "longitude";
const AXES = {
  latitude: { positive: "N", negative: "S", max: 90, example: `44°00'07.2"N` },
  longitude: { positive: "E", negative: "W", max: 180, example: `63°30'00.0"W` },
} as const;

/** Decimal places kept of degrees that are worked out: about a tenth of a millimetre. Typed decimals stay as typed, up to 12. */
const PLACES = 9;
const MOST_PLACES = 12;

/**
 * Reads one angle: signed decimal degrees ("-63.5", "63,5 W"), or degrees, minutes and seconds with the letter of its side
 * before or after ("44°00'07.2\"N", "N 44 00 07.2", "44 0.12' N").
 *
 * A letter of the other axis, a letter against a sign, minutes or seconds of 60 and more, a fraction above the last part and
 * anything out of range are refused. Minutes without a letter or sign are refused: the side would be a guess.
 * @returns degrees as plain decimal text; worked-out ones rounded to 9 places.
 */
export function parseAngle(text: string, axis: Axis): AngleReading {
  const { positive, negative, max, example } = AXES[axis];
  const refuse = (why: string): AngleReading => ({ ok: false, message: `${why} Write the ${axis} as ${axis === "latitude" ? "44.002" : "-63.5"} or ${example}.` });
  const tidy = text.replace(/º/g, "°").normalize("NFKC").toUpperCase().replace(/−/g, "-").replace(/°|\bDEG\b/g, " ° ").replace(/[’′]/g, "'").replace(/''|[”″]/g, '"').trim();
  if (tidy === "") return refuse(`There is no ${axis}.`);

  const letters = [...tidy.matchAll(/[A-Z]/g)].map(([letter]) => letter);
  const [letter] = letters;
  if (letters.length > 1 || (letter !== undefined && !/^[NSEW]|[NSEW]$/.test(tidy))) return refuse(`${text} is not clear.`);
  if (letter !== undefined && letter !== positive && letter !== negative) return refuse(`${letter} belongs to the other axis.`);

  const body = tidy.replace(/[NSEW]/, "").trim();
  const signed = /^[+-]/.test(body);
  if (signed && letter !== undefined) return refuse(`${text} has a sign and a letter.`);
  const parts = angleParts(body.replace(/^[+-]\s*/, ""));
  if (!parts) return refuse(`${text} is not an angle.`);
  if (parts.length > 1 && letter === undefined && !signed) return refuse(`${text} does not say ${positive} or ${negative}.`);

  const [degrees = new Decimal(0), minutes = new Decimal(0), seconds = new Decimal(0)] = parts;
  if (parts.slice(0, -1).some((part) => !part.isInteger())) return refuse(`${text} has a fraction above its last part.`);
  if (minutes.gte(60) || seconds.gte(60)) return refuse(`${text} has minutes or seconds of 60 or more.`);
  const size = degrees.plus(minutes.div(60)).plus(seconds.div(3600)).toDecimalPlaces(parts.length > 1 ? PLACES : MOST_PLACES);
  if (size.gt(max)) return refuse(`${text} is beyond ${max}°.`);
  const turned = (letter === negative || body.startsWith("-")) && !size.isZero();
  return { ok: true, degrees: plain(turned ? size.negated() : size) };
}

const MARKED = /^([\d.,]+)\s*°\s*(?:([\d.,]+)\s*'\s*(?:([\d.,]+)\s*")?)?$/;
const SPACED = /^([\d.,]+)(?:[\s:]+([\d.,]+)\s*'?(?:[\s:]+([\d.,]+)\s*"?)?)?$/;

/** One to three numbers, none negative; null when that is not what stands there. */
function angleParts(body: string): Decimal[] | null {
  const found = MARKED.exec(body) ?? SPACED.exec(body.replace(/°/g, " ").replace(/\s+/g, " ").trim());
  if (!found) return null;
  const numbers = found.slice(1).filter((part) => part !== undefined).map(readNumber);
  return numbers.every((number) => "number" in number) ? numbers.map(({ number }) => number) : null;
}

/**
 * Reads latitude and longitude written in one cell, latitude first or each with its letter: "44°00'00.0\"N 63°30'00.0\"W",
 * "44.0021, -63.5003". With letters the order does not matter; without, latitude stands first.
 */
export function parsePlace(text: string): PlaceReading {
  const tidy = text.trim();
  const refuse = (why: string): PlaceReading => ({ ok: false, message: `${why} Write latitude and longitude as 44.0021, -63.5003 or 44°00'07.2"N 63°30'00.0"W.` });
  const halves = inTwo(tidy);
  if (!halves) return refuse(`${tidy === "" ? "Nothing" : tidy} is not one latitude and one longitude.`);
  const swapped = /[EW]/i.test(halves[0]) && /[NS]/i.test(halves[1]);
  const [first, second] = swapped ? [halves[1], halves[0]] : halves;
  const latitude = parseAngle(first, "latitude");
  if (!latitude.ok) return latitude;
  const longitude = parseAngle(second, "longitude");
  return longitude.ok ? { ok: true, place: { latitude: latitude.degrees, longitude: longitude.degrees } } : longitude;
}

function inTwo(text: string): [string, string] | null {
  const byLetter = /^([NSEW][^NSEW]+)([NSEW][^NSEW]+)$/i.exec(text) ?? /^([^NSEW]+[NSEW])([^NSEW]+[NSEW])$/i.exec(text);
  const halves = byLetter ? byLetter.slice(1) : text.split(/\s*[;/]\s*|,\s+|\s+(?=[+\-−])/);
  const pair = halves.length === 1 && /^[^\s,]+\.[^\s,]+[\s,][^\s,]+\.[^\s,]+$/.test(text) ? text.split(/[\s,]/) : halves;
  const [first, second] = pair.map((half) => half.replace(/^[\s,;/]+|[\s,;/]+$/g, ""));
  return pair.length === 2 && first && second ? [first, second] : null;
}

/** A grid of the drawings: where its origin lies, where its y axis points, and its unit. */
export const LocalGridSchema = z.strictObject({
  origin: z.strictObject({ latitude: DecimalText, longitude: DecimalText }),
  /** Degrees clockwise from true north to the y axis; x lies to the right of y. */
  bearingDeg: DecimalText,
  unit: z.enum(["m", "ft", "mm", "in"]),
});
export type LocalGrid = z.infer<typeof LocalGridSchema>;

const { WGS84 } = geodesic.Geodesic;

/**
 * The place on WGS 84 of a point of a local grid: the geodesic from the origin, as long as the point is far, turned by the
 * bearing of the grid. Inside a site (a few kilometres) that is the grid to well under a millimetre.
 *
 * @param x y  in the grid's unit, finite.
 * @returns degrees to 9 decimal places.
 * @source The direct problem: C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013), through GeographicLib.
 */
export function gridToPlace(grid: LocalGrid, x: Decimal, y: Decimal): PlaceText {
  const [xM, yM] = [toSi(x, grid.unit).toNumber(), toSi(y, grid.unit).toNumber()];
  const azimuth = Number(grid.bearingDeg) + (Math.atan2(xM, yM) * 180) / Math.PI;
  const { lat2 = Number.NaN, lon2 = Number.NaN } = WGS84.Direct(Number(grid.origin.latitude), Number(grid.origin.longitude), azimuth, Math.hypot(xM, yM));
  return { latitude: degreesText(lat2), longitude: degreesText(lon2) };
}

function degreesText(degrees: number): string {
  const rounded = new Decimal(degrees).toDecimalPlaces(PLACES);
  return rounded.isZero() ? "0" : plain(rounded);
}

/** Degrees, minutes and seconds of a place, as drawings write them: 44°00'07.2"N 63°30'00.0"W, to a tenth of a second or finer. */
export function placeWords({ latitude, longitude }: PlaceText, secondPlaces = 1): string {
  return `${angleWords(latitude, "latitude", secondPlaces)} ${angleWords(longitude, "longitude", secondPlaces)}`;
}

function angleWords(degrees: string, axis: Axis, secondPlaces: number): string {
  const total = new Decimal(degrees).abs().times(3600).toDecimalPlaces(secondPlaces);
  const [d, m] = [total.div(3600).floor(), total.div(60).floor().mod(60)];
  const s = total.mod(60).toFixed(secondPlaces).padStart(secondPlaces > 0 ? 3 + secondPlaces : 2, "0");
  return `${plain(d)}°${plain(m).padStart(2, "0")}'${s}"${new Decimal(degrees).isNegative() ? AXES[axis].negative : AXES[axis].positive}`;
}
