import { createHash } from "node:crypto";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { READY_LIST, readyPhotoFile, readyViews } from "#lib/services/ready-photo";
import type { Sheet } from "#lib/services/sheet";
import { smallProject, type SmallProject } from "#tests/services/small-project";

let small: SmallProject;
let dataDir: string;
let sheet: Sheet;

const CONTENT = { "close-up-1.jpg": "first", "close-up-2.jpg": "second", "overview-1.jpg": "third" };
const DIGEST = createHash("sha256").update(CONTENT["close-up-2.jpg"]).digest("hex");
const NONE: ReadonlySet<string> = new Set();

beforeEach(async () => {
  small = await smallProject();
  const real = await small.sheet("02-A");
  sheet = { ...real, at: Date.parse("2026-12-03T16:00:00Z"), project: { ...real.project, zone: "America/Halifax", clockFrom: Date.parse("2026-12-03T16:00:00Z") } };
  dataDir = mkdtempSync(path.join(tmpdir(), "ready-"));
  const folder = path.join(dataDir, "demonstration", sheet.project.code, "02-A-4");
  mkdirSync(folder, { recursive: true });
  for (const [file, content] of Object.entries(CONTENT)) writeFileSync(path.join(folder, file), content);
  const photos = Object.keys(CONTENT).map((file) => ({ file, subject: file.replace(/-\d\.jpg$/, ""), taken: "2026-12-03T11:29:51-04:00" }));
  writeFileSync(path.join(folder, READY_LIST), JSON.stringify({ format: 1, photos }));
});
afterEach(async () => {
  await small.close();
  rmSync(dataDir, { recursive: true });
});

describe("ready photos of a demonstration", () => {
  it("are offered by subject, each with its time on the site's clock and where it is fetched", async () => {
    const views = await readyViews(dataDir, sheet, "4", NONE);
    expect([...views].map(([subject, ready]) => [subject, ready.map(({ file }) => file)])).toEqual([
      ["close-up", ["close-up-1.jpg", "close-up-2.jpg"]],
      ["overview", ["overview-1.jpg"]],
    ]);
    expect(views.get("overview")).toEqual([
      { file: "overview-1.jpg", taken: expect.stringContaining("11:29") as string, href: `/api/v1/projects/${sheet.project.code}/ready/02-A/4/overview-1.jpg`, there: false },
    ]);
  });

  it("are said to be there once the point has a photo of the same bytes", async () => {
    const views = await readyViews(dataDir, sheet, "4", new Set([DIGEST]));
    expect(views.get("close-up")?.map(({ there }) => there)).toEqual([false, true]);
  });

  it.each<[string, () => Sheet, string]>([
    ["in a project on real time", () => ({ ...sheet, project: { ...sheet.project, clockFrom: null } }), "4"],
    ["on the project sheet", () => ({ ...sheet, pile: null }), "4"],
    ["at a point that nothing lies ready for", () => sheet, "5"],
  ])("are not offered %s", async (_where, given, line) => {
    expect((await readyViews(dataDir, given(), line, NONE)).size).toBe(0);
  });

  it("are found by the names of the list alone", async () => {
    const find = (file: string) => readyPhotoFile(dataDir, sheet.project.code, "02-A", "4", file);
    expect(await find("overview-1.jpg")).toBe(path.join(dataDir, "demonstration", sheet.project.code, "02-A-4", "overview-1.jpg"));
    expect(await find("overview-2.jpg")).toBeNull();
    expect(await find(READY_LIST)).toBeNull();
    expect(await find(`../02-A-4/overview-1.jpg`)).toBeNull();
  });
});
