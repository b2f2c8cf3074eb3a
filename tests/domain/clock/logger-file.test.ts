import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readLoggerFile, type LoggerChoice } from "#lib/domain/clock/logger-file";
import { siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE } from "#lib/domain/instant";

const HALIFAX = "America/Halifax";
const NONE: LoggerChoice = { zone: null, order: null, unit: null, columns: null };
const at = (iso: string) => Date.parse(iso);
const read = (text: string, choice: Partial<LoggerChoice> = {}) => readLoggerFile(text.split("\n").map((line) => line.split(";")), { ...NONE, ...choice });
const site = (text: string, choice: Partial<LoggerChoice> = {}) => read(text, { zone: HALIFAX, ...choice });
const series = (...rows: [string, number | string][]) => ["Date Time;Temp (°C)", ...rows.map((row) => row.join(";"))].join("\n");

describe("a logger's file", () => {
  it("is read by its head, with times that carry an offset", () => {
    expect(read("Time;Temp (°C)\n2026-12-03T06:10-04:00;12.5\n2026-12-03T10:40:30Z;11,25")).toEqual({
      readings: [{ at: at("2026-12-03T10:10:00Z"), celsius: "12.5" }, { at: at("2026-12-03T10:40:30Z"), celsius: "11.25" }], faults: [], notes: [],
    });
  });

  it.each([
    ["after facts about the logger", "Logger;7\n\nNo;Date Time;Temp, °C;RH (%);Dew point (°C)\n1;2026-12-03 06:10Z;12;80;8", "12"],
    ["with date and time apart", "Date;Time;Temperature Celsius\n2026-12-03;06:10Z;12", "12"],
    ["with a date that holds its time", "Date;Temp_C\n2026-12-03 06:10Z;12", "12"],
    ["without a head, time first", "2026-12-03T06:10Z;12 °C", "12"],
    ["without a head, date and time apart", "2026-12-03;06:10Z;53.6 F", "12"],
    ["in Fahrenheit by its head", "Timestamp;Temp (ºF)\n2026-12-03 06:10Z;53.6", "12"],
    ["in another unit by its cell", "Timestamp;Temp (°C)\n2026-12-03 06:10Z;53.6°F", "12"],
    ["with an offset in its head", "Date Time, GMT-04:00;Temp, °C\n2026-12-03 02:10;12", "12"],
    ["with a month in letters and half days", "Time;Temp °C\n3 Dec 2026 6:10 AM Z;12", "12"],
    ["with the month before its day", "Time;Temp °C\nDec 3, 2026 06:10:00.000 UTC;1.2e1", "12"],
  ])("is read %s", (_how, text, celsius) => {
    expect(read(text)).toEqual({ readings: [{ at: at("2026-12-03T06:10Z"), celsius }], faults: [], notes: [] });
  });

  it("is read by the columns that were given", () => {
    const text = "When;Inside temp;Outside temp\n2026-12-03 06:10Z;12;4";
    expect(read(text).faults).toMatchObject([{ row: null, asks: "columns" }]);
    expect(read(text, { unit: "°C", columns: { headRow: 1, date: null, time: 0, temperature: 2 } }).readings).toMatchObject([{ celsius: "4" }]);
    expect(read("Time;Temp 1;Temp 2\n2026-12-03 06:10Z;12;4").faults).toMatchObject([{ row: 1, asks: "columns", message: "Several columns hold temperatures: Temp 1; Temp 2. Say which one it is." }]);
  });

  it("reads a Fahrenheit at the minimum as exactly the minimum, and rounds nothing up to it", () => {
    expect(read("Time;Temp °F\n2026-12-03 06:10Z;46.4\n2026-12-03 07:10Z;46.39").readings.map(({ celsius }) => celsius)).toEqual(["8", "7.9944"]);
    expect(read("Time;Temp °C\n2026-12-03 06:10Z;7.99999").readings).toMatchObject([{ celsius: "7.9999" }]);
    expect(read("Time;Temp °C\n2026-12-03 06:10Z;−0.00001\n2026-12-03 07:10Z;−0.0").readings.map(({ celsius }) => celsius)).toEqual(["-0.0001", "0"]);
  });

  it("is in the same order and as often whatever the order of its rows, which is said", () => {
    const rows: [string, string][] = [["2026-12-03 06:00Z", "12"], ["2026-12-03 07:00Z", "11"], ["2026-12-03 08:00Z", "10"]];
    const straight = read(series(...rows));
    expect(read(series(...rows.toReversed()))).toEqual(straight);
    const mixed = read(series(rows[1]!, rows[0]!, rows[2]!, rows[0]!));
    expect(mixed.readings).toEqual(straight.readings);
    expect(mixed.notes.map(({ row }) => row)).toEqual([null, 5]);
  });

  it.each(["ERR", "---", "", "OL", "open circuit"])("leaves a row out at which the sensor says %j, and says so", (word) => {
    const { readings, faults, notes } = read(series(["2026-12-03 06:00Z", 12], ["2026-12-03 07:00Z", word], ["2026-12-03 08:00Z", 10]));
    expect(readings.map(({ celsius }) => celsius)).toEqual(["12", "10"]);
    expect(faults).toEqual([]);
    expect(notes).toMatchObject([{ row: 3, column: 1 }]);
  });

  it("passes over blank rows, and names the others by their place in the file", () => {
    expect(read("\nTime;Temp °C\n\n2026-12-03 06:00Z;12\n ; \n2026-12-03 07:00Z;twelve 1").faults).toMatchObject([{ row: 6, column: 1 }]);
  });
});

