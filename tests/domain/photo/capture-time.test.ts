import fc from "fast-check";
import { describe, expect, it } from "vitest";

import { instantAt, isBlankTime, offsetText, parseGpsInstant, parseOffsetSeconds, parseSubSeconds, parseWallTime } from "#lib/domain/photo/capture-time";

describe("a camera's date and time", () => {
  it.each([
    ["2026:10:20 09:14:32", "2026-10-20T09:14:32.000Z"],
    ["2024:02:29 23:59:59", "2024-02-29T23:59:59.000Z"],
    ["2000:02:29 00:00:00", "2000-02-29T00:00:00.000Z"],
    ["0099:01:01 00:00:00", "0099-01-01T00:00:00.000Z"],
  ])("reads %s", (text, asUtc) => {
    expect(new Date(instantAt(parseWallTime(text)!, 0)).toISOString()).toBe(asUtc);
  });

  it.each([
    "0000:00:00 00:00:00",
    "    :  :     :  :  ",
    "",
    "2026:02:30 10:00:00",
    "2026:02:29 10:00:00",
    "1900:02:29 10:00:00",
    "2026:04:31 10:00:00",
    "2026:13:01 10:00:00",
    "2026:00:10 10:00:00",
    "2026:10:00 10:00:00",
    "2026:10:20 24:00:00",
    "2026:10:20 10:60:00",
    "2026:10:20 10:00:60",
    "2026-10-20 10:00:00",
    "2026-10-20T10:00:00Z",
    "2026:10:20 10:00",
    "2026:10:20  10:00:00",
    "26:10:20 10:00:00",
    "2026:10:20 10:00:00 ",
    "2026:10:20 1e:00:00",
    "２０２６:10:20 10:00:00",
  ])("takes %j for no time, and never for a neighbouring one", (text) => {
    expect(parseWallTime(text)).toBeNull();
  });

  it("reads back every moment it is given, to the second", () => {
    const moments = fc.date({ min: new Date("1970-01-01T00:00:00Z"), max: new Date("2099-12-31T23:59:59Z"), noInvalidDate: true });
    fc.assert(
      fc.property(moments, (date) => {
        const whole = Math.trunc(date.getTime() / 1000) * 1000;
        const text = new Date(whole).toISOString().slice(0, 19).replace("T", " ").replace(/-/g, ":");
        expect(instantAt(parseWallTime(text)!, 0)).toBe(whole);
      }),
    );
  });

  it.each([
    ["5", 500],
    ["054", 54],
    ["050", 50],
    ["123456", 123],
    ["", 0],
    ["  ", 0],
    [null, 0],
    ["-5", null],
    ["5.0", null],
    ["1e3", null],
    ["NaN", null],
  ])("reads the digits after the second %j as %j ms", (text, ms) => {
    expect(parseSubSeconds(text)).toBe(ms);
  });

  it("knows blanks from wrong times", () => {
    expect([isBlankTime("    :  :     :  :  "), isBlankTime("   :  "), isBlankTime("0000:00:00 00:00:00")]).toEqual([true, true, false]);
  });
});

describe("an offset tag", () => {
  it.each([
    ["+00:00", 0],
    ["-00:00", 0],
    ["-03:30", -12_600],
    ["+05:45", 20_700],
    ["+14:00", 50_400],
    ["-12:00", -43_200],
  ])("reads %s as %d s", (text, seconds) => {
    expect(parseOffsetSeconds(text)).toBe(seconds);
  });

  it.each(["+14:01", "-12:01", "+24:00", "+03:60", "03:00", "Z", "+3:00", "+0300", "−03:00", "", "UTC"])("refuses %j", (text) => {
    expect(parseOffsetSeconds(text)).toBeNull();
  });

  it("writes what it reads", () => {
    fc.assert(
      fc.property(fc.integer({ min: -12 * 60, max: 14 * 60 }), (minutes) => {
        expect(parseOffsetSeconds(offsetText(minutes * 60))).toBe(minutes * 60);
      }),
    );
  });
});

describe("GPS time", () => {
  it.each([
    // Fractions as cameras write them; the first three are those of real files, read by exiftool 12.57 as 14:27:07.24, 11:12:32 and 18:12:23.06.
    ["2008:10:23", "14/1 27/1 724/100", "2008-10-23T14:27:07.240Z"],
    ["2022:08:14", "11/1 12/1 32/1", "2022-08-14T11:12:32.000Z"],
    ["2015:04:10", "18/1 12/1 2306/100", "2015-04-10T18:12:23.060Z"],
    ["2026:10:20", "24/2 0/7 59999/1000", "2026-10-20T12:00:59.999Z"],
    // The same numbers divided.
    ["2008:10:23", "14 27 7.24", "2008-10-23T14:27:07.240Z"],
    ["2026:10:20", "12 0 59.999", "2026-10-20T12:00:59.999Z"],
    ["2026:10:20", "0 0 2.3283064365386963e-10", "2026-10-20T00:00:00.000Z"],
  ])("reads %s %s", (date, time, iso) => {
    expect(new Date(parseGpsInstant(date, time)!).toISOString()).toBe(iso);
  });

  it.each([
    ["2026:10:20", "12/1 13/1 5/0"],
    ["2026:10:20", "0/0 0/0 0/0"],
    ["2026:10:20", "24/1 0/1 0/1"],
    ["2026:10:20", "12/1 60/1 0/1"],
    ["2026:10:20", "12/1 13/1 60/1"],
    ["2026:10:20", "25/2 13/1 5/1"],
    ["2026:10:20", "-12/1 13/1 5/1"],
    ["2026:10:20", "12/1 13/1"],
    ["2026:10:20", "12/1 13/1 5/1 0/1"],
    ["2026:10:20", "12 13 Infinity"],
    ["2026:10:20", "NaN NaN NaN"],
    ["2026:10:20", "12.5 13 5"],
    ["2026:10:20", "12 13 60"],
    ["2026:10:20", "12 13 1e400"],
    ["2026:10:20", "12 13 -5"],
    ["2026:10:20", "12 13"],
    ["2026:10:20", "4294967296/4294967296 0/1 0/1"],
    ["2026:02:30", "12/1 13/1 5/1"],
    ["2026-10-20", "12/1 13/1 5/1"],
    ["0000:00:00", "0/1 0/1 0/1"],
    ["1980:01:06", "0/1 0/1 5/1"],
  ])("refuses %s %s", (date, time) => {
    expect(parseGpsInstant(date, time)).toBeNull();
  });
});
