import fc from "fast-check";
import { describe, expect, it } from "vitest";

import { cameraClock, NO_CAMERA_KNOWLEDGE, referencesOf, staleGps } from "#lib/domain/photo/camera-clock";
import { PhotoClaimsSchema } from "#lib/domain/photo/claims";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import { deriveInstant } from "#lib/domain/photo/derived-instant";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import { orderVerdict } from "#lib/domain/photo/order";
import { photoFlags } from "#lib/domain/photo/photo-flags";
import { at, claimsWith, gpsTime } from "#tests/domain/photo/claims-factory";
import { TIME_CASES } from "#tests/domain/photo/time-cases";
import { CLOCK_TIME_CASES } from "#tests/domain/photo/time-cases-clock";
import { EDGE_TIME_CASES } from "#tests/domain/photo/time-cases-edge";
import { WORLD_TIME_CASES } from "#tests/domain/photo/time-cases-world";

const iso = (instant: number) => new Date(instant).toISOString();

const ALL_CASES = [...TIME_CASES, ...WORLD_TIME_CASES, ...EDGE_TIME_CASES, ...CLOCK_TIME_CASES];

describe("labelled photos", () => {
  it("are at least two hundred, each with its own name", () => {
    expect(new Set(ALL_CASES.map(({ name }) => name)).size).toBe(ALL_CASES.length);
    expect(ALL_CASES.length).toBeGreaterThanOrEqual(200);
  });

  it.each(ALL_CASES)("$name: $verdict", (photo) => {
    const receivedAt = at(photo.receivedAt ?? "2026-10-20T20:00:00Z");
    const [from, to] = photo.window ?? ["2026-10-20T12:05:00Z", "2026-10-20T13:40:00Z"];
    const window = { from: from === null ? null : at(from), to: at(to) };
    const derived = deriveInstant(photo.claims, {
      siteZone: photo.zone ?? "America/Halifax",
      receivedAt,
      camera: { ...NO_CAMERA_KNOWLEDGE, ...photo.known },
      ...(photo.otherZones && { otherZones: photo.otherZones }),
    });
    const finding = orderVerdict(derived, window, receivedAt, iso);

    expect({
      basis: derived.basis,
      instant: derived.instant === null ? null : iso(derived.instant),
      u: derived.uncertaintySeconds,
      flags: derived.flags.map(({ code }) => code),
      verdict: finding.verdict,
    }).toEqual({ basis: photo.basis, instant: photo.instant, u: photo.u, flags: photo.flags, verdict: photo.verdict });
    expect(derived.hypotheses.length === 1).toBe(photo.instant !== null);
    if (photo.hypotheses) expect(derived.hypotheses.map(iso)).toEqual(photo.hypotheses.map((time) => iso(at(time))));
    expect(finding.words.endsWith(photo.verdict)).toBe(true);
    if (photo.truth !== undefined && finding.verdict === "in order") {
      expect(at(photo.truth)).toBeGreaterThanOrEqual(window.from ?? -Infinity);
      expect(at(photo.truth)).toBeLessThanOrEqual(window.to);
    }
  });
});

