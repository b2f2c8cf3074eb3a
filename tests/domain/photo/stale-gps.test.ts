import { describe, expect, it } from "vitest";

import { cameraClock, cameraSeries, staleGps } from "#lib/domain/photo/camera-clock";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import { known, reference, SUMMER } from "#tests/domain/photo/camera-factory";
import { at } from "#tests/domain/photo/claims-factory";

describe("old GPS time", () => {
  it("is one that stands still while the camera's time goes on", () => {
    const fix = at("2026-11-03T12:00:00Z");
    const stuck = ["2026-11-03T09:10:00.000", "2026-11-03T09:11:30.000"].map((wall, i) => ({ source: "GPS time" as const, photo: `stuck ${i}`, wall, at: fix }));
    expect([...staleGps([...SUMMER, ...stuck])].sort()).toEqual(["stuck 0", "stuck 1"]);
    expect([...staleGps(stuck)].sort()).toEqual(["stuck 0", "stuck 1"]);
  });

  it("is not that of a burst within two seconds", () => {
    const fix = at("2026-11-03T13:19:10Z");
    const burst = ["10:20:00.000", "10:20:01.000", "10:20:02.000"].map((time, i) => ({ source: "GPS time" as const, photo: `burst ${i}`, wall: `2026-11-03T${time}`, at: fix }));
    expect([...staleGps(burst)]).toEqual([]);
  });

  it.each([
    ["37 minutes old between others", "2026-11-03T10:00:00Z", 37 * 60],
    ["an hour old between others", "2026-11-03T10:00:00Z", 3600],
    ["37 minutes old, last", "2026-11-05T10:00:00Z", 37 * 60],
    ["37 minutes old, first", "2026-11-01T10:00:00Z", 37 * 60],
    ["121 s old", "2026-11-03T10:00:00Z", 121],
    ["two days old", "2026-11-03T10:00:00Z", 2 * 86_400],
  ])("is one that lies behind the camera's median: %s", (_, time, oldBy) => {
    const old = reference(time, -10_750 + oldBy, "GPS time", "old");
    expect([...staleGps([...SUMMER, old])]).toEqual(["old"]);
    expect(known(cameraClock([...SUMMER, old])).dropped.map(({ reference: { photo }, stale }) => [photo, stale])).toEqual([["old", true]]);
  });

  it("is not one that is 120 s off or less, nor one that is newer than the camera allows", () => {
    expect([...staleGps([...SUMMER, reference("2026-11-03T10:00:00Z", -10_750 + 120)])]).toEqual([]);
    const newer = reference("2026-11-03T10:00:00Z", -10_750 - 600, "GPS time", "newer");
    expect([...staleGps([...SUMMER, newer])]).toEqual([]);
    expect(known(cameraClock([...SUMMER, newer])).dropped.map(({ why }) => why)).toEqual(["600 s off the median of its neighbours, camera less true time -10750 s"]);
  });

  it("is told in a long series of a clock that gains 3 s a day, and nothing else is dropped", () => {
    const start = at("2026-09-01T08:00:00Z");
    const series = Array.from({ length: 400 }, (_, i) => {
      const days = i / 6;
      const old = i % 90 === 44 ? 1500 + i : 0;
      return reference(new Date(start + days * 86_400_000).toISOString(), -10_800 + 3 * days + (i % 5) - 2 + old, "GPS time", old > 0 ? `old ${i}` : `good ${i}`);
    });
    const clock = known(cameraClock(series));
    expect([...staleGps(series)]).toEqual(["old 44", "old 134", "old 224", "old 314"]);
    expect(clock.dropped).toHaveLength(4);
    expect(clock.runs).toHaveLength(1);
    expect(clock.gainPerDaySeconds).toBeCloseTo(3, 1);
    expect(cameraSeries(series, PHOTO_LIMIT_DEFAULTS)).toEqual({ clock, stale: staleGps(series) });
  });

  it("is told among others that are old by other amounts", () => {
    const mixed = [SUMMER[0]!, reference("2026-11-03T09:00:00Z", -9000, "GPS time", "o1"), reference("2026-11-03T09:30:00Z", -7777, "GPS time", "o2"), SUMMER[1]!, reference("2026-11-04T01:00:00Z", -5000, "GPS time", "o3"), SUMMER[2]!];
    expect([...staleGps(mixed)].sort()).toEqual(["o1", "o2", "o3"]);
    expect(known(cameraClock(mixed)).runs).toHaveLength(1);
  });

  it("of photos chosen together on a phone is dropped too, though no GPS is old", () => {
    const chosen = ["09:00:00", "09:20:00", "09:40:00"].map((time, i) => ({ source: "phone clock" as const, photo: `p${i}`, wall: `2026-11-03T${time}.000`, at: at("2026-11-03T20:00:00Z") + i * 400 }));
    expect(cameraClock(chosen)).toBeNull();
    expect([...staleGps(chosen)]).toEqual([]);
  });
});
