import { describe, expect, it } from "vitest";
import { cautionsAt } from "#lib/domain/plan/caution";

describe("cautions", () => {
  it.each([
    ["6", /silica/],
    ["7", /sensitise/],
    ["13", /heats up/],
    ["9", /Stand clear/],
    ["17", /not a permission/],
    ["22", /not a permission/],
    ["23", /stand clear/],
  ])("stand at point %s", (line, words) => {
    expect(cautionsAt(line).join(" ")).toMatch(words);
  });

  it("are none where there is nothing beyond the site's own procedures", () => {
    expect(cautionsAt("2")).toEqual([]);
  });
});
