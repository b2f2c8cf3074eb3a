import { readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";

/** What each room may import, besides packages and itself. Imports point one way: down this list. */
const MAY_IMPORT: Record<string, string[]> = {
  "lib/domain": [],
  "lib/records": ["lib/domain"],
  "lib/photos": ["lib/domain"],
  "lib/schedule-file": ["lib/domain"],
  "lib/closeout": ["lib/domain", "lib/records"],
  "lib/db": ["lib/domain", "lib/records"],
  "lib/services": ["lib/domain", "lib/records", "lib/photos", "lib/schedule-file", "lib/closeout", "lib/db"],
  "lib/edge": ["lib/domain", "lib/records", "lib/photos", "lib/schedule-file", "lib/closeout", "lib/db", "lib/services"],
  "lib/cli": ["lib/domain", "lib/records", "lib/photos", "lib/schedule-file", "lib/closeout", "lib/db", "lib/services", "lib/edge", "seed"],
  app: ["lib/domain", "lib/records", "lib/photos", "lib/schedule-file", "lib/closeout", "lib/db", "lib/services", "lib/edge"],
  seed: ["lib/domain", "lib/records", "lib/photos", "lib/db", "lib/services"],
};

const PACKAGES_OF_THE_DOMAIN = new Set(["zod", "decimal.js", "temporal-polyfill", "geographiclib-geodesic", "culori", "astronomy-engine"]);

function files(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .map((file) => path.posix.join(folder, file.replaceAll("\\", "/")))
    .filter((file) => /\.(ts|tsx|mjs)$/.test(file) && !file.includes("/generated/"));
}

function roomOf(file: string): string | undefined {
  return Object.keys(MAY_IMPORT).find((room) => file === room || file.startsWith(`${room}/`));
}

function importsOf(file: string): string[] {
  const text = readFileSync(file, "utf8");
  return [...text.matchAll(/^(?:(?:import|export|\})[^\n]*?\bfrom\s*|import\s+)["']([^"'\n]+)["'];?$|\bimport\(\s*["']([^"']+)["']/gm)].map(([, name, called = ""]) => name ?? called);
}

function target(file: string, name: string): string | null {
  if (name.startsWith("#")) return name.slice(1);
  if (name.startsWith(".")) return path.posix.join(path.posix.dirname(file), name);
  return null;
}

describe("imports point one way", () => {
  for (const room of Object.keys(MAY_IMPORT)) {
    it(`${room} imports only what stands below it`, () => {
      const wrong = files(room).flatMap((file) =>
        importsOf(file).flatMap((name) => {
          const place = target(file, name);
          if (place === null) return [];
          const other = roomOf(place);
          return other === room || (other && MAY_IMPORT[room]?.includes(other)) ? [] : [`${file} imports ${name}`];
        }),
      );
      expect(wrong).toEqual([]);
    });
  }

  it("finds the imports it judges", () => {
    expect(importsOf("lib/services/submit-point.ts")).toContain("#lib/db/journal");
    expect(files("app").length).toBeGreaterThan(20);
  });

  it("lets the domain use four packages and nothing of the machine", () => {
    const used = files("lib/domain").flatMap((file) => importsOf(file).filter((name) => target(file, name) === null).map((name) => ({ file, name })));
    expect(used.filter(({ name }) => !PACKAGES_OF_THE_DOMAIN.has(name))).toEqual([]);
  });

  it("lets only lib/db import the Prisma client", () => {
    const others = Object.keys(MAY_IMPORT).filter((room) => room !== "lib/db").flatMap(files);
    const wrong = others.filter((file) => importsOf(file).some((name) => name.includes("db/generated") || name === "@prisma/client"));
    expect(wrong).toEqual([]);
  });

  it("has no proxy or middleware file, since one was seen to cut uploads", () => {
    const found = ["middleware.ts", "proxy.ts", "app/middleware.ts", "app/proxy.ts"].filter((file) => files(".").includes(file));
    expect(found).toEqual([]);
  });
});
