import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatWhen, fromSite, shiftOf, siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE } from "#lib/domain/instant";

const ZONE = "America/Halifax";
const at = (iso: string) => Date.parse(iso);
const anyInstant = fc.integer({ min: at("2020-01-01T00:00:00Z") / MINUTE, max: at("2040-01-01T00:00:00Z") / MINUTE }).map((minutes) => minutes * MINUTE);
const anyZone = fc.constantFrom(ZONE, "UTC", "America/New_York", "Asia/Tokyo", "Australia/Lord_Howe", "Asia/Kathmandu", "Pacific/Apia");

describe("the time on site", () => {
  it.each([
    ["2026-12-03T16:00:00Z", { date: "2026-12-03", time: "12:00", weekday: "Thu", offset: "-04:00", iso: "2026-12-03T12:00:00-04:00" }],
    ["2026-11-01T04:30:00Z", { date: "2026-11-01", time: "01:30", weekday: "Sun", offset: "-03:00", iso: "2026-11-01T01:30:00-03:00" }],
    ["2026-11-01T05:30:00Z", { date: "2026-11-01", time: "01:30", weekday: "Sun", offset: "-04:00", iso: "2026-11-01T01:30:00-04:00" }],
    ["2026-11-01T02:59:59.250Z", { date: "2026-10-31", time: "23:59", weekday: "Sat", offset: "-03:00", iso: "2026-10-31T23:59:59.25-03:00" }],
  ])("of %s", (instant, shown) => {
    expect(siteTime(at(instant), ZONE)).toEqual(shown);
  });

  // Elapsed hours from a start on the site's clocks to an end on them; the clocks change in between.
  it.each([
    ["2026-10-31T20:30", 18, "2026-11-01T13:30:00-04:00"],
    ["2027-03-13T20:30", 18, "2027-03-14T15:30:00-03:00"],
    ["2026-10-31T14:10", 24, "2026-11-01T13:10:00-04:00"],
  ])("from %s and %d hours on is %s", (start, hours, end) => {
    const [begun = Number.NaN] = fromSite(start, ZONE).instants;
    expect(siteTime(begun + hours * HOUR, ZONE).iso).toBe(end);
  });

  it("carries an ISO 8601 text that gives back the instant, in any zone", () => {
    fc.assert(fc.property(anyInstant, anyZone, (instant, zone) => {
      expect(at(siteTime(instant, zone).iso)).toBe(instant);
    }));
  });

  it("refuses a zone that does not exist", () => {
    expect(() => siteTime(0, "Atlantic/Nowhere")).toThrow(RangeError);
  });
});

describe("a time typed on site", () => {
  it("is one instant on an ordinary day", () => {
    expect(fromSite("2026-12-03T12:00", ZONE)).toEqual({ instants: [at("2026-12-03T16:00:00Z")], offsets: ["-04:00"], problem: null });
    expect(fromSite("2026-12-03T12:00:30", ZONE).instants).toEqual([at("2026-12-03T16:00:30Z")]);
  });

  it("is two instants where the clocks repeat it, the earlier first", () => {
    expect(fromSite("2026-11-01T01:30", ZONE)).toEqual({
      instants: [at("2026-11-01T04:30:00Z"), at("2026-11-01T05:30:00Z")],
      offsets: ["-03:00", "-04:00"],
      problem: "ambiguous",
    });
  });

  it("is no instant where the clocks jump over it", () => {
    expect(fromSite("2027-03-14T02:30", ZONE)).toEqual({ instants: [], offsets: [], problem: "nonexistent" });
    expect(fromSite("2027-03-14T03:00", ZONE).instants).toEqual([at("2027-03-14T06:00:00Z")]);
  });

  it.each(["", "now", "2026-02-30T10:00", "2026-12-03T25:00", "2026-12-03", "12:00", "2026-12-03T12:00Z", "2026-12-03T12:00-04:00", "2026-12-03T12:00[UTC]", "03/12/26 12:00"])(
    "is not read from %j",
    (text) => {
      expect(fromSite(text, ZONE)).toEqual({ instants: [], offsets: [], problem: "not a time" });
    },
  );

  it("always has the instant that was shown among those it can mean", () => {
    fc.assert(fc.property(anyInstant, anyZone, (instant, zone) => {
      const { date, time } = siteTime(instant, zone);
      expect(fromSite(`${date}T${time}`, zone).instants).toContain(instant);
    }));
  });
});

