import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatMeasured, formatSi, MeasuredSchema, parseMeasured, type EntryProblem, type Measured } from "#lib/domain/quantity/measured";
import { dimensionOf, UNIT_SYMBOLS, type Dimension, type Unit } from "#lib/domain/quantity/unit";

function read(text: string, dimension: Dimension, unit?: Unit): Measured {
  const entry = parseMeasured(text, unit ? { dimension, unit } : { dimension });
  if (!entry.ok) throw new Error(`${text}: ${entry.problem.message}`);
  return entry.measured;
}
function refused(text: string, dimension: Dimension, unit?: Unit): EntryProblem {
  const entry = parseMeasured(text, unit ? { dimension, unit } : { dimension });
  if (entry.ok) throw new Error(`${text} was read as ${formatMeasured(entry.measured)}`);
  return entry.problem;
}

describe("reading an entry", () => {
  // text, number, unit, SI value, resolution in SI
  it.each<[string, string, Unit, string, string]>([
    ["18 1/2 in", "18.5", "in", "0.4699", "0.0127"],
    ["18-1/2 in", "18.5", "in", "0.4699", "0.0127"],
    ["18 - 1/2 in", "18.5", "in", "0.4699", "0.0127"],
    ["18½ in", "18.5", "in", "0.4699", "0.0127"],
    ["18 ½ in", "18.5", "in", "0.4699", "0.0127"],
    ["18 1⁄2 in", "18.5", "in", "0.4699", "0.0127"],
    ['18 1/2"', "18.5", "in", "0.4699", "0.0127"],
    ["18 1/2”", "18.5", "in", "0.4699", "0.0127"],
    ["-18 1/2 in", "-18.5", "in", "-0.4699", "0.0127"],
    ["32 7/8 in", "32.875", "in", "0.835025", "0.003175"],
    ["1/16 in", "0.0625", "in", "0.0015875", "0.0015875"],
    ["½ in", "0.5", "in", "0.0127", "0.0127"],
    ["1'-6 1/2\"", "18.5", "in", "0.4699", "0.0127"],
    ["1’-6 1/2”", "18.5", "in", "0.4699", "0.0127"],
    ["1′ - 6½″", "18.5", "in", "0.4699", "0.0127"],
    ["1' 6''", "18", "in", "0.4572", "0.0254"],
    ["1' 6\"", "18", "in", "0.4572", "0.0254"],
    ["1'6.5\"", "18.5", "in", "0.4699", "0.00254"],
    ["1'-½\"", "12.5", "in", "0.3175", "0.0127"],
    ["1' 6", "18", "in", "0.4572", "0.0254"],
    ["1 ft 6 in", "18", "in", "0.4572", "0.0254"],
    ["12ft6in", "150", "in", "3.81", "0.0254"],
    ["-1'-6\"", "-18", "in", "-0.4572", "0.0254"],
    ["0'-6\"", "6", "in", "0.1524", "0.0254"],
    ["6'", "6", "ft", "1.8288", "0.3048"],
    ["6 1/2'", "6.5", "ft", "1.9812", "0.1524"],
    ["470 mm", "470", "mm", "0.47", "0.001"],
    ["0,47 m", "0.47", "m", "0.47", "0.01"],
    ["0.47 m", "0.47", "m", "0.47", "0.01"],
    ["0,470 m", "0.47", "m", "0.47", "0.001"],
    ["1.200 m", "1.2", "m", "1.2", "0.001"],
    ["1 200 mm", "1200", "mm", "1.2", "0.001"],
    ["1\u202F200,5 mm", "1200.5", "mm", "1.2005", "0.0001"],
    ["1,200.5 mm", "1200.5", "mm", "1.2005", "0.0001"],
    ["1.200,5 mm", "1200.5", "mm", "1.2005", "0.0001"],
    ["1,200,300 mm", "1200300", "mm", "1200.3", "0.001"],
    [".5 in", "0.5", "in", "0.0127", "0.00254"],
    ["7. in", "7", "in", "0.1778", "0.0254"],
    ["7.0 in", "7", "in", "0.1778", "0.00254"],
    ["+3 mm", "3", "mm", "0.003", "0.001"],
    ["−2.5 m", "-2.5", "m", "-2.5", "0.1"],
    ["-2.5 m", "-2.5", "m", "-2.5", "0.1"],
    ["-0.0 m", "0", "m", "0", "0.1"],
    ["1e3 mm", "1000", "mm", "1", "1"],
    ["1.25E-2m", "0.0125", "m", "0.0125", "0.0001"],
    ["  470mm  ", "470", "mm", "0.47", "0.001"],
  ])("reads the length %j", (text, number, unit, si, resolution) => {
    expect(read(text, "length")).toEqual({ text: text.trim(), number, unit, si, resolution });
  });

  it.each<[string, Dimension, string, Unit, string]>([
    ["65 ft·lbf", "torque", "65", "ft·lbf", "88.128166641541026"],
    ["88 N·m", "torque", "88", "N·m", "88"],
    ["88nm", "torque", "88", "N·m", "88"],
    ["12 °C", "temperature", "12", "°C", "285.15"],
    ["12C", "temperature", "12", "°C", "285.15"],
    ["53.6F", "temperature", "53.6", "°F", "285.15"],
    ["-3 deg C", "temperature", "-3", "°C", "270.15"],
    ["3 °C", "temperature difference", "3", "K", "3"],
    ["9 °F", "temperature difference", "9", "F°", "5"],
    ["3 %", "share", "3", "%", "0.03"],
    ["5 µg/cm²", "mass per area", "5", "µg/cm²", "0.00005"],
    ["12 ft2", "area", "12", "ft²", "1.11483648"],
    ["12 sq ft", "area", "12", "ft²", "1.11483648"],
    ["700 lb", "force", "700", "lbf", "3113.75513068235"],
    ["24 in/h", "rate of rise", "24", "in/h", "0.0001693333333333333333333333333333333"],
    ["20", "number", "20", "1", "20"],
  ])("reads %j as a %s", (text, dimension, number, unit, si) => {
    expect(read(text, dimension)).toMatchObject({ number, unit, si });
  });

  it("keeps a third to twenty digits and half an inch exactly", () => {
    expect(read("1/3 in", "length").number).toBe("0.33333333333333333333");
    expect(read("18 1/2 in", "length").number).toBe("18.5");
  });

  it("takes the unit chosen beside the field when the text has none", () => {
    expect(read("48", "length", "in")).toMatchObject({ number: "48", unit: "in", text: "48" });
    expect(read("12°", "temperature", "°C").unit).toBe("°C");
  });

  it("lets the unit in the text win over the one chosen beside the field", () => {
    expect(read("470 mm", "length", "in").unit).toBe("mm");
    expect(read("1'-6\"", "length", "mm").number).toBe("18");
  });
});

