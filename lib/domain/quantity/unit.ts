import { Decimal, finite, type DecimalValue } from "#lib/domain/quantity/decimal";

/** What kind of quantity a unit measures. Values of two kinds are never compared. */
export const DIMENSIONS = [
  "length", "area", "volume", "mass", "temperature", "temperature difference", "time", "torque", "force", "pressure",
  "mass per area", "density", "mass rate", "speed", "rate of rise", "share", "maturity", "angle", "number",
] as const;
export type Dimension = (typeof DIMENSIONS)[number];

/** Unit symbols as they are shown and kept. "F°" is a difference in Fahrenheit degrees, "1" a pure number or a count. */
export const UNIT_SYMBOLS = [
  "in", "ft", "mm", "cm", "m", "mil", "µm",
  "in²", "ft²", "cm²", "mm²", "m²",
  "in³", "ft³", "mL", "L", "qt", "gal",
  "g", "kg", "oz", "lb",
  "°F", "°C", "F°", "K",
  "s", "min", "h", "d",
  "ft·lbf", "N·m", "in·lbf",
  "lbf", "N", "kN",
  "psi", "kPa", "MPa", "Pa",
  "µg/cm²",
  "lb/ft³", "kg/m³", "kg/L", "kg/min",
  "kn", "m/s", "mph", "km/h",
  "in/h", "mm/h",
  "%", "°C·h", "°", "1",
] as const;
export type Unit = (typeof UNIT_SYMBOLS)[number];

export interface UnitSpec {
  dimension: Dimension;
  /** SI value = (number + offset) × factor ÷ divisor. The three are exact. */
  factor: string;
  /** Present where the factor has no finite decimal: 5/9 for °F, 1/3.6 for km/h. */
  divisor?: string;
  /** Present for the two temperature scales, whose zero is not absolute zero. */
  offset?: string;
  /** Spellings accepted besides the symbol; "·" stands for a space, hyphen, full stop or dot between the parts. */
  names: readonly string[];
}

/**
 * Units with their exact factors to SI.
 *
 * SI units: m, m², m³, kg, K, s, N·m, N, Pa, kg/m², kg/m³, kg/s, m/s. Maturity is kept in K·s, a share as a fraction of one. An angle is
 * kept in degrees, because its factor to radians is not a finite number and nothing here multiplies by an angle.
 * @source NIST SP 811 (2008), Appendix B, from memory: 1 in = 0.0254 m, 1 lb = 0.45359237 kg, 1 lbf = 4.4482216152605 N,
 *   1 gal (US) = 3.785411784 L and 1 kn = 1852 m/h are exact, and the rest are products of those
 *   (ft·lbf = 0.3048 × 4.4482216152605; psi = 4.4482216152605 ÷ 0.00064516).
 */
