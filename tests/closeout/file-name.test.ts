import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FileNames, pileFolder } from "#lib/closeout/file-name";
import { manifestPath, manifestText, pathProblem } from "#lib/closeout/manifest";

const bar3 = { mark: "05-C", line: "7", attempt: 1, subject: "Bar 3", takenAt: Date.UTC(2026, 11, 3, 16, 12), mediaType: "image/jpeg" };

describe("a photo's name", () => {
  it.each([
    ["says point, attempt, subject and instant", bar3, "piles/05-C/photos/07-a1-bar-3-20261203T161200Z.jpg"],
    ["says so when there is no time", { ...bar3, takenAt: null }, "piles/05-C/photos/07-a1-bar-3-no-time.jpg"],
    ["ends as its bytes do", { ...bar3, mediaType: "image/heic" }, "piles/05-C/photos/07-a1-bar-3-20261203T161200Z.heic"],
    ["keeps plain letters of accented ones", { ...bar3, subject: "Façade, côté n° 2" }, "piles/05-C/photos/07-a1-facade-cote-n-2-20261203T161200Z.jpg"],
    ["survives a subject without any", { ...bar3, subject: "…/../" }, "piles/05-C/photos/07-a1-photo-20261203T161200Z.jpg"],
    ["stands under the project for P points", { ...bar3, mark: null, line: "P4" }, "project/photos/P4-a1-bar-3-20261203T161200Z.jpg"],
    ["keeps the dot of a mark", { ...bar3, mark: "5.C" }, "piles/5.C/photos/07-a1-bar-3-20261203T161200Z.jpg"],
    ["does not use the name of a device", { ...bar3, mark: "AUX" }, "piles/pile-AUX/photos/07-a1-bar-3-20261203T161200Z.jpg"],
    ["takes the slash out of a mark", { ...bar3, mark: "W2/05 C" }, "piles/W2-05-C/photos/07-a1-bar-3-20261203T161200Z.jpg"],
  ])("%s", (_what, parts, path) => {
    expect(new FileNames().next("photos", parts)).toBe(path);
  });

  it("is given once: the next of the same name is numbered, capitals not counting", () => {
    const names = new FileNames();
    const given = [bar3, bar3, { ...bar3, subject: "BAR 3" }].map((parts) => names.next("photos", parts));
    expect(given).toEqual(["", "-2", "-3"].map((n) => `piles/05-C/photos/07-a1-bar-3-20261203T161200Z${n}.jpg`));
    expect(names.next("view", bar3)).toBe("piles/05-C/view/07-a1-bar-3-20261203T161200Z.jpg");
  });

  it("is refused for a type that a package does not hold", () => {
    expect(() => new FileNames().next("photos", { ...bar3, mediaType: "text/html" })).toThrow("holds no files of type text/html");
  });

  it("is fit for any machine, whatever mark and subject are", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), fc.string({ unit: "binary" }), (mark, subject) => {
        const path = new FileNames().next("photos", { ...bar3, mark, subject });
        expect(pathProblem(path)).toBeNull();
        expect(path.startsWith(`${pileFolder(mark)}/`)).toBe(true);
      }),
    );
  });
});

describe("a manifest", () => {
  it("encodes CR, LF and the percent sign in paths, and nothing else (RFC 8493, 2.1.3)", () => {
    expect(manifestPath("data/100% a\r\nb é.txt")).toBe("data/100%25 a%0D%0Ab é.txt");
  });

  it("lists digest, two spaces and path, sorted by path whatever the order of asking", () => {
    const files = ["data/b", "data/a b", "data/a"].map((path, i) => ({ path, sha256: String(i).repeat(64), bytes: 1 }));
    const text = `${"2".repeat(64)}  data/a\n${"1".repeat(64)}  data/a b\n${"0".repeat(64)}  data/b\n`;
    expect(manifestText(files)).toBe(text);
    expect(manifestText(files.toReversed())).toBe(text);
  });

  it.each(["../x", "a/../b", "/a", "a//b", "~/a", "a/./b", "a b", "a\\b", "a/con", "a/NUL.txt", "a.", "é", "x".repeat(181)])("refuses the path %s", (path) => {
    expect(pathProblem(path)).not.toBeNull();
  });
});
