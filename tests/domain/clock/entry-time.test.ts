import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readEntryTime } from "#lib/domain/clock/entry-time";
import { siteTime } from "#lib/domain/clock/site-time";
import { MINUTE } from "#lib/domain/instant";

const ZONE = "America/Halifax";
const at = (iso: string) => Date.parse(iso);
const FROM = at("2026-01-01T00:00:00Z") / MINUTE;
const TO = at("2030-01-01T00:00:00Z") / MINUTE;

describe("the time of work as typed", () => {
  it.each([
    ["on the site's clock", "2026-10-20T09:05", "2026-10-20T12:05:00Z"],
    ["on the site's winter clock", "2026-12-03T12:00", "2026-12-03T16:00:00Z"],
    ["to the second", "2026-10-20T09:05:30", "2026-10-20T12:05:30Z"],
    ["with spaces around it", "  2026-10-20T09:05 ", "2026-10-20T12:05:00Z"],
    ["with Z", "2026-10-20T09:05Z", "2026-10-20T09:05:00Z"],
    ["with an offset", "2026-10-20T09:05-03:00", "2026-10-20T12:05:00Z"],
    ["with an offset of another place", "2026-10-20T09:05+05:45", "2026-10-20T03:20:00Z"],
    ["with a true minus sign, as it is shown", "2026-10-20T09:05−03:00", "2026-10-20T12:05:00Z"],
    ["to the millisecond", "2026-10-20T09:05:30.250Z", "2026-10-20T09:05:30.250Z"],
  ])("%s is one instant", (_how, text, instant) => {
    expect(readEntryTime(text, ZONE)).toEqual({ ok: true, instant: at(instant) });
  });

  it.each(["", "   "])("is no time when it is empty: %j", (text) => {
    expect(readEntryTime(text, ZONE)).toEqual({ ok: true, instant: null });
  });

  it("that comes twice is asked for again, and each answer that is offered is one of the two", () => {
    const read = readEntryTime("2026-11-01T01:30", ZONE);
    if (read.ok) throw new Error("An hour that comes twice was guessed.");
    expect(read.message).toBe("2026-11-01 01:30 comes twice on this day. Write which one: 2026-11-01T01:30-03:00 or 2026-11-01T01:30-04:00.");
    const offered = read.message.match(/\d{4}-\d{2}-\d{2}T\d{2}:\d{2}[+-]\d{2}:\d{2}/g) ?? [];
    expect(offered.map((text) => readEntryTime(text, ZONE))).toEqual([
      { ok: true, instant: at("2026-11-01T04:30:00Z") },
      { ok: true, instant: at("2026-11-01T05:30:00Z") },
    ]);
  });

  it("that the clocks skip is refused with the reason", () => {
    expect(readEntryTime("2027-03-14T02:30", ZONE)).toEqual({ ok: false, message: "2027-03-14 02:30 is skipped on this day, because the clocks go forward." });
  });

  it.each([
    "now", "09:05", "2026-10-20", "2026-13-01T09:05", "2026-02-30T09:05", "2026-10-20T25:00", "2026-10-20T09:05+25:00", "20/10/26 09:05",
    "2026-10-20 09:05", "1e400", "NaN", "Infinity", "2026-13-01T09:05Z",
  ])("%s is not a date and time", (text) => {
    expect(readEntryTime(text, ZONE)).toEqual({ ok: false, message: `${text} is not a date and time.` });
  });

  it.each(["2026-02-30T09:05Z", "2026-02-30T09:05-03:00", "2026-06-31T09:05Z", "2026-10-20T24:30Z"])("%s names a moment that the calendar lacks, also with an offset", (text) => {
    expect(readEntryTime(text, ZONE).ok).toBe(false);
  });

  it("does not give back a long text in full", () => {
    const read = readEntryTime("x".repeat(5_000), ZONE);
    expect(read.ok || read.message.length).toBeLessThan(100);
  });

  it("is read again as the instant that was shown, with its offset", () => {
    fc.assert(fc.property(fc.integer({ min: FROM, max: TO }), fc.constantFrom(ZONE, "Asia/Kathmandu", "Australia/Lord_Howe"), (minutes, zone) => {
      const instant = minutes * MINUTE;
      expect(readEntryTime(siteTime(instant, zone).iso, ZONE)).toEqual({ ok: true, instant });
    }));
  });
});