export const UNITS: Readonly<Record<Unit, UnitSpec>> = {
  in: { dimension: "length", factor: "0.0254", names: ['"', "inch", "inches", "ins"] },
  ft: { dimension: "length", factor: "0.3048", names: ["'", "foot", "feet"] },
  mm: { dimension: "length", factor: "0.001", names: ["millimetre", "millimetres", "millimeter", "millimeters"] },
  cm: { dimension: "length", factor: "0.01", names: ["centimetre", "centimetres", "centimeter", "centimeters"] },
  m: { dimension: "length", factor: "1", names: ["metre", "metres", "meter", "meters"] },
  mil: { dimension: "length", factor: "0.0000254", names: ["mils", "thou"] },
  "µm": { dimension: "length", factor: "0.000001", names: ["micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"] },

  "in²": { dimension: "area", factor: "0.00064516", names: ["sq·in", "square·inch", "square·inches"] },
  "ft²": { dimension: "area", factor: "0.09290304", names: ["sq·ft", "square·foot", "square·feet"] },
  "cm²": { dimension: "area", factor: "0.0001", names: ["sq·cm"] },
  "mm²": { dimension: "area", factor: "0.000001", names: ["sq·mm"] },
  "m²": { dimension: "area", factor: "1", names: ["sq·m", "square·metre", "square·metres", "square·meter", "square·meters"] },

  "in³": { dimension: "volume", factor: "0.000016387064", names: ["cu·in", "cubic·inch", "cubic·inches"] },
  "ft³": { dimension: "volume", factor: "0.028316846592", names: ["cu·ft", "cubic·foot", "cubic·feet"] },
  mL: { dimension: "volume", factor: "0.000001", names: ["cc", "millilitre", "millilitres", "milliliter", "milliliters"] },
  L: { dimension: "volume", factor: "0.001", names: ["litre", "litres", "liter", "liters"] },
  qt: { dimension: "volume", factor: "0.000946352946", names: ["qts", "quart", "quarts"] },
  gal: { dimension: "volume", factor: "0.003785411784", names: ["gals", "gallon", "gallons"] },

  g: { dimension: "mass", factor: "0.001", names: ["gram", "grams"] },
  kg: { dimension: "mass", factor: "1", names: ["kilo", "kilos", "kilogram", "kilograms"] },
  oz: { dimension: "mass", factor: "0.028349523125", names: ["ounce", "ounces"] },
  lb: { dimension: "mass", factor: "0.45359237", names: ["lbs", "pound", "pounds"] },

  "°F": { dimension: "temperature", factor: "5", divisor: "9", offset: "459.67", names: ["F", "deg·F", "degF", "degrees·F", "fahrenheit"] },
  "°C": { dimension: "temperature", factor: "1", offset: "273.15", names: ["C", "deg·C", "degC", "degrees·C", "celsius"] },
  "F°": { dimension: "temperature difference", factor: "5", divisor: "9", names: ["F·deg"] },
  K: { dimension: "temperature difference", factor: "1", names: ["C°", "kelvin"] },

  s: { dimension: "time", factor: "1", names: ["sec", "secs", "second", "seconds"] },
  min: { dimension: "time", factor: "60", names: ["mins", "minute", "minutes"] },
  h: { dimension: "time", factor: "3600", names: ["hr", "hrs", "hour", "hours"] },
  d: { dimension: "time", factor: "86400", names: ["day", "days"] },

  "ft·lbf": {
    dimension: "torque",
    factor: "1.3558179483314004",
    names: ["ft·lb", "ft·lbs", "ftlb", "ftlbs", "ftlbf", "lbf·ft", "lb·ft", "lbs·ft", "lbft", "foot·pound", "foot·pounds"],
  },
  "N·m": { dimension: "torque", factor: "1", names: ["Nm", "newton·metre", "newton·metres", "newton·meter", "newton·meters"] },
  "in·lbf": {
    dimension: "torque",
    factor: "0.1129848290276167",
    names: ["in·lb", "in·lbs", "inlb", "inlbs", "inlbf", "lbf·in", "lb·in", "inch·pound", "inch·pounds"],
  },

  lbf: { dimension: "force", factor: "4.4482216152605", names: [] },
  N: { dimension: "force", factor: "1", names: ["newton", "newtons"] },
  kN: { dimension: "force", factor: "1000", names: ["kilonewton", "kilonewtons"] },

  psi: { dimension: "pressure", factor: "4.4482216152605", divisor: "0.00064516", names: ["lbf/in²", "lb/in²"] },
  kPa: { dimension: "pressure", factor: "1000", names: [] },
  MPa: { dimension: "pressure", factor: "1000000", names: ["N/mm²"] },
  Pa: { dimension: "pressure", factor: "1", names: [] },

  "µg/cm²": { dimension: "mass per area", factor: "0.00001", names: ["mcg/cm²"] },

  "lb/ft³": { dimension: "density", factor: "0.45359237", divisor: "0.028316846592", names: ["pcf", "lbf/ft³"] },
  "kg/m³": { dimension: "density", factor: "1", names: [] },
  "kg/L": { dimension: "density", factor: "1000", names: ["g/mL", "g/cm³"] },
  "kg/min": { dimension: "mass rate", factor: "1", divisor: "60", names: [] },

  kn: { dimension: "speed", factor: "1852", divisor: "3600", names: ["kt", "kts", "knot", "knots"] },
  "m/s": { dimension: "speed", factor: "1", names: [] },
  mph: { dimension: "speed", factor: "0.44704", names: ["mi/h"] },
  "km/h": { dimension: "speed", factor: "1", divisor: "3.6", names: ["kph", "kmh"] },

  "in/h": { dimension: "rate of rise", factor: "0.0254", divisor: "3600", names: ["in/hr", "in·per·h", "in·per·hour", "inches·per·hour"] },
  "mm/h": { dimension: "rate of rise", factor: "0.001", divisor: "3600", names: ["mm/hr", "mm·per·h", "mm·per·hour"] },

  "%": { dimension: "share", factor: "0.01", names: ["percent", "per·cent", "pct"] },
  "°C·h": { dimension: "maturity", factor: "3600", names: ["C·h", "K·h", "deg·C·h"] },
  "°": { dimension: "angle", factor: "1", names: ["deg", "degree", "degrees"] },
  "1": { dimension: "number", factor: "1", names: [] },
};

export function dimensionOf(unit: Unit): Dimension {
  return UNITS[unit].dimension;
}

/** The units of one dimension, in the order in which they are offered. */
export function unitsOf(dimension: Dimension): Unit[] {
  return UNIT_SYMBOLS.filter((unit) => UNITS[unit].dimension === dimension);
}

