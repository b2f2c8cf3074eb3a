import fc from "fast-check";
import { describe, expect, it } from "vitest";

import { cameraClock, cameraKey, cameraName, clockPageReference, clockReadings, clockWords, referencesOf, staleGps, summerTimeWords, trueInstants } from "#lib/domain/photo/camera-clock";
import { NO_CLAIMS } from "#lib/domain/photo/claims";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import { known, reference, SUMMER } from "#tests/domain/photo/camera-factory";
import { at, claimsWith, gpsTime } from "#tests/domain/photo/claims-factory";

const iso = (instant: number) => new Date(instant).toISOString();
const device = (parts: { make?: string; model?: string; serial?: string }) => ({ ...NO_CLAIMS.camera, ...parts });

describe("a device", () => {
  it.each([
    [{ make: "Testcam", model: "T-1", serial: "0042" }, "mira", "Testcam|T-1|0042", "Testcam T-1, serial 0042"],
    [{ make: "Testcam", model: "Testcam T-1" }, "mira", "Testcam|Testcam T-1|of mira", "Testcam T-1"],
    [{ make: "Testcam", model: "T-1", serial: "00000" }, "mira", "Testcam|T-1|of mira", "Testcam T-1"],
    [{ make: " Testcam  Works ", model: "T|1" }, "mira", "Testcam Works|T/1|of mira", "Testcam Works T|1"],
    [{ model: "T-1" }, "mira", "|T-1|of mira", "T-1"],
    [{ make: "Testcam" }, "jo", "Testcam||of jo", "Testcam"],
    [{ serial: "0042" }, "mira", null, "a camera that gives no name"],
    [{ make: "  ", model: "" }, "mira", null, "a camera that gives no name"],
  ])("%j sent by %s is %j, called %s", (camera, sentBy, key, name) => {
    expect([cameraKey(device(camera), sentBy), cameraName(device(camera))]).toEqual([key, name]);
  });

  it("with a serial number is the same whoever sends its photos, and a phone without one is not", () => {
    expect(cameraKey(device({ model: "T-1", serial: "7" }), "mira")).toBe(cameraKey(device({ model: "T-1", serial: "7" }), "jo"));
    expect(cameraKey(device({ model: "T-1" }), "mira")).not.toBe(cameraKey(device({ model: "T-1" }), "jo"));
  });
});

describe("what one photo tells about its camera's clock", () => {
  const camera = { dateTimeOriginal: "2026:11:03 10:20:00", subSecTimeOriginal: "25" };
  const phone = { capturedAt: "2026-11-03T09:19:05-04:00", offsetToServerMs: 5000, roundTripMs: 200 };
  const byGps = { source: "GPS time", photo: "a", wall: "2026-11-03T10:20:00.250", at: at("2026-11-03T13:19:10Z") };
  const byPhone = { source: "phone clock", photo: "a", wall: "2026-11-03T10:20:00.250", at: at("2026-11-03T13:19:10Z") };

  it.each([
    ["GPS time", claimsWith({ camera, gps: gpsTime("2026:11:03 13:19:10") }), [byGps]],
    ["the phone's corrected clock", claimsWith({ camera, device: phone }), [byPhone]],
    ["both", claimsWith({ camera, gps: gpsTime("2026:11:03 13:19:10"), device: phone }), [byGps, byPhone]],
    ["nothing with an uncompared phone", claimsWith({ camera, device: { capturedAt: phone.capturedAt } }), []],
    ["nothing with a phone compared over a slow line", claimsWith({ camera, device: { ...phone, roundTripMs: 4001 } }), []],
    ["nothing without the camera's time", claimsWith({ gps: gpsTime("2026:11:03 13:19:10"), device: phone }), []],
    ["nothing with GPS time that cannot be", claimsWith({ camera, gps: gpsTime("2026:02:30 13:19:10") }), []],
    ["nothing with a receiver that was not measuring", claimsWith({ camera, gps: { ...gpsTime("2026:11:03 13:19:10"), status: "V" } }), []],
    ["nothing where the file gives two times", claimsWith({ camera: { ...camera, dateTimeDigitized: "2026:11:03 12:20:00" }, gps: gpsTime("2026:11:03 13:19:10") }), []],
  ])("is %s", (_, claims, references) => {
    expect(referencesOf(claims, "a")).toEqual(references);
  });

  it("is the time that a clock page showed", () => {
    const shown = at("2026-11-03T13:19:10Z");
    expect(clockPageReference(claimsWith({ camera }), shown, "c")).toEqual({ source: "clock page", photo: "c", wall: "2026-11-03T10:20:00.250", at: shown });
    expect(clockPageReference(claimsWith({}), shown, "c")).toBeNull();
  });
});

