import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Decimal, type DecimalValue } from "#lib/domain/quantity/decimal";
import {
  convert, differenceFromSi, differenceToSi, dimensionOf, DIMENSIONS, fromSi, parseUnit, toSi, UNIT_SYMBOLS, UNITS, unitsOf, type Unit,
} from "#lib/domain/quantity/unit";

const anyUnit = fc.constantFrom(...UNIT_SYMBOLS);
/** Numbers as they are entered: up to 15 digits, up to 12 of them after the point. */
const anyEntry = fc.tuple(fc.bigInt({ min: -(10n ** 15n), max: 10n ** 15n }), fc.integer({ min: 0, max: 12 }))
  .map(([digits, places]) => new Decimal(digits.toString()).div(new Decimal(10).pow(places)));

describe("conversion factors", () => {
  it("are built from the exact definitions of the inch, the pound, the pound-force, the gallon and the knot", () => {
    const exact = (number: DecimalValue) => new Decimal(number);
    const lbf = exact("4.4482216152605");

    expect(UNITS["ft·lbf"].factor).toBe(exact("0.3048").times(lbf).toFixed());
    expect(UNITS["in·lbf"].factor).toBe(exact("0.0254").times(lbf).toFixed());
    expect(lbf.toFixed()).toBe(exact("0.45359237").times("9.80665").toFixed());
    expect(UNITS["in³"].factor).toBe(exact("0.0254").pow(3).toFixed());
    expect(UNITS["ft³"].factor).toBe(exact("0.3048").pow(3).toFixed());
    expect(UNITS["ft²"].factor).toBe(exact("0.3048").pow(2).toFixed());
    expect(UNITS.gal.factor).toBe(exact(UNITS["in³"].factor).times(231).toFixed());
    expect(UNITS.qt.factor).toBe(exact(UNITS.gal.factor).div(4).toFixed());
    expect(UNITS.oz.factor).toBe(exact("0.45359237").div(16).toFixed());
    expect(UNITS.mph.factor).toBe(exact("0.3048").times(5280).div(3600).toFixed());
  });

  // NIST SP 811 (2008), Appendix B, seven published digits.
  it.each<[Unit, Unit, string]>([
    ["ft·lbf", "N·m", "1.355818"],
    ["in·lbf", "N·m", "0.1129848"],
    ["lbf", "N", "4.448222"],
    ["psi", "kPa", "6.894757"],
    ["kn", "m/s", "0.5144444"],
    ["mph", "km/h", "1.609344"],
    ["gal", "L", "3.785412"],
    ["qt", "L", "0.9463529"],
    ["oz", "g", "28.34952"],
    ["ft³", "L", "28.31685"],
    ["in³", "mL", "16.38706"],
    ["mil", "µm", "25.4"],
  ])("give one %s in %s as NIST SP 811 prints it", (from, to, published) => {
    const digits = published.replace(/^0\./, "").replace(".", "").length;
    expect(convert(1, from, to).toSignificantDigits(digits).toFixed()).toBe(published);
  });

  // Torque conversions worked from NIST SP 811, to 0.0001 N·m.
  it.each([
    ["5", "6.7791"], ["10", "13.5582"], ["25", "33.8954"], ["40", "54.2327"], ["50", "67.7909"], ["60", "81.3491"], ["75", "101.6863"],
    ["80", "108.4654"], ["85", "115.2445"], ["100", "135.5818"], ["120", "162.6982"], ["150", "203.3727"], ["200", "271.1636"], ["250", "338.9545"],
    ["65", "88.1282"],
  ])("give %s ft·lbf as %s N·m", (ftLbf, newtonMetres) => {
    expect(convert(ftLbf, "ft·lbf", "N·m").toFixed(4)).toBe(newtonMetres);
  });

  it("give 88 N·m as 64.905 ft·lbf and 95 N·m as 70.068", () => {
    expect(convert(88, "N·m", "ft·lbf").toFixed(3)).toBe("64.905");
    expect(convert(95, "N·m", "ft·lbf").toFixed(3)).toBe("70.068");
  });

  it("move the zero of a temperature and leave it out of a difference", () => {
    expect(toSi("53.6", "°F").toFixed()).toBe("285.15");
    expect(convert(-40, "°F", "°C").toFixed()).toBe("-40");
    expect(convert("57.7", "°F", "°C").toFixed(2)).toBe("14.28");
    expect(convert(5, "F°", "K").toFixed(3)).toBe("2.778"); // 5 F° is not 3 K
    expect(convert(3, "K", "F°").toFixed()).toBe("5.4");
    expect(differenceToSi(9, "°F").toFixed()).toBe("5");
    expect(differenceFromSi(5, "°F").toFixed()).toBe("9");
  });

  it("come back from SI to the very number that was entered, in every unit", () => {
    fc.assert(fc.property(anyEntry, anyUnit, (number, unit) => {
      expect(fromSi(toSi(number, unit), unit).toFixed()).toBe(number.toFixed());
    }));
  });

  it("agree whichever way round two units of one dimension are converted", () => {
    const pair = anyUnit.chain((unit) => fc.tuple(fc.constant(unit), fc.constantFrom(...unitsOf(dimensionOf(unit)))));
    fc.assert(fc.property(anyEntry, pair, (number, [unit, other]) => {
      const back = convert(convert(number, unit, other), other, unit);
      expect(back.minus(number).abs().lte(number.abs().times("1e-25").plus("1e-15"))).toBe(true); // 30 digits and 24 places are kept
    }));
  });

  it("are refused between units of two dimensions, and for what is no finite number", () => {
    expect(() => convert(1, "°F", "F°")).toThrow(RangeError);
    expect(() => toSi(Number.NaN, "in")).toThrow(RangeError);
    expect(() => fromSi(Number.POSITIVE_INFINITY, "in")).toThrow(RangeError);
  });

  it("leave no dimension without a unit", () => {
    expect(DIMENSIONS.filter((dimension) => unitsOf(dimension).length === 0)).toEqual([]);
  });
});

