import { describe, expect, it } from "vitest";

import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import { timeConflictFlags } from "#lib/domain/photo/time-conflict";
import { isBlankXmpTime, parseXmpTime } from "#lib/domain/photo/xmp-time";
import { claimsWith } from "#tests/domain/photo/claims-factory";

describe("a date of XMP", () => {
  const wall = { year: 2026, month: 10, day: 20, hour: 9, minute: 30, second: 0, millisecond: 0 };

  it.each([
    ["2026-10-20T09:30:00-03:00", { wall, day: "2026-10-20", offsetSeconds: -10_800, utc: false }],
    ["2026-10-20T09:30:00Z", { wall, day: "2026-10-20", offsetSeconds: 0, utc: true }],
    ["2026-10-20T09:30", { wall, day: "2026-10-20", offsetSeconds: null, utc: false }],
    ["2026-10-20T09:30:00.250000+05:45", { wall: { ...wall, millisecond: 250 }, day: "2026-10-20", offsetSeconds: 20_700, utc: false }],
    ["2026-10-20", { wall: null, day: "2026-10-20", offsetSeconds: null, utc: false }],
    ["2026-10", { wall: null, day: "2026-10", offsetSeconds: null, utc: false }],
    ["2026", { wall: null, day: "2026", offsetSeconds: null, utc: false }],
  ])("%s is read", (text, expected) => {
    expect(parseXmpTime(text)).toEqual(expected);
  });

  it.each(["", "2026-02-30", "2026-02-30T10:00:00Z", "2026-13", "2026-10-20T24:00:00Z", "2026-10-20T09:30:60Z", "2026-10-20T09:30:00+15:00", "2026-10T09:30", "2026:10:20 09:30:00", "20 October 2026", "2026-10-20T09:30:00Z and more"])(
    "%j is none",
    (text) => {
      expect(parseXmpTime(text)).toBeNull();
    },
  );

  it.each([
    ["0000-00-00T00:00:00", true],
    ["  ", true],
    ["0000-01-01", false],
  ])("%j says nothing: %s", (text, expected) => {
    expect(isBlankXmpTime(text)).toBe(expected);
  });
});

describe("two times of exposure in one file", () => {
  const camera = { dateTimeOriginal: "2026:10:20 09:30:00", offsetTimeOriginal: "-03:00", dateTimeDigitized: "2026:10:20 09:30:00" };
  const noZone = { ...camera, offsetTimeOriginal: null };
  const codes = (parts: Parameters<typeof claimsWith>[0]) => timeConflictFlags(claimsWith(parts), PHOTO_LIMIT_DEFAULTS).map(({ code }) => code);

  it.each([
    ["agree to the second", camera, { dateTimeOriginal: "2026-10-20T09:30:00-03:00" }, []],
    ["agree in another zone", camera, { dateTimeOriginal: "2026-10-20T12:30:00Z" }, []],
    ["agree within two minutes", camera, { dateTimeOriginal: "2026-10-20T09:32:00-03:00" }, []],
    ["disagree by a second more", camera, { dateTimeOriginal: "2026-10-20T09:32:01-03:00" }, ["TIME_TAGS_CONFLICT"]],
    ["disagree by a day", camera, { dateTimeOriginal: "2026-10-19T09:30:00-03:00" }, ["TIME_TAGS_CONFLICT"]],
    ["agree on the clock where only one has a zone", noZone, { dateTimeOriginal: "2026-10-20T09:30:00-03:00" }, []],
    ["may be the same moment, one of them in UTC", noZone, { dateTimeOriginal: "2026-10-20T12:30:00Z" }, []],
    ["are no zone apart, though one is in UTC", noZone, { dateTimeOriginal: "2026-10-20T12:37:30Z" }, ["TIME_TAGS_CONFLICT"]],
    ["are an hour apart without zones", noZone, { dateTimeOriginal: "2026-10-20T10:30:00" }, ["TIME_TAGS_CONFLICT"]],
    ["agree on the day, the only thing given", camera, { dateCreated: "2026-10-20" }, []],
    ["disagree on the day, the only thing given", camera, { dateCreated: "2026-10-19" }, ["TIME_TAGS_CONFLICT"]],
    ["agree on the year", camera, { dateCreated: "2026" }, []],
    ["disagree, though only about when it was first written", camera, { createDate: "2026-10-21T08:00:00-03:00" }, ["TIME_TAGS_CONFLICT"]],
    ["agree about when it was scanned", { ...camera, dateTimeDigitized: "2026:10:25 08:00:00" }, { createDate: "2026-10-25T08:00:00" }, []],
    ["differ only in when it was changed", camera, { modifyDate: "2026-10-21T08:00:00-03:00" }, []],
    ["are one and a blank", camera, { dateTimeOriginal: "0000-00-00T00:00:00" }, []],
    ["are one and a day that does not exist", camera, { dateTimeOriginal: "2026-02-30T09:30:00Z" }, ["METADATA_INVALID"]],
    ["are only one, and that in XMP", {}, { dateTimeOriginal: "2026-10-20T09:30:00-03:00" }, []],
  ])("%s", (_name, own, xmp, expected) => {
    expect(codes({ camera: own, xmp })).toEqual(expected);
  });
});