describe("refusing an entry", () => {
  it.each<[string, Dimension, EntryProblem["code"], string]>([
    ["", "length", "empty", "Nothing is typed. Give the measured value."],
    ["   ", "length", "empty", "Nothing is typed. Give the measured value."],
    ["abc", "length", "not-a-number", "abc is not a number. Type digits, such as 6.4."],
    ["48", "temperature", "unit-missing", "48 what? Give °F or °C."],
    ["12°", "temperature", "unit-missing", "12° what? Give °F or °C."],
    ["48", "length", "unit-missing", "48 what? Give in, ft, mm, cm or m."],
    ["3", "share", "unit-missing", "3 what? Give %."],
    ["48 furlongs", "length", "unit-unknown", "furlongs is not a unit that is known here. Give in, ft, mm, cm or m."],
    ["6 kg", "length", "wrong-dimension", "kg measures a mass, and a length is asked for. Give in, ft, mm, cm or m."],
    ["12 ft2", "length", "wrong-dimension", "ft² measures an area, and a length is asked for. Give in, ft, mm, cm or m."],
    ["12 F°", "length", "wrong-dimension", "F° measures a temperature difference, and a length is asked for. Give in, ft, mm, cm or m."],
    ["6 in", "number", "wrong-dimension", "in measures a length, and a number is asked for. Give a plain number."],
    ["1'-6\"", "torque", "wrong-dimension", "Feet and inches measure a length, and a torque is asked for. Give ft·lbf, N·m or in·lbf."],
    ["1,200 mm", "length", "ambiguous", "1,200 mm can be read in two ways. Write 1200 for twelve hundred, or 1.2 for one and two tenths."],
    ["1' -6\"", "length", "ambiguous", "1' -6\" can be read in two ways. Write feet and inches as 1'-6\", with the sign in front of the feet."],
    ["1'--6\"", "length", "ambiguous", "1'--6\" can be read in two ways. Write feet and inches as 1'-6\", with the sign in front of the feet."],
    ["1'−6\"", "length", "ambiguous", "1'−6\" can be read in two ways. Write feet and inches as 1'-6\", with the sign in front of the feet."],
    ["1'-14\"", "length", "out-of-range", "14 inches after feet is a foot or more. Write inches below 12, or inches alone."],
    ["1'-12\"", "length", "out-of-range", "12 inches after feet is a foot or more. Write inches below 12, or inches alone."],
    ["6.5' 3\"", "length", "not-a-number", "6.5 feet with inches is not clear. Write whole feet before the inches, such as 1'-6 1/2\"."],
    ["1e400 mm", "length", "out-of-range", "1e400 mm is too large for a measured value. Check the number."],
    ["1e99999999999999999999 mm", "length", "out-of-range", "1e99999999999999999999 m… is too large for a measured value. Check the number."],
    ["1000000000000001 mm", "length", "out-of-range", "1000000000000001 mm is too large for a measured value. Check the number."],
    ["1e-400 mm", "length", "too-precise", "1e-400 mm has more digits than can be measured. Give at most 15 digits, 12 of them after the point."],
    ["6.4000000000000 in", "length", "too-precise", "6.4000000000000 in has more digits than can be measured. Give at most 15 digits, 12 of them after the point."],
    ["-300 °C", "temperature", "out-of-range", "-300 °C is colder than anything can be. Check the number and its unit."],
    ["１２ mm", "length", "not-a-number", "These digits cannot be read. Type the digits 0 to 9."],
    ["١٢ mm", "length", "not-a-number", "These digits cannot be read. Type the digits 0 to 9."],
  ])("refuses %j as a %s", (text, dimension, code, message) => {
    expect(refused(text, dimension)).toMatchObject({ code, message });
  });

  it.each([
    "NaN", "Infinity", "-Infinity mm", "0x10", "0b1 mm", "1_000 mm", "1__0", "6.4.2 in", "12,00.5 mm", "1,2.3 mm", "18 5/4 in", "1/0 in",
    "18 1/2 1/2 in", "6.5 1/2 in", "2-3 in", "18 -1/2 in", "1 2 mm", "--5 mm", "+-5 mm", "in", "-", ".", ",", "1,5e3 mm", "1 20 mm", "/2 in",
  ])("does not take %j for a number", (text) => {
    expect(refused(text, "length").code).toBe("not-a-number");
  });

  it("refuses an endless entry at once", () => {
    expect(refused("9".repeat(100_000), "length").code).toBe("not-a-number");
    expect(refused(`${"9".repeat(50)} mm`, "length").code).toBe("out-of-range");
  });

  it("offers the units that would have done", () => {
    expect(refused("48", "temperature").suggestions).toEqual(["°F", "°C"]);
    expect(refused("48 kg", "torque").suggestions).toEqual(["ft·lbf", "N·m", "in·lbf"]);
  });

  it("refuses a chosen unit that measures something else", () => {
    expect(refused("48", "length", "kg").code).toBe("wrong-dimension");
  });

  it("never throws and never lets through what the record would refuse, whatever is typed", () => {
    const typed = fc.oneof(
      fc.string({ maxLength: 80 }),
      fc.string({ unit: "grapheme", maxLength: 80 }),
      fc.string({ unit: fc.constantFrom(..."0123456789.,'\" -−+/eE½¾infmlb°CF²·_x"), maxLength: 20 }),
    );
    fc.assert(fc.property(typed, fc.constantFrom<Dimension>("length", "torque", "temperature", "share", "number"), (text, dimension) => {
      const entry = parseMeasured(text, { dimension });
      if (entry.ok) {
        expect(MeasuredSchema.parse(entry.measured)).toEqual(entry.measured);
        expect(Math.abs(Number(entry.measured.number))).toBeLessThanOrEqual(1.2e16);
        expect(dimensionOf(entry.measured.unit)).toBe(dimension);
      } else expect(entry.problem.message).toMatch(/\.$/);
    }), { numRuns: 1_000 });
  });
});

