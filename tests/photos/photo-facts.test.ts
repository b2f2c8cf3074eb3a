import { execFile } from "node:child_process";
import { promisify } from "node:util";

import { describe, expect, it } from "vitest";

import { fixtureBytes, fixturePath, sha256 } from "#tests/photos/fixture";

const run = promisify(execFile);

/** Runs the command in a process of its own, with its own zone: a zone set in a running process would not reach everything. */
async function photoFacts(args: readonly string[], tz = "UTC"): Promise<{ lines: Record<string, unknown>[]; code: number; stderr: string }> {
  const done = await run(process.execPath, ["--import", "tsx", "lib/cli/photo-facts.ts", ...args], { env: { ...process.env, TZ: tz, NODE_OPTIONS: "" } }).then(
    ({ stdout, stderr }) => ({ stdout, stderr, code: 0 }),
    (error: { stdout: string; stderr: string; code: number }) => error,
  );
  return { lines: done.stdout.split("\n").filter((line) => line.startsWith("{")).map((line) => JSON.parse(line) as Record<string, unknown>), code: done.code, stderr: done.stderr };
}

const SITE = ["--site-zone", "America/Halifax", "--site", "44,-63.5,100", "--received", "2026-12-03T12:00:00-04:00", "--project-start", "2026-10-05T00:00:00-03:00"];

describe("photo-facts", () => {
  it("says the same on machines in three zones", async () => {
    const files = ["phone-offset-gps.jpg", "gps-no-offset.jpg", "no-offset.jpg", "zero-date.jpg", "edited.jpg", "phone.heic", "tagged.webp", "text.jpg"].map(fixturePath);
    const [utc, newYork, tokyo] = await Promise.all(["UTC", "America/New_York", "Asia/Tokyo"].map((tz) => photoFacts([...files, ...SITE], tz)));
    expect(utc!.lines).toHaveLength(files.length);
    expect(newYork).toEqual(utc);
    expect(tokyo).toEqual(utc);
  });

  it("prints one object a line: claims, instant, place and flags", async () => {
    const { lines, code } = await photoFacts([fixturePath("phone-offset-gps.jpg"), fixturePath("no-offset.jpg"), ...SITE]);
    expect(code).toBe(0);
    expect(lines[0]).toMatchObject({
      type: "image/jpeg",
      accepted: true,
      refusal: null,
      claims: { camera: { dateTimeOriginal: "2026:10:20 09:30:00" } },
      instant: "2026-10-20T12:30:01.250Z",
      basis: "GPS_DELTA",
      uncertaintySeconds: 2,
      place: { verdict: "place cannot tell", errorM: 48 },
      flags: [],
    });
    expect(lines[1]).toMatchObject({
      instant: ["2026-10-20T13:12:00.000Z", "2026-10-20T12:12:00.000Z", "2026-10-20T14:12:00.000Z", "2026-10-20T10:12:00.000Z"],
      basis: "SITE_ZONE_ASSUMED",
      place: { verdict: "no place" },
    });
  });

  it("takes the shift hours, a site south of the equator and --json", async () => {
    const { lines, code } = await photoFacts([fixturePath("no-offset.jpg"), "--json", "--shift", "19:00-05:00", "--site", "-44,63.5,100", "--site-zone", "America/Halifax"]);
    expect(code).toBe(0);
    expect(lines[0]).toMatchObject({ flags: expect.arrayContaining([{ code: "TIME_OUTSIDE_SHIFT", measured: expect.any(String), limit: "19:00 to 05:00, America/Halifax" }]) });
  });

  it("says what the file is", async () => {
    const { lines } = await photoFacts(["edited.jpg", "no-offset.jpg"].map(fixturePath));
    expect(lines).toMatchObject([{ fileVerdict: { verdict: "edited", words: "GIMP 2.10.34; GIMP 2.10" } }, { fileVerdict: { verdict: "original" } }]);
  });

  it("names a refused file, one that is not there and a folder, goes on, and ends with 1", async () => {
    const { lines, code } = await photoFacts([fixturePath("moving.webp"), fixturePath("not-there.jpg"), fixturePath("."), fixturePath("no-offset.jpg")]);
    expect(code).toBe(1);
    expect(lines).toMatchObject([
      { sha256: sha256(await fixtureBytes("moving.webp")), bytes: 512, accepted: false, refusal: { code: "FORMAT_NOT_ALLOWED", measured: "animated WebP" }, claims: null, instant: null, flags: [] },
      { accepted: false, refusal: null, sha256: null, error: expect.stringContaining("ENOENT") },
      { accepted: false, refusal: null, error: "not a file" },
      { accepted: true },
    ]);
    // Each line has the same facts, whatever became of its file.
    const wanted = ["file", "sha256", "bytes", "type", "accepted", "refusal", "claims", "instant", "basis", "uncertaintySeconds", "position", "flags"];
    for (const line of lines) expect(Object.keys(line)).toEqual(expect.arrayContaining(wanted));
  });

  it.each([[["--site-zone", "Nowhere/None"]], [["--received", "yesterday"]], [["--shift", "7-17"]], [["--site", "44,-63.5"]], [[]]])("says how it is used for %j, and ends with 2", async (wrong) => {
    const { code, stderr, lines } = await photoFacts(wrong.length === 0 ? [] : [fixturePath("no-offset.jpg"), ...wrong]);
    expect([code, lines]).toEqual([2, []]);
    expect(stderr).toContain("Usage: npm run --silent photo-facts");
  });
});
