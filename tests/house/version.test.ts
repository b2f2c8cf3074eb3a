import { readFileSync } from "node:fs";
import { expect, it } from "vitest";

interface Lock {
  packages: Record<string, { version?: string; resolved?: string }>;
}
const lock = JSON.parse(readFileSync("package-lock.json", "utf8")) as Lock;

function compare(version: string, floor: string): number {
  const parts = (text: string): number[] => text.split(".").map(Number);
  return parts(version).map((part, i) => part - (parts(floor)[i] ?? 0)).find((difference) => difference !== 0) ?? 0;
}

it.each([
  ["next", "16.3.5", null],
  ["sharp", "0.35.4", null],
  ["better-sqlite3", "12.11.1", "13.0.0"], // 13 needs Node 22
])("locks %s at %s or newer", (name, floor, below) => {
  const version = lock.packages[`node_modules/${name}`]?.version ?? "0";
  expect(compare(version, floor)).toBeGreaterThanOrEqual(0);
  if (below) expect(compare(version, below)).toBeLessThan(0);
});

it("names no registry in the lock file", () => {
  expect(Object.values(lock.packages).filter(({ resolved }) => resolved !== undefined)).toEqual([]);
});