/** Significant digits of an SI value, those of IEEE 754 decimal128: enough for a product of 17 and 17 digits. */
const SI_DIGITS = 34;
/** Digits of a number turned back into its unit: below SI_DIGITS, so that a factor such as 5/9 comes back as typed. */
const NUMBER_DIGITS = 30;
const NUMBER_PLACES = 24;

/**
 * The SI value of a number in a unit, exact where the factor is a finite decimal, else to 34 significant digits.
 * @throws RangeError for NaN and infinities.
 */
export function toSi(number: DecimalValue, unit: Unit): Decimal {
  const { offset } = UNITS[unit];
  return differenceToSi(offset === undefined ? number : finite(number).plus(offset), unit);
}

/**
 * The SI size of a step, an error or a difference read in a unit: as `toSi`, with no offset, so that 1 °F of difference
 * is 5/9 K.
 */
export function differenceToSi(number: DecimalValue, unit: Unit): Decimal {
  const { factor, divisor = "1" } = UNITS[unit];
  return finite(number).times(factor).div(divisor).toSignificantDigits(SI_DIGITS);
}

/**
 * The number in a unit of an SI value, to 30 significant digits and 24 decimal places.
 * `fromSi(toSi(n, unit), unit)` is n again for any n that `parseMeasured` lets through.
 */
export function fromSi(si: DecimalValue, unit: Unit): Decimal {
  const { offset = "0" } = UNITS[unit];
  return trimmed(scaled(si, unit).minus(offset));
}

/** The number in a unit of a step or difference in SI: as `fromSi`, with no offset. */
export function differenceFromSi(si: DecimalValue, unit: Unit): Decimal {
  return trimmed(scaled(si, unit));
}

function scaled(si: DecimalValue, unit: Unit): Decimal {
  const { factor, divisor = "1" } = UNITS[unit];
  return finite(si).times(divisor).div(factor);
}

function trimmed(number: Decimal): Decimal {
  return number.toDecimalPlaces(NUMBER_PLACES).toSignificantDigits(NUMBER_DIGITS);
}

/**
 * The same quantity in another unit.
 * @throws RangeError when the two units measure different things.
 */
export function convert(number: DecimalValue, from: Unit, to: Unit): Decimal {
  if (dimensionOf(from) !== dimensionOf(to)) throw new RangeError(`${from} and ${to} do not measure the same thing.`);
  return fromSi(toSi(number, from), to);
}

/** One form for the many ways of typing a unit: µ as u, powers as digits, and one dot for whatever joins two parts. */
function spelling(text: string): string {
  return text
    .trim()
    .replace(/[µμ]/gu, "u")
    .replace(/º/gu, "°")
    .replace(/℃/gu, "°C")
    .replace(/℉/gu, "°F")
    .replace(/²|\^2/gu, "2")
    .replace(/³|\^3/gu, "3")
    .replace(/[\s·⋅•∙*.‐‑-]+/gu, "·")
    .replace(/·?\/·?/gu, "/")
    .replace(/^°·/u, "°")
    .replace(/·$/u, "");
}

const SPELLINGS: readonly { key: string; folded: string; unit: Unit }[] = UNIT_SYMBOLS.flatMap((unit) =>
  [unit, ...UNITS[unit].names].map((name) => {
    const key = spelling(name);
    return { key, folded: key.toLowerCase(), unit };
  }),
);

/** Spellings that mean another unit where the field asks for another kind of quantity, as people say them. */
const SAID_FOR: Partial<Record<Dimension, Partial<Record<Unit, Unit>>>> = {
  temperature: { "F°": "°F" },
  "temperature difference": { "°C": "K", "°F": "F°" },
  force: { lb: "lbf" },
};

/**
 * Reads a unit as people type it: "ft-lb", "Nm", "um", "deg C", "sq in", `"`, "in." and so on.
 *
 * Capitals matter only where they decide: "kn" is knots and "kN" kilonewtons, so "KN" is refused, unless `within` names the
 * dimension asked for and only one of the two belongs to it. Inside a dimension, "°C" also says a difference and "lb" a force.
 * @returns null when the text is no unit that is known here, or could be more than one.
 */
export function parseUnit(text: string, within?: Dimension): Unit | null {
  const key = spelling(text);
  const exact = SPELLINGS.find((entry) => entry.key === key)?.unit;
  const folded = SPELLINGS.filter((entry) => entry.folded === key.toLowerCase()).map((entry) => entry.unit);
  const units = exact ? [exact] : [...new Set(folded)];
  if (within === undefined) return units.length === 1 ? (units[0] ?? null) : null;

  const said = [...new Set([...units, ...folded])].map((unit) => SAID_FOR[within]?.[unit] ?? unit);
  return said.find((unit) => dimensionOf(unit) === within) ?? (units.length === 1 ? (units[0] ?? null) : null);
}