describe("the camera's clock", () => {
  // −10 713 s is −03:00 and 87 s fast; −10 750 s is −03:00 and 50 s fast. Both computed by hand.
  it.each([
    ["2026:10:20 09:14:32", "2026:10:20 12:13:05", -10_800, 87],
    ["2026:11:03 10:20:00", "2026:11:03 13:19:10", -10_800, 50],
    ["2015:04:10 20:12:23", "2015:04:10 18:12:23", 7_200, 0],
  ])("at %s with GPS %s is %d s from UTC and %d s fast", (camera, gps, zone, drift) => {
    const derived = deriveInstant(claimsWith({ camera: { dateTimeOriginal: camera }, gps: gpsTime(gps) }), { siteZone: "UTC", receivedAt: at("2027-01-01T00:00:00Z") });
    expect([derived.cameraOffsetSeconds, derived.cameraDriftSeconds, derived.cameraSays]).toEqual([zone, drift, camera]);
  });

  it("without a zone is read in the site's zone, that ± 1 h and UTC, the site's first", () => {
    const derived = deriveInstant(claimsWith({ camera: { dateTimeOriginal: "2026:10:20 10:12:00" } }), { siteZone: "America/Halifax", receivedAt: at("2026-10-21T00:00:00Z") });
    expect(derived.hypotheses.map(iso)).toEqual(["2026-10-20T13:12:00.000Z", "2026-10-20T12:12:00.000Z", "2026-10-20T14:12:00.000Z", "2026-10-20T10:12:00.000Z"]);
  });

  it("in an hour that came twice or never has both instants among its readings", () => {
    const readings = (text: string) =>
      deriveInstant(claimsWith({ camera: { dateTimeOriginal: text } }), { siteZone: "America/Halifax", receivedAt: at("2028-01-01T00:00:00Z") }).hypotheses.map(iso);
    expect(readings("2026:11:01 01:30:00").slice(0, 2)).toEqual(["2026-11-01T04:30:00.000Z", "2026-11-01T05:30:00.000Z"]);
    expect(readings("2027:03:14 02:30:00").slice(0, 2)).toEqual(["2027-03-14T05:30:00.000Z", "2027-03-14T06:30:00.000Z"]);
  });

  it("is never read in an unknown zone", () => {
    expect(() => deriveInstant(claimsWith({ camera: { dateTimeOriginal: "2026:10:20 10:12:00" } }), { siteZone: "Nowhere/None", receivedAt: 0 })).toThrow(RangeError);
  });
});

describe("whatever a file and a phone claim", () => {
  const part = (texts: readonly string[]) => fc.option(fc.oneof(fc.constantFrom(...texts), fc.string({ maxLength: 20 }).filter((text) => /^[\x20-\x7e]*$/.test(text))), { nil: null });
  const dateText = part(["2026:10:20 09:30:00", "0001:01:01 00:00:00", "9999:12:31 23:59:59", "0000:00:00 00:00:00", "2027:03:14 02:30:00"]);
  const claims = fc
    .record({
      camera: fc.record({
        dateTimeOriginal: dateText,
        dateTimeDigitized: dateText,
        offsetTimeOriginal: part(["-12:00", "+14:00", "+15:00", "   :  "]),
        subSecTimeOriginal: part(["999999999", "x"]),
      }),
      gps: fc.record({
        dateStamp: part(["2026:10:20", "9999:12:31", "1980:01:06"]),
        timeStamp: part(["12/1 30/1 0/1", "23/1 59/1 59999999/1000000", "0/0 0/0 0/0"]),
        latitude: part(["44/1 0/1 0/1", "0/0 0/0 0/0"]),
        latitudeRef: part(["N", "S"]),
        longitude: part(["63/1 30/1 0/1"]),
        longitudeRef: part(["W"]),
      }),
      device: fc.record(
        {
          capturedAt: fc.constantFrom("0001-01-01T00:00:00Z", "9999-12-31T23:59:59-23:59", "2026-10-20T09:30:00.123456789Z"),
          offsetToServerMs: fc.double({ min: -3e12, max: 3e12, noNaN: true }),
          roundTripMs: fc.double({ min: 0, max: 86_400_000, noNaN: true }),
        },
        { requiredKeys: [] },
      ),
    })
    .map(claimsWith);

  it("gives whole instants, a finite uncertainty and a verdict, and never throws", () => {
    fc.assert(
      fc.property(claims, (claim) => {
        expect(PhotoClaimsSchema.safeParse(claim).success).toBe(true);
        const receivedAt = at("2026-10-21T00:00:00Z");
        const derived = deriveInstant(claim, { siteZone: "America/Halifax", receivedAt });
        expect(derived.hypotheses.every(Number.isSafeInteger)).toBe(true);
        expect(derived.hypotheses.length === 0).toBe(derived.basis === "NONE");
        expect(derived.uncertaintySeconds === null).toBe(derived.basis === "NONE");
        expect(Number.isFinite(derived.uncertaintySeconds ?? 0)).toBe(true);
        expect(orderVerdict(derived, { from: null, to: receivedAt }, receivedAt, iso).words).not.toBe("");
        photoFlags(claim, derived, null, { receivedAt, projectStart: receivedAt, shift: null, siteRadiusM: 100 });
      }),
      { numRuns: 1000 },
    );
  });
});