describe("showing when", () => {
  const asOf = at("2026-12-03T12:00:05-04:00");

  it("gives weekday, date, time and offset in full, and weekday and time in short", () => {
    expect(formatWhen(asOf, ZONE)).toBe("Thu 3 Dec 2026, 12:00 −04:00");
    expect(formatWhen(asOf, ZONE, { short: true })).toBe("Thu 12:00");
    expect(formatWhen(asOf, ZONE, { short: true, offset: true })).toBe("Thu 12:00 −04:00");
    expect(formatWhen(asOf, ZONE, { offset: false, seconds: true })).toBe("Thu 3 Dec 2026, 12:00:05");
  });

  it("tells the two half past ones of the autumn change apart", () => {
    expect([4.5, 5.5].map((hour) => formatWhen(at("2026-11-01T00:00:00Z") + hour * HOUR, ZONE))).toEqual([
      "Sun 1 Nov 2026, 01:30 −03:00",
      "Sun 1 Nov 2026, 01:30 −04:00",
    ]);
  });

  it("shows an offset east of Greenwich with a plus", () => {
    expect(formatWhen(asOf, "Asia/Tokyo")).toBe("Fri 4 Dec 2026, 01:00 +09:00");
  });
});

describe("the shift of an instant", () => {
  const day = { startsAt: "07:00", hours: 12 };
  const night = { startsAt: "19:00", hours: 12 };

  it.each([
    ["in the morning", "2026-12-03T07:00:00-04:00", day, "2026-12-03"],
    ["just before it begins", "2026-12-03T06:59:59-04:00", day, "2026-12-02"],
    ["after its hours, still the one most recently begun", "2026-12-03T21:30:00-04:00", day, "2026-12-03"],
    ["after midnight in a night shift", "2026-12-03T02:00:00-04:00", night, "2026-12-02"],
    ["late in the evening of a night shift", "2026-12-03T23:00:00-04:00", night, "2026-12-03"],
  ])("%s", (_when, instant, shift, date) => {
    expect(shiftOf(at(instant), ZONE, shift).date).toBe(date);
  });

  it("has its beginning and end as instants", () => {
    expect(shiftOf(at("2026-12-03T12:00:00-04:00"), ZONE, day)).toEqual({
      date: "2026-12-03",
      from: at("2026-12-03T07:00:00-04:00"),
      to: at("2026-12-03T19:00:00-04:00"),
    });
  });

  it("is an hour longer in the autumn night and an hour shorter in the spring night", () => {
    const length = (instant: string) => {
      const { from, to } = shiftOf(at(instant), ZONE, night);
      return (to - from) / HOUR;
    };
    expect(length("2026-11-01T01:30:00-04:00")).toBe(13);
    expect(length("2027-03-14T05:00:00-03:00")).toBe(11);
  });

  it("has always begun and is never a day old, in any zone", () => {
    fc.assert(fc.property(anyInstant, anyZone, fc.integer({ min: 0, max: 23 }), (instant, zone, hour) => {
      const shift = { startsAt: `${String(hour).padStart(2, "0")}:00`, hours: 12 };
      const { from, date } = shiftOf(instant, zone, shift);
      expect(from).toBeLessThanOrEqual(instant);
      expect(instant - from).toBeLessThan(26 * HOUR); // the longest day has 25 hours
      expect(siteTime(from, zone).date).toBe(date);
    }));
  });

  it("refuses a shift without hours or without a beginning", () => {
    expect(() => shiftOf(0, ZONE, { startsAt: "07:00", hours: 0 })).toThrow(RangeError);
    expect(() => shiftOf(0, ZONE, { startsAt: "07:00", hours: 25 })).toThrow(RangeError);
    expect(() => shiftOf(0, ZONE, { startsAt: "dawn", hours: 12 })).toThrow(RangeError);
  });
});