describe("a camera's clock", () => {
  it.each([
    ["−10 713 s is −03:00 and 87 s fast", -10_713, -10_800, 87],
    ["−10 750 s is −03:00 and 50 s fast", -10_750, -10_800, 50],
    ["+20 640 s is +05:45 and 60 s slow", 20_640, 20_700, -60],
    ["+49 503 s is +13:45 and 3 s fast", 49_503, 49_500, 3],
    ["−43 200 s is −12:00 on time", -43_200, -43_200, 0],
    ["+50 400 s is +14:00 on time", 50_400, 50_400, 0],
    ["449 s is UTC and fast", 449, 0, 449],
    ["451 s is +00:15 and slow", 451, 900, -449],
  ])("%s", (_, ahead, zone, rest) => {
    const clock = known(cameraClock(["01", "02", "03"].map((day) => reference(`2026-11-${day}T13:00:00Z`, ahead))));
    expect([clock.zoneSeconds, clock.restSeconds, clock.isFew, clock.dropped]).toEqual([zone, rest, false, []]);
  });

  it("is the median, which one wrong reference does not move", () => {
    const clock = known(cameraClock([...SUMMER, reference("2026-11-03T20:00:00Z", -10_750 + 119)]));
    expect([clock.zoneSeconds, clock.restSeconds]).toEqual([-10_800, 50]);
  });

  it.each([["none", []], ["one", SUMMER.slice(0, 1)], ["two", SUMMER.slice(0, 2)], ["the same photo three times", [SUMMER[0]!, SUMMER[0]!, SUMMER[0]!]]])("is not known from %s", (_, references) => {
    expect(cameraClock(references)).toBeNull();
  });

  it("counts a photo with GPS and a phone's time once", () => {
    const two = ["2026-11-02T13:00:00Z", "2026-11-03T13:00:00Z"].flatMap((time) => [reference(time, -10_750), reference(time, -10_750, "phone clock")]);
    expect(cameraClock(two)).toBeNull();
  });

  it("may be confirmed from one photo of the clock page, good to 12 s and said to be few, but not from one GPS time", () => {
    const clock = known(cameraClock([reference("2026-11-02T13:00:00Z", -10_750, "clock page")], { minimum: 1 }));
    expect(clock.isFew).toBe(true);
    // 13:00:00Z shown as 10:00:50.
    expect(trueInstants(clock, "2026-11-02T10:00:50.000")).toEqual({ instants: [at("2026-11-02T13:00:00Z")], uncertaintySeconds: 12 });
    expect(cameraClock(SUMMER.slice(0, 1), { minimum: 1 })).toBeNull();
    expect(cameraClock(SUMMER.slice(0, 2), { minimum: 1 })).toBeNull();
    expect(known(cameraClock(SUMMER, { minimum: 1 })).isFew).toBe(false);
  });

  it("drops a difference that is no zone, and says so", () => {
    // A camera whose date is a day wrong.
    const clock = cameraClock(["01", "02", "03"].map((day) => reference(`2026-11-${day}T13:00:00Z`, -10_800 - 86_400)));
    expect(clock).toBeNull();
    const one = known(cameraClock([...SUMMER, reference("2026-11-03T14:00:00Z", 51_300)]));
    expect(one.dropped.map(({ why }) => why)).toEqual(["camera less true time 51300 s is no zone from -12:00 to +14:00"]);
    expect(one.zoneSeconds).toBe(-10_800);
  });

  it("drops what is not a time", () => {
    const clock = known(cameraClock([...SUMMER, { source: "GPS time", photo: "x", wall: "2026-02-31T25:00:00.000", at: at("2026-11-03T14:00:00Z") }, { ...SUMMER[0]!, photo: "y", at: Number.NaN }]));
    expect(clock.dropped.map(({ reference: { photo }, why }) => [photo, why])).toEqual([["x", "not a time"], ["y", "not a time"]]);
    expect(clock.references).toHaveLength(3);
  });

  it("reads in words", () => {
    expect([clockWords({ zoneSeconds: -10_800, restSeconds: 50 }), clockWords({ zoneSeconds: 20_700, restSeconds: -1.26 }), clockWords({ zoneSeconds: 0, restSeconds: 0.04 })]).toEqual([
      "-03:00 and 50 s fast",
      "+05:45 and 1.3 s slow",
      "+00:00 and on time",
    ]);
  });
});