describe("a photo that is called in order", () => {
  const SITE = "America/Halifax";
  const wallText = (instant: number) => new Date(Math.floor(instant / 1000) * 1000).toISOString().slice(0, 19).replace("T", " ").replace(/-/g, ":");

  // The whole autumn, over the change of clocks on 1 November.
  const truth = fc.integer({ min: at("2026-10-30T00:00:00Z") / 1000, max: at("2026-11-03T00:00:00Z") / 1000 }).map((seconds) => seconds * 1000);
  const zone = fc.constantFrom(-4, -3, 0).map((hours) => hours * 3600);
  const driftSeconds = fc.integer({ min: -115, max: 115 });
  const windows = fc.record({ fromMinutes: fc.integer({ min: -900, max: 120 }), lengthMinutes: fc.integer({ min: 0, max: 1500 }) });

  it("was taken inside its window, whatever camera took it within the limits stated for it", () => {
    const cameras = fc.record({ zone, driftSeconds, tagged: fc.boolean(), gps: fc.boolean(), fileTime: fc.boolean(), page: fc.boolean() });
    let inOrder = 0;
    fc.assert(
      fc.property(truth, cameras, windows, fc.integer({ min: 0, max: 5 * 86_400_000 }), (taken, camera, { fromMinutes, lengthMinutes }, delay) => {
        const offset = `${camera.zone < 0 ? "-" : "+"}0${Math.abs(camera.zone / 3600)}:00`;
        const claims = claimsWith({
          camera: camera.fileTime ? { dateTimeOriginal: wallText(taken + (camera.zone + camera.driftSeconds) * 1000), offsetTimeOriginal: camera.tagged ? offset : null } : {},
          gps: camera.gps ? gpsTime(wallText(taken)) : {},
          device: camera.page ? { capturedAt: new Date(taken - 5000).toISOString(), offsetToServerMs: 5000, roundTripMs: 100 } : {},
        });
        const receivedAt = taken + delay;
        const from = taken + fromMinutes * 60_000;
        const window = { from, to: from + lengthMinutes * 60_000 };
        const { verdict } = orderVerdict(deriveInstant(claims, { siteZone: SITE, receivedAt }), window, receivedAt, iso);
        const inside = taken >= window.from && taken <= window.to;

        if (verdict === "in order") inOrder += 1;
        if (verdict === "in order") expect(inside).toBe(true);
        if (verdict === "too early" || verdict === "too late") expect(inside).toBe(false);
      }),
      { numRuns: 1500, seed: 20261020 },
    );
    expect(inOrder).toBeGreaterThan(100); // else the property would have proved nothing
  });
});