describe("reading a unit", () => {
  it.each<[Unit, string[]]>([
    ["in", ["in", "in.", "In", "IN", "inch", "inches", '"']],
    ["ft", ["ft", "ft.", "feet", "foot", "'"]],
    ["mm", ["mm", "MM", " mm "]],
    ["mil", ["mil", "mils"]],
    ["µm", ["µm", "μm", "um", "micron", "microns"]],
    ["in²", ["in²", "in2", "in^2", "sq in", "sq. in."]],
    ["ft²", ["ft²", "ft2", "sq ft"]],
    ["ft³", ["ft³", "ft3", "cu ft", "cubic feet"]],
    ["mL", ["mL", "ml", "cc"]],
    ["L", ["L", "l", "litre", "liters"]],
    ["lb", ["lb", "lbs", "pounds"]],
    ["lbf", ["lbf"]],
    ["°C", ["°C", "C", "c", "deg C", "degC", "º C", "℃"]],
    ["°F", ["°F", "F", "deg F", "deg. F", "℉"]],
    ["F°", ["F°"]],
    ["K", ["K"]],
    ["min", ["min", "minutes"]],
    ["h", ["h", "hr", "hours"]],
    ["N·m", ["N·m", "Nm", "N-m", "N m", "N.m", "N*m", "nm", "N⋅m"]],
    ["ft·lbf", ["ft·lbf", "ft-lb", "ft lbf", "ft-lbf", "ft·lb", "ft lbs", "ftlb", "lb-ft", "lbf·ft", "foot-pounds"]],
    ["in·lbf", ["in·lbf", "in-lb", "inch pounds"]],
    ["kN", ["kN"]],
    ["kn", ["kn", "kt", "knots"]],
    ["psi", ["psi", "PSI"]],
    ["MPa", ["MPa", "N/mm²", "N/mm2"]],
    ["µg/cm²", ["µg/cm²", "ug/cm2", "ug / cm^2"]],
    ["in/h", ["in/h", "in/hr", "in per hour"]],
    ["km/h", ["km/h", "kph"]],
    ["%", ["%", "percent", "per cent"]],
    ["°C·h", ["°C·h", "deg C h"]],
    ["°", ["°", "deg", "degrees"]],
  ])("knows %s by its spellings", (unit, spellings) => {
    expect(spellings.map((text) => parseUnit(text))).toEqual(spellings.map(() => unit));
  });

  it("knows each unit by its own symbol", () => {
    expect(UNIT_SYMBOLS.map((unit) => parseUnit(unit))).toEqual([...UNIT_SYMBOLS]);
  });

  it("refuses KN, which may be knots or kilonewtons, unless the field says which", () => {
    expect(parseUnit("KN")).toBeNull();
    expect(parseUnit("KN", "force")).toBe("kN");
    expect(parseUnit("KN", "speed")).toBe("kn");
    expect(parseUnit("kn", "force")).toBe("kN");
  });

  it("takes °F as a difference, and lb as a force, where the field asks for one", () => {
    expect(parseUnit("°F", "temperature difference")).toBe("F°");
    expect(parseUnit("C", "temperature difference")).toBe("K");
    expect(parseUnit("lb", "force")).toBe("lbf");
    expect(parseUnit("lb", "mass")).toBe("lb");
  });

  it.each(["", " ", "furlong", "inn", "m m", "°X", "ft/lb", "in in"])("does not take %j for a unit", (text) => {
    expect(parseUnit(text)).toBeNull();
  });
});