describe("drift", () => {
  // Gains 1 s a day: 50 s fast on 1 November, 60 s on the 11th, 70 s on the 21st.
  const gaining = known(cameraClock([reference("2026-11-01T12:00:00Z", -10_750), reference("2026-11-11T12:00:00Z", -10_740), reference("2026-11-21T12:00:00Z", -10_730)]));

  it("is linear between references", () => {
    expect(gaining.gainPerDaySeconds).toBeCloseTo(1, 9);
    // On the 6th it is 55 s fast: 12:00:00Z shows as 09:00:55.
    expect(trueInstants(gaining, "2026-11-06T09:00:55.000")).toEqual({ instants: [at("2026-11-06T12:00:00Z")], uncertaintySeconds: 2 });
    expect(trueInstants(gaining, "2026-11-16T09:01:05.000")).toEqual({ instants: [at("2026-11-16T12:00:00Z")], uncertaintySeconds: 2 });
  });

  it("holds outside them and widens by 5 s a day at least", () => {
    expect(trueInstants(gaining, "2026-11-25T09:01:10.000")).toEqual({ instants: [at("2026-11-25T12:00:00Z")], uncertaintySeconds: 22 });
    expect(trueInstants(gaining, "2026-10-31T09:00:50.000")).toEqual({ instants: [at("2026-10-31T12:00:00Z")], uncertaintySeconds: 7 });
  });

  it("widens by the observed rate where that is more", () => {
    // 20 s in two days is 10 s a day; three days later 30 s more.
    const fast = known(cameraClock([reference("2026-11-01T12:00:00Z", -10_750), reference("2026-11-02T12:00:00Z", -10_740), reference("2026-11-03T12:00:00Z", -10_730)]));
    expect(trueInstants(fast, "2026-11-06T09:01:10.000")).toEqual({ instants: [at("2026-11-06T12:00:00Z")], uncertaintySeconds: 32 });
  });

  it("over months is no step, however far it goes", () => {
    const year = Array.from({ length: 13 }, (_, month) => reference(iso(at("2026-01-01T00:00:00Z") + month * 30 * 86_400_000), -10_800 + month * 60));
    const clock = known(cameraClock(year));
    expect([clock.runs.length, clock.dropped.length]).toEqual([1, 0]);
    expect(clock.gainPerDaySeconds).toBeCloseTo(2, 9);
  });

  it("is taken from the settings' own uncertainty", () => {
    const clock = known(cameraClock(SUMMER, { limits: { ...PHOTO_LIMIT_DEFAULTS, cameraReferenceSeconds: 9 } }));
    expect(trueInstants(clock, "2026-11-03T10:20:00.000").uncertaintySeconds).toBe(9);
  });

  it("that is uneven widens the uncertainty by what a reference lies off its neighbours", () => {
    const uneven = known(cameraClock([reference("2026-11-01T12:00:00Z", -10_750), reference("2026-11-11T12:00:00Z", -10_740), reference("2026-11-21T12:00:00Z", -10_710)]));
    // Half way from 60 s to 90 s is 75 s fast; the middle reference lies 10 s off the line from 50 s to 90 s.
    expect(trueInstants(uneven, "2026-11-16T09:01:15.000")).toEqual({ instants: [at("2026-11-16T12:00:00Z")], uncertaintySeconds: 22 });
  });

  it("of a phone's clock alone is good to half a minute, since its page notes the time after the exposure", () => {
    const phone = known(cameraClock(["01", "02", "03"].map((day) => reference(`2026-11-${day}T12:00:00Z`, -14_400, "phone clock"))));
    expect(trueInstants(phone, "2026-11-02T08:00:00.000")).toEqual({ instants: [at("2026-11-02T12:00:00Z")], uncertaintySeconds: 30 });
  });
});