describe("photos of one camera, judged by what the others tell", () => {
  const SITE = "America/Halifax";
  const DAY = 86_400_000;
  const START = at("2026-10-20T00:00:00Z");
  const exif = (instant: number) => new Date(instant).toISOString().slice(0, 19).replace("T", " ").replace(/-/g, ":");
  const subSeconds = (instant: number) => new Date(instant).toISOString().slice(20, 23);

  /**
   * A camera without offset tags. Somebody sets it once, at a time between photos, or never; its clock gains evenly. On either side
   * stand three photos and more with fresh GPS time; others carry none, or that of a fix more than three minutes old, but not as old
   * as the clock was set by: beside that moment nothing could tell the two apart.
   */
  const camera = fc.record({
    zoneSeconds: fc.constantFrom(-10_800, -14_400, 0, 20_700),
    restSeconds: fc.integer({ min: -60, max: 60 }),
    gainPerDay: fc.double({ min: -3, max: 3, noNaN: true }),
    setDay: fc.constantFrom(null, 6, 12),
    setSeconds: fc.constantFrom(-3600, 3600, -1800),
    freshDays: fc.uniqueArray(fc.integer({ min: 0, max: 199 }), { minLength: 14, maxLength: 20 }),
    others: fc.array(fc.record({ tenthOfDay: fc.integer({ min: 0, max: 199 }), staleSeconds: fc.option(fc.integer({ min: 200, max: 40_000 })) }), { minLength: 1, maxLength: 4 }),
    isConfirmed: fc.boolean(),
  });

  it("are in order only when they were taken inside the window", () => {
    const found = { "in order": 0, "too early": 0, "too late": 0, "cannot tell": 0, "no time": 0, "clock in doubt": 0 };
    fc.assert(
      fc.property(camera, fc.integer({ min: -200, max: 100 }), fc.integer({ min: 1, max: 400 }), (one, fromMinutes, lengthMinutes) => {
        const wasSet = (instant: number) => one.setDay !== null && instant >= START + one.setDay * DAY + 1_800_000;
        const shown = (instant: number) => Math.round(instant + (one.zoneSeconds + one.restSeconds + (wasSet(instant) ? one.setSeconds : 0) + (one.gainPerDay * (instant - START)) / DAY) * 1000);
        const photo = (instant: number, gpsInstant: number | null) =>
          claimsWith({ camera: { dateTimeOriginal: exif(shown(instant)), subSecTimeOriginal: subSeconds(shown(instant)) }, gps: gpsInstant === null ? {} : gpsTime(exif(gpsInstant)) });

        const fresh = one.freshDays.map((tenth) => START + tenth * (DAY / 10));
        const before = fresh.filter((instant) => !wasSet(instant)).length;
        fc.pre(one.setDay === null || (before >= 3 && fresh.length - before >= 3));
        fc.pre(one.others.every(({ staleSeconds }) => Math.abs((staleSeconds ?? 0) - Math.abs(one.setSeconds)) > 200));
        const others = one.others.map(({ tenthOfDay, staleSeconds }, i) => {
          const taken = START + tenthOfDay * (DAY / 10) + 1_234_000 + i * 60_000;
          return { id: `other ${i}`, taken, claims: photo(taken, staleSeconds === null ? null : taken - staleSeconds * 1000) };
        });
        const all = [...fresh.map((taken, i) => ({ id: `fresh ${i}`, taken, claims: photo(taken, taken) })), ...others];
        const references = all.flatMap(({ id, claims }) => referencesOf(claims, id));
        const series = cameraClock(references);
        const stale = staleGps(references);

        for (const { id, taken, claims } of all) {
          const known = { series, confirmed: one.isConfirmed ? series : null, gpsIsStale: stale.has(id) };
          const from = taken + fromMinutes * 60_000;
          const window = { from, to: from + lengthMinutes * 60_000 };
          const derived = deriveInstant(claims, { siteZone: SITE, receivedAt: taken + 2 * DAY, camera: known });
          const { verdict } = orderVerdict(derived, window, taken + 2 * DAY, iso);
          const inside = taken >= window.from && taken <= window.to;
          found[verdict] += 1;
          if (verdict === "in order") expect({ id, inside }).toEqual({ id, inside: true });
          if (verdict === "too early" || verdict === "too late") expect({ id, inside }).toEqual({ id, inside: false });
        }
      }),
      { numRuns: 300, seed: 20261103 },
    );
    expect(found["in order"]).toBeGreaterThan(1000); // else the property would have proved nothing
    expect(found["cannot tell"]).toBeLessThan(found["in order"]);
  });

  it("all shift by one constant when their clocks do", () => {
    const claimsAt = (instant: number) => claimsWith({ camera: { dateTimeOriginal: exif(instant - 10_750_000) } });
    const times = fc.uniqueArray(fc.integer({ min: 0, max: 500_000 }), { minLength: 3, maxLength: 8 });
    fc.assert(
      fc.property(times, fc.integer({ min: 0, max: 500_000 }), fc.integer({ min: -10_000_000, max: 10_000_000 }), fc.boolean(), (seconds, taken, shift, isConfirmed) => {
        const derive = (by: number) => {
          const references = seconds.map((second) => {
            const instant = START + (second + by) * 1000;
            return referencesOf({ ...claimsAt(instant), gps: { ...claimsAt(instant).gps, ...gpsTime(exif(instant)) } }, String(second));
          });
          const clock = cameraClock(references.flat());
          // In UTC no change of clocks comes between.
          return deriveInstant(claimsAt(START + (taken + by) * 1000), { siteZone: "UTC", receivedAt: START + (1_000_000 + by) * 1000, camera: { series: clock, confirmed: isConfirmed ? clock : null, gpsIsStale: false } });
        };
        const [still, moved] = [derive(0), derive(shift)];
        expect(moved.hypotheses.map((instant) => instant - shift * 1000)).toEqual(still.hypotheses);
        expect({ ...moved, hypotheses: [], instant: null, cameraSays: null, flags: moved.flags.map(({ code }) => code) }).toEqual({ ...still, hypotheses: [], instant: null, cameraSays: null, flags: still.flags.map(({ code }) => code) });
      }),
      { numRuns: 200 },
    );
  });

  it("show what the camera said and by how much it was corrected", () => {
    // 11:12 on a camera an hour ahead of −03:00 is 10:12 on site.
    const ahead = deriveInstant(claimsWith({ camera: { dateTimeOriginal: "2026:10:20 11:12:00" }, gps: gpsTime("2026:10:20 13:12:00") }), { siteZone: SITE, receivedAt: at("2026-10-20T20:00:00Z") });
    expect([ahead.cameraSays, ahead.correctedBySeconds]).toEqual(["2026:10:20 11:12:00", -3600]);
    const left = deriveInstant(claimsWith({ camera: { dateTimeOriginal: "2026:11:03 10:20:00" }, gps: gpsTime("2026:11:03 13:19:10") }), { siteZone: SITE, receivedAt: at("2026-11-04T20:00:00Z") });
    expect([left.correctedBySeconds, left.flags.find(({ code }) => code === "TIME_OFFSET_NOT_SITE")]).toEqual([
      -3650,
      { code: "TIME_OFFSET_NOT_SITE", measured: "camera -03:00, still on summer time, 1 h ahead", limit: "site -04:00 on that date" },
    ]);
    const none = deriveInstant(claimsWith({ gps: gpsTime("2026:10:20 13:12:00") }), { siteZone: SITE, receivedAt: at("2026-10-20T20:00:00Z") });
    expect(none.correctedBySeconds).toBeNull();
  });

  it("use the project's limits", () => {
    const limits = { ...PHOTO_LIMIT_DEFAULTS, exifOffsetSeconds: 30, driftSeconds: 10, sameExposureSeconds: 5 };
    const derive = (claims: PhotoClaims) => deriveInstant(claims, { siteZone: SITE, receivedAt: at("2026-10-21T00:00:00Z"), limits });
    const tag = { dateTimeOriginal: "2026:10:20 09:30:00", offsetTimeOriginal: "-03:00" };
    expect(derive(claimsWith({ camera: tag })).uncertaintySeconds).toBe(30);
    expect(derive(claimsWith({ camera: tag, gps: gpsTime("2026:10:20 12:29:49") })).flags.map(({ code, limit }) => [code, limit])).toEqual([["TIME_GPS_MISMATCH", "10 s apart"]]);
    expect(derive(claimsWith({ camera: { ...tag, dateTimeDigitized: "2026:10:20 09:30:06" } })).flags.map(({ code }) => code)).toEqual(["TIME_TAGS_CONFLICT"]);
  });
});