describe("nothing of a logger's file is read", () => {
  it.each([
    ["a bare number without a unit", "Time;Temp\n2026-12-03 06:10Z;48\n2026-12-03 07:10Z;47", [{ row: 2, column: 1, message: "48 what? Give °F or °C.", asks: "unit" }]],
    ["a local time without a zone", "Time;Temp °C\n2026-12-03 06:10;12\n2026-12-03 07:10;12", [{ row: 2, column: 0, message: "The times are local and name no zone: 2026-12-03 06:10. Say which clock they are on: the site's, or one offset such as -04:00.", asks: "zone" }]],
    ["a date that may be two", "Time;Temp °C\n03/04/26 06:10Z;12", [{ row: 2, column: 0, message: "03/04/26 06:10Z can be two days. Say whether the day or the month comes first.", asks: "date order" }]],
    ["dates in both orders", "Time;Temp °C\n13/04/26 06:10Z;12\n04/14/26 06:10Z;12", [{ row: null, asks: "date order" }]],
    ["a number too large to be one", "Time;Temp °C\n2026-12-03 06:10Z;1e400", [{ row: 2, column: 1, asks: null }]],
    ["a temperature past the range", "Time;Temp °C\n2026-12-03 06:10Z;90.1\n2026-12-03 07:10Z;-40.1\n2026-12-03 08:10Z;-999", [{ row: 2 }, { row: 3 }, { row: 4 }]],
    ["digits of another script", "Time;Temp °C\n2026-12-03 06:10Z;١٢", [{ row: 2, column: 1 }]],
    ["a comma that may be a thousands mark", "Time;Temp °C\n2026-12-03 06:10Z;1,250", [{ row: 2, column: 1 }]],
    ["a time that is none", "Time;Temp °C\n2026-12-03 25:10Z;12\n;12\n46000.25;12", [{ row: 2, column: 0 }, { row: 3, column: 0, message: "There is no time in this row." }, { row: 4, column: 0 }]],
    ["a day that no calendar has", "Time;Temp °C\n2026-02-30 06:10Z;12", [{ row: 2, column: 0, message: "2026-02-30 06:10Z is on a day that no calendar has." }]],
    ["two temperatures at one time", "Time;Temp °C\n2026-12-03 06:10Z;12\n2026-12-03 02:10-04:00;13", [{ row: 3, message: "Rows 2 and 3 have one time and two temperatures. Leave the one in that is right." }]],
    ["no row of temperatures", "Time;Temp °C\n2026-12-03 06:10Z;ERR", [{ row: null, message: "No row holds a temperature." }]],
    ["nothing at all", "", [{ row: null, asks: "columns" }]],
  ])("with %s", (_what, text, faults) => {
    const file = read(text);
    expect(file.readings).toEqual([]);
    expect(file.faults).toMatchObject(faults);
    expect(file.faults).toHaveLength(faults.length);
  });

  it("where an answer and the file say different things", () => {
    expect(read("Time;Temp °C\n2026-12-03 06:10Z;12", { unit: "°F" }).faults).toMatchObject([{ row: 1, column: 1, asks: "unit" }]);
    expect(read("Time;Temp °C\n13/04/26 06:10Z;12", { order: "month first" }).faults).toMatchObject([{ asks: "date order" }]);
    expect(read("Time;Temp °C\n2026-12-03 06:10;12", { zone: "-4 h" }).faults).toMatchObject([{ row: null, asks: "zone" }]);
  });

  it("when it has too many rows, and what is wrong is named fifty times at most", () => {
    const rows = Array.from({ length: 100_001 }, () => ["2026-12-03T06:00Z", "12"]);
    expect(readLoggerFile([["Time", "Temp °C"], ...rows], NONE).faults).toMatchObject([{ row: null }]);
    expect(readLoggerFile([["Time", "Temp °C"], ...rows.slice(0, 60).map(() => ["noon", "12"])], NONE).faults.map(({ message }) => message).at(-1)).toBe("There are 10 more of these.");
  });
});