describe("a clock that somebody set", () => {
  const before = ["2026-10-28", "2026-10-29", "2026-10-30"].map((day) => reference(`${day}T12:00:00Z`, -10_750));
  const after = ["2026-11-03", "2026-11-04", "2026-11-05"].map((day) => reference(`${day}T12:00:00Z`, -14_400));
  const clock = known(cameraClock([...after, ...before]));

  it("has a run before and one after, and the last is the one it stands by", () => {
    expect(clock.runs.map(({ zoneSeconds, restSeconds, firm }) => [zoneSeconds, restSeconds, firm])).toEqual([[-10_800, 50, true], [-14_400, 0, true]]);
    expect([clock.zoneSeconds, clock.restSeconds, clock.dropped]).toEqual([-14_400, 0, []]);
  });

  it.each([
    ["before", "2026-10-29T10:00:50.000", ["2026-10-29T13:00:00.000Z"]],
    ["long before", "2026-10-20T10:00:50.000", ["2026-10-20T13:00:00.000Z"]],
    ["after", "2026-11-04T10:00:00.000", ["2026-11-04T14:00:00.000Z"]],
    ["between, either way", "2026-11-01T10:00:50.000", ["2026-11-01T13:00:00.000Z", "2026-11-01T14:00:50.000Z"]],
    ["just after the last of the first run, either way", "2026-10-30T09:30:50.000", ["2026-10-30T12:30:00.000Z", "2026-10-30T13:30:50.000Z"]],
    ["just before the first of the second run, either way", "2026-11-03T07:30:00.000", ["2026-11-03T10:29:10.000Z", "2026-11-03T11:30:00.000Z"]],
    ["where only the second fits", "2026-11-03T09:30:00.000", ["2026-11-03T13:30:00.000Z"]],
  ])("reads a time %s", (_, wall, instants) => {
    expect(trueInstants(clock, wall).instants.map(iso)).toEqual(instants);
  });

  it("and showed one time twice, both in known runs, has both readings", () => {
    // Set back an hour at noon: 08:30 came at 11:30Z and again at 12:30Z.
    const shown = [..."012"].map((minute) => reference(`2026-11-03T11:5${minute}:00Z`, -10_800)).concat([..."012"].map((minute) => reference(`2026-11-03T12:1${minute}:00Z`, -14_400)));
    expect(trueInstants(known(cameraClock(shown)), "2026-11-03T08:30:00.000").instants.map(iso)).toEqual(["2026-11-03T11:30:00.000Z", "2026-11-03T12:30:00.000Z"]);
  });

  it("and skipped a time has both readings for it, as none can be right", () => {
    const shown = [..."012"].map((minute) => reference(`2026-03-09T11:5${minute}:00Z`, -14_400)).concat([..."012"].map((minute) => reference(`2026-03-09T12:1${minute}:00Z`, -10_800)));
    expect(trueInstants(known(cameraClock(shown)), "2026-03-09T08:30:00.000").instants.map(iso)).toEqual(["2026-03-09T12:30:00.000Z", "2026-03-09T11:30:00.000Z"]);
  });

  it("by no quarter hour shows it too, once two references bear it out", () => {
    const shown = [...before, reference("2026-11-01T12:00:00Z", -10_800 - 400), reference("2026-11-02T12:00:00Z", -10_800 - 400)];
    expect(known(cameraClock(shown)).runs.map(({ firm }) => firm)).toEqual([true, false]);
    expect(trueInstants(known(cameraClock(shown)), "2026-11-02T09:00:00.000").instants).toHaveLength(2);
  });

  it("is only suspected from one reference a whole hour off at the end: the run before stays possible", () => {
    const one = known(cameraClock([...before, after[0]!]));
    expect(one.runs.map(({ firm }) => firm)).toEqual([true, false]);
    expect(one.zoneSeconds).toBe(-10_800);
    expect(trueInstants(one, "2026-11-04T10:00:50.000").instants.map(iso)).toEqual(["2026-11-04T13:00:00.000Z", "2026-11-04T14:00:50.000Z"]);
    expect([...staleGps([...before, after[0]!])]).toEqual([]);
  });

  it("is believed from one photo of the clock page when a person confirms it", () => {
    const one = known(cameraClock([...before, reference("2026-11-03T12:00:00Z", -14_400, "clock page")], { minimum: 1 }));
    expect([one.zoneSeconds, one.isFew]).toEqual([-14_400, true]);
    expect(trueInstants(one, "2026-11-04T10:00:00.000").instants.map(iso)).toEqual(["2026-11-04T14:00:00.000Z"]);
  });
});