describe("a measured value in a record", () => {
  const good = read("6.4 in", "length");

  it("is read back as it was written", () => {
    expect(MeasuredSchema.parse(JSON.parse(JSON.stringify(good)))).toEqual(good);
  });

  it.each<[string, Partial<Record<keyof Measured, string>>]>([
    ["an SI value that does not follow from the number", { si: "0.1778" }],
    ["a number that is not finite", { number: "NaN" }],
    ["an exponent", { number: "1e400" }],
    ["a negative zero", { number: "-0", si: "0" }],
    ["needless zeros", { number: "6.40" }],
    ["an unknown unit", { unit: "furlong" }],
    ["no resolution", { resolution: "0" }],
    ["no text", { text: "" }],
  ])("is refused with %s", (_fault, change) => {
    expect(MeasuredSchema.safeParse({ ...good, ...change }).success).toBe(false);
  });

  it("is refused with a field that is not its own", () => {
    expect(MeasuredSchema.safeParse({ ...good, verdict: "meets" }).success).toBe(false);
  });
});

describe("showing a value", () => {
  it.each<[string, Dimension, string]>([
    ["6.4 in", "length", "6.4 in"],
    ["7.0in", "length", "7.0 in"],
    ["18 1/2\"", "length", "18.5 in"],
    ["1'-6 1/2\"", "length", "18.5 in"],
    ["1/3 in", "length", "0.333333 in"],
    ["-2.50 m", "length", "−2.50 m"],
    ["1,200.5 mm", "length", "1200.5 mm"],
    ["1e3 mm", "length", "1000 mm"],
    ["53.6F", "temperature", "53.6 °F"],
    ["3%", "share", "3 %"],
    ["12 deg", "angle", "12°"],
    ["20", "number", "20"],
  ])("shows the entry %j (a %s) as %s", (text, dimension, shown) => {
    expect(formatMeasured(read(text, dimension))).toBe(shown);
  });

  it("reads back what it shows as the same value, in every unit", () => {
    const digits = fc.tuple(fc.bigInt({ min: 0n, max: 10n ** 15n - 1n }), fc.integer({ min: 0, max: 12 }), fc.boolean());
    fc.assert(fc.property(digits, fc.constantFrom(...UNIT_SYMBOLS), ([whole, places, negative], unit) => {
      const padded = whole.toString().padStart(places + 1, "0");
      const text = places === 0 ? padded : `${padded.slice(0, -places)}.${padded.slice(-places)}`;
      const dimension = dimensionOf(unit);
      const first = read(`${negative && dimension !== "temperature" ? "-" : ""}${text} ${unit === "1" ? "" : unit}`, dimension);
      const again = read(formatMeasured(first), dimension);
      expect({ ...again, text: "" }).toEqual({ ...first, text: "" });
    }));
  });

  it.each<[string, Unit, number | undefined, string]>([
    ["0.16256", "in", undefined, "6.4 in"],
    ["88", "ft·lbf", undefined, "64.905 ft·lbf"],
    ["88", "ft·lbf", 1, "64.9 ft·lbf"],
    ["88", "N·m", 2, "88 N·m"],
    ["0.0000254", "m", undefined, "0.0000254 m"],
    ["287.41", "°C", undefined, "14.26 °C"],
    ["-0.0001", "m", 1, "0 m"],
    ["-1.25", "m", 1, "−1.3 m"],
    ["1200", "m", undefined, "1200 m"],
    ["0", "m", undefined, "0 m"],
  ])("shows the SI value %s in %s to %s places as %s", (si, unit, places, shown) => {
    expect(formatSi(si, unit, places)).toBe(shown);
  });
});