describe("the dates of a logger's file", () => {
  it("are read as the file itself decides, else as was answered", () => {
    const open = "Time;Temp °C\n03/04/26 06:10Z;12";
    expect(read(open, { order: "day first" }).readings[0]?.at).toBe(at("2026-04-03T06:10Z"));
    expect(read(open, { order: "month first" }).readings[0]?.at).toBe(at("2026-03-04T06:10Z"));
    expect(read(`${open}\n13/04/2026 06:10Z;12`).readings[0]?.at).toBe(at("2026-04-03T06:10Z"));
    expect(read(`${open}\n04/13/26 06:10Z;12`).readings[0]?.at).toBe(at("2026-03-04T06:10Z"));
  });

  it("need no answer where day and month are one number", () => {
    expect(read("Time;Temp °C\n04/04/26 06:10Z;12").readings[0]?.at).toBe(at("2026-04-04T06:10Z"));
  });
});

describe("local times of a logger's file", () => {
  it.each([
    [HALIFAX, "2026-12-03T10:10Z"], ["-03:30", "2026-12-03T09:40Z"], ["Asia/Kathmandu", "2026-12-03T00:25Z"], ["Australia/Lord_Howe", "2026-12-02T19:10Z"],
  ])("are on the clock of %s", (zone, instant) => {
    expect(read("Time;Temp °C\n2026-12-03 06:10;12", { zone }).readings).toEqual([{ at: at(instant), celsius: "12" }]);
  });

  it("count an hour from midnight to one o'clock and two over the spring change", () => {
    const { readings } = site(series(["2027-03-13 23:30", 9], ["2027-03-14 00:30", 9], ["2027-03-14 01:30", 9], ["2027-03-14 03:30", 9]));
    expect(readings.slice(1).map((one, i) => (one.at - (readings[i]?.at ?? 0)) / HOUR)).toEqual([1, 1, 1]);
    expect(site(series(["2027-03-14 02:30", 9])).faults).toMatchObject([{ row: 2, asks: "zone" }]);
  });

  it("that come twice are settled where the order of the rows leaves one meaning", () => {
    const night: [string, number][] = [["2026-11-01 00:30", 9], ["2026-11-01 01:00", 9], ["2026-11-01 01:30", 9], ["2026-11-01 01:00", 8], ["2026-11-01 01:30", 8], ["2026-11-01 02:00", 8]];
    const { readings, faults } = site(series(...night));
    expect(faults).toEqual([]);
    expect(readings.map(({ at: instant }) => siteTime(instant, HALIFAX).iso.slice(11, 22))).toEqual(["00:30:00-03", "01:00:00-03", "01:30:00-03", "01:00:00-04", "01:30:00-04", "02:00:00-04"]);
    expect(site(series(...night.toReversed())).readings).toEqual(readings);
    // An hourly logger shows the same time twice.
    expect(site(series(["2026-11-01 00:30", 9], ["2026-11-01 01:30", 9], ["2026-11-01 01:30", 8], ["2026-11-01 02:30", 8])).readings.map(({ celsius }) => celsius)).toEqual(["9", "9", "8", "8"]);
  });

  it("that come twice are asked for where either meaning fits", () => {
    const { readings, faults } = site(series(["2026-11-01 00:30", 9], ["2026-11-01 01:30", 9], ["2026-11-01 02:30", 8]));
    expect(readings).toEqual([]);
    expect(faults).toMatchObject([{ row: 3, column: 0, asks: "zone" }]);
    // Where rows repeat a time anywhere, a repeated one shows nothing.
    const repeats: [string, number][] = [["2026-10-31 20:00", 9], ["2026-10-31 20:00", 9], ["2026-11-01 01:30", 9], ["2026-11-01 01:30", 8], ["2026-11-01 02:30", 8]];
    expect(site(series(...repeats)).faults.map(({ row }) => row)).toEqual([4, 5]);
    // And so where the rows are in no order.
    expect(site(series(["2026-11-01 06:00", 9], ["2026-11-01 03:00", 9], ["2026-11-01 01:30", 8], ["2026-11-01 08:00", 8])).faults.map(({ row }) => row)).toEqual([4]);
  });

  it("are at the offset of the head where it states one, whatever was answered", () => {
    const { readings, notes } = site("Time (UTC);Temp °C\n2026-12-03 06:10;12");
    expect(readings[0]?.at).toBe(at("2026-12-03T06:10Z"));
    expect(notes).toMatchObject([{ row: 1, column: 0 }]);
  });
});