describe("a clock page", () => {
  it("outranks GPS time and a phone's clock of the same day that disagree", () => {
    const clock = known(
      cameraClock([reference("2026-11-03T10:00:00Z", -10_690), reference("2026-11-03T12:00:00Z", -10_750, "clock page"), reference("2026-11-03T13:00:00Z", -10_749), reference("2026-11-03T14:00:00Z", -10_770, "phone clock"), ...SUMMER.slice(0, 1), ...SUMMER.slice(2)]),
    );
    expect(clock.dropped.map(({ why }) => why)).toEqual(["60 s off the clock page of the same day", "21 s off the GPS time of the same day"]);
    expect(trueInstants(clock, "2026-11-03T09:00:50.000").instants.map(iso)).toEqual(["2026-11-03T12:00:00.000Z"]);
  });

  it("that shows one time over several camera times is a kept picture of the page", () => {
    const kept = ["09:00:00", "10:00:00"].map((time, i) => ({ source: "clock page" as const, photo: `k${i}`, wall: `2026-11-03T${time}.000`, at: at("2026-11-03T12:00:00Z") }));
    expect(cameraClock(kept, { minimum: 1 })).toBeNull();
  });

  it("an hour off between GPS times that agree leaves both possible about its time", () => {
    const clock = known(cameraClock([...SUMMER, reference("2026-11-03T18:00:00Z", -14_350, "clock page")], { minimum: 1 }));
    expect(trueInstants(clock, "2026-11-03T20:00:00.000").instants.length).toBeGreaterThan(1);
  });
});

describe("summer time", () => {
  const clockAhead = (ahead: number, ...days: string[]) => known(cameraClock(days.map((day) => reference(`${day}T12:00:00Z`, ahead))));
  const NOVEMBER = ["2026-11-03", "2026-11-04", "2026-11-05"];
  const JULY = ["2026-07-03", "2026-07-04", "2026-07-05"];

  it.each([
    ["America/Halifax", -10_750, NOVEMBER, "camera still on summer time, 1 h ahead"],
    ["America/Halifax", -14_350, NOVEMBER, null],
    ["America/Halifax", -14_350, JULY, "camera still on standard time, 1 h behind"],
    ["America/Halifax", -10_750, JULY, null],
    ["America/Halifax", 0, NOVEMBER, null],
    ["America/Halifax", -18_000, NOVEMBER, null],
    ["America/St_Johns", -9_000, NOVEMBER, "camera still on summer time, 1 h ahead"],
    ["Australia/Lord_Howe", 39_600, JULY, "camera still on summer time, 30 min ahead"],
    ["Australia/Lord_Howe", 37_800, NOVEMBER, "camera still on standard time, 30 min behind"],
    ["Pacific/Chatham", 49_500, JULY, "camera still on summer time, 1 h ahead"],
    ["Asia/Kathmandu", 24_300, JULY, null],
    ["UTC", 3_600, JULY, null],
    ["Pacific/Apia", 50_400, JULY, null],
  ])("in %s, a clock %d s ahead of UTC: %j", (zone, ahead, days, words) => {
    expect(summerTimeWords(clockAhead(ahead, ...days), zone)).toBe(words);
  });
});

describe("whatever references are given", () => {
  const anyReference = fc.record({
    source: fc.constantFrom("GPS time" as const, "phone clock" as const, "clock page" as const),
    photo: fc.string({ minLength: 1, maxLength: 4 }),
    wall: fc.oneof(fc.date({ min: new Date("2026-10-01T00:00:00Z"), max: new Date("2026-12-01T00:00:00Z"), noInvalidDate: true }).map((date) => date.toISOString().slice(0, -1)), fc.constant("nonsense")),
    at: fc.oneof(fc.integer({ min: at("2026-10-01T00:00:00Z"), max: at("2026-12-01T00:00:00Z") }), fc.constant(Number.NaN)),
  });

  it("each is in a run or dropped with a reason, and times come out whole and finite", () => {
    fc.assert(
      fc.property(fc.array(anyReference, { maxLength: 12 }), fc.constantFrom(1, 3), (references, minimum) => {
        const clock = cameraClock(references, { minimum });
        staleGps(references);
        if (clock === null) return;
        expect(clock.references.length + clock.dropped.length).toBe(references.length);
        const { instants, uncertaintySeconds } = trueInstants(clock, "2026-11-03T10:20:00.000");
        expect(instants.length).toBeGreaterThan(0);
        expect(instants.every(Number.isSafeInteger)).toBe(true);
        expect(Number.isFinite(uncertaintySeconds)).toBe(true);
      }),
      { numRuns: 500 },
    );
  });

  it("their order does not matter", () => {
    fc.assert(
      fc.property(fc.shuffledSubarray([...SUMMER, reference("2026-11-05T12:00:00Z", -7_000), reference("2026-11-06T12:00:00Z", -14_400), reference("2026-11-07T12:00:00Z", -14_400)], { minLength: 6 }), (shuffled) => {
        expect(clockReadings(known(cameraClock(shuffled)), "2026-11-05T10:00:00.000")).toEqual(clockReadings(known(cameraClock([...shuffled].sort((a, b) => a.at - b.at))), "2026-11-05T10:00:00.000"));
      }),
    );
  });

  it("the true time lies within the uncertainty, of a clock that drifts evenly under what is assumed, with one old fix among them", () => {
    const days = fc.uniqueArray(fc.integer({ min: 0, max: 60 }), { minLength: 4, maxLength: 10 });
    const jitter = fc.array(fc.integer({ min: -900, max: 900 }), { minLength: 12, maxLength: 12 });
    fc.assert(
      fc.property(days, jitter, fc.integer({ min: -45, max: 45 }), fc.integer({ min: -4500, max: 4500 }), fc.integer({ min: 120, max: 86_000 }), fc.integer({ min: -10, max: 70 }), (daysOn, jitters, quarters, gainMs, oldBy, day) => {
        const start = at("2026-06-01T12:00:00Z");
        const ahead = (instant: number) => (quarters * 900 + 30) * 1000 + (gainMs * (instant - start)) / 86_400_000;
        const wallOf = (instant: number) => new Date(Math.round(instant + ahead(instant))).toISOString().slice(0, -1);
        const references = daysOn.map((one, i) => ({ source: "GPS time" as const, photo: String(i), wall: wallOf(start + one * 86_400_000 + (jitters[i] ?? 0)), at: start + one * 86_400_000 }));
        const exposed = start + 30.3 * 86_400_000;
        const clock = cameraClock([...references, { source: "GPS time", photo: "old", wall: wallOf(exposed), at: exposed - oldBy * 1000 }]);
        const truth = start + day * 86_400_000 + 3_600_000;
        const found = trueInstants(known(clock), wallOf(truth));
        expect(found.instants.some((one) => Math.abs(one - truth) <= found.uncertaintySeconds * 1000)).toBe(true);
      }),
      { numRuns: 500 },
    );
  });
});