describe("reading a logger's file", () => {
  const log = fc.uniqueArray(fc.integer({ min: 0, max: 400_000 }), { minLength: 1, maxLength: 30 }).chain((minutes) =>
    fc.tuple(fc.constant(minutes.toSorted((a, b) => a - b)), fc.array(fc.integer({ min: -400, max: 900 }), { minLength: minutes.length, maxLength: minutes.length })));

  it("is the inverse of writing it, in any zone, in °C", () => {
    fc.assert(fc.property(log, fc.constantFrom(HALIFAX, "Asia/Kathmandu", "Australia/Lord_Howe", "Pacific/Apia"), fc.boolean(), ([minutes, tenths], zone, backward) => {
      const readings = minutes.map((minute, i) => ({ at: at("2026-06-01T00:00Z") + minute * MINUTE, celsius: String((tenths[i] ?? 0) / 10) }));
      const rows = readings.map(({ at: instant, celsius }) => [siteTime(instant, zone).iso, celsius]);
      const file = readLoggerFile([["Time", "Temp (°C)"], ...(backward ? rows.toReversed() : rows)], NONE);
      expect(file).toEqual({ readings, faults: [], notes: [] });
    }));
  });

  it("never places a local time at an instant whose clock shows another", () => {
    fc.assert(fc.property(log, fc.constantFrom(HALIFAX, "Australia/Lord_Howe"), ([minutes], zone) => {
      const locals = minutes.map((minute) => siteTime(at("2026-06-01T00:00Z") + minute * MINUTE, zone));
      const { readings, faults } = readLoggerFile([["Time", "Temp (°C)"], ...locals.map(({ date, time }) => [`${date} ${time}`, "9"])], { ...NONE, zone });
      expect(readings.every(({ at: instant }) => locals.some(({ iso }) => iso === siteTime(instant, zone).iso) || faults.length > 0)).toBe(true);
      expect(readings.length === 0).toBe(faults.length > 0);
    }));
  });

  it("takes 100 000 rows of a minute each over a change of the clocks", () => {
    const rows = Array.from({ length: 100_000 }, (_, i) => {
      const instant = at("2026-09-01T00:00Z") + i * MINUTE;
      const clock = instant - (instant < at("2026-11-01T05:00Z") ? 3 : 4) * HOUR;
      return [new Date(clock).toISOString().slice(0, 16), String(10 + (i % 50) / 10)];
    });
    const { readings, faults } = readLoggerFile([["Time", "Temp (°C)"], ...rows], { ...NONE, zone: HALIFAX });
    expect(faults).toEqual([]);
    expect(readings).toHaveLength(100_000);
    expect(readings.at(-1)?.at).toBe(at("2026-09-01T00:00Z") + 99_999 * MINUTE);
  });
});
