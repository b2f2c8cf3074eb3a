import fc from "fast-check";
import { describe, expect, it } from "vitest";

import { editorNamed, editsIn } from "#lib/domain/photo/editor";
import { fileFlags, lookFlags } from "#lib/domain/photo/file-flags";
import type { FileFacts } from "#lib/domain/photo/file-flags";
import { fileVerdict } from "#lib/domain/photo/file-verdict";
import { mergeFlags, PHOTO_FLAG_CODES } from "#lib/domain/photo/flag";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import { GRID_SIDE } from "#lib/domain/photo/look-alike";
import { pictureDetail } from "#lib/domain/photo/picture-detail";
import { isScreenSize, screenshotNamed } from "#lib/domain/photo/screen";
import { smallPictureBits } from "#lib/domain/photo/small-picture";
import type { GreyPicture } from "#lib/domain/photo/small-picture";
import { sourceKind } from "#lib/domain/photo/source-type";

const CELLS = GRID_SIDE ** 2;
const gridOf = (level: (x: number, y: number) => number): Uint8Array =>
  Uint8Array.from({ length: CELLS }, (_, i) => Math.max(0, Math.min(255, Math.round(level(i % GRID_SIDE, Math.trunc(i / GRID_SIDE))))));
const picture = (level: (x: number, y: number) => number, width = 4000, height = 3000): GreyPicture => ({ width, height, grid: gridOf(level) });

/** Dark and light posts of uneven width on a lighter ground. */
const posts = (x: number, y: number) => (Math.trunc(x / 11) % 2 === 0 ? 60 + y : 180 - y) + 20 * Math.sin(x / 5);
const disc = (x: number, y: number) => (Math.hypot(x - 50, y - 20) < 18 ? 220 : 40 + x + (y > 50 ? 90 : 0));

describe("the detail of a picture", () => {
  it("is none where all parts are alike", () => {
    expect(pictureDetail(gridOf(() => 93))).toEqual({ spreadLevels: 0, stepLevels: 0 });
  });

  it("of a board of black and white parts is the whole range", () => {
    const { spreadLevels, stepLevels } = pictureDetail(gridOf((x, y) => ((x + y) % 2) * 255));
    expect([spreadLevels, stepLevels]).toEqual([127.5, 255]);
  });

  it("of an even slope is a small step, though it has a wide spread", () => {
    const { spreadLevels, stepLevels } = pictureDetail(gridOf((x) => x * 2));
    expect(spreadLevels).toBeCloseTo(2 * Math.sqrt((72 ** 2 - 1) / 12), 9); // of 72 even numbers: (n² − 1) / 12 is the variance
    expect(stepLevels).toBe(1); // 2 across, 0 down
  });

  it("stays in range whatever the picture, and is the same turned over", () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: CELLS, maxLength: CELLS }), (grid) => {
        const { spreadLevels, stepLevels } = pictureDetail(grid);
        expect(spreadLevels).toBeGreaterThanOrEqual(0);
        expect(spreadLevels).toBeLessThanOrEqual(127.5);
        expect(stepLevels).toBeLessThanOrEqual(255);
        expect(pictureDetail(grid.toReversed()).stepLevels).toBeCloseTo(stepLevels, 9);
      }),
      { numRuns: 20 },
    );
  });

  it("is refused for a grid of another size", () => {
    expect(() => pictureDetail(new Uint8Array(10))).toThrow(RangeError);
  });
});

describe("a small picture inside a file", () => {
  it("that shows the same differs in nothing", () => {
    expect(smallPictureBits(picture(posts, 160, 120), picture(posts))).toBe(0);
  });

  it("that shows something else is far", () => {
    expect(smallPictureBits(picture(disc, 160, 120), picture(posts))).toBeGreaterThan(PHOTO_LIMIT_DEFAULTS.thumbnailBits);
  });

  it("with black bars above and below is compared without them", () => {
    // 3 : 2 inside 4 : 3: 8 of 9 parts of the height are picture.
    const barred = picture((x, y) => (y < 4 || y >= 68 ? 0 : posts(x, ((y - 4) * 72) / 64)), 160, 120);
    expect(smallPictureBits(barred, picture(posts, 3000, 2000))).toBeLessThan(4);
  });

  it("that was cut to another shape is compared with that part", () => {
    const cut = picture((x, y) => posts(9 + x * 0.75, y), 120, 120);
    expect(smallPictureBits(cut, picture(posts, 4000, 3000))).toBeLessThan(4);
  });

  it("that lies on its side is found to be the same", () => {
    const lying = picture((x, y) => posts(y, 71 - x), 120, 160);
    expect(smallPictureBits(lying, picture(posts))).toBe(0);
  });

  it.each([
    ["the small one", picture(() => 120, 160, 120), picture(posts)],
    ["the large one", picture(posts, 160, 120), picture((x) => 120 + x / 20)],
  ])("is not judged where %s is flat", (_which, small, large) => {
    expect(smallPictureBits(small, large)).toBeNull();
  });

  it("may be brighter or flatter, as small pictures are", () => {
    expect(smallPictureBits(picture((x, y) => 60 + posts(x, y) * 0.7, 160, 120), picture(posts))).toBe(0);
  });
});

const SOUND: FileFacts = { metadataBytes: 20_000, trailingBytes: 0, cutShort: false, sourceTypes: [], exifBlocks: 1 };

describe("the flags of a file", () => {
  it.each<[string, Partial<FileFacts>, string[]]>([
    ["a sound one", {}, []],
    ["as much metadata as is allowed", { metadataBytes: 512 * 1024 }, []],
    ["one byte more", { metadataBytes: 512 * 1024 + 1 }, ["METADATA_OVERSIZE"]],
    ["a byte behind the picture", { trailingBytes: 1 }, ["TRAILING_DATA"]],
    ["two Exif blocks", { exifBlocks: 2 }, ["METADATA_CONFLICT"]],
    ["shorter than it says", { cutShort: true }, ["TRUNCATED"]],
    ["declared as generated", { sourceTypes: ["trainedAlgorithmicMedia"] }, ["SYNTHETIC_DECLARED"]],
    ["declared as taken, then edited", { sourceTypes: ["digitalCapture", "humanEdits"] }, ["SOFTWARE_EDITED"]],
    ["declared as taken from a screen", { sourceTypes: ["screenCapture"] }, ["SCREENSHOT_SUSPECT"]],
    ["declared as taken", { sourceTypes: ["digitalCapture", "compositeCapture", "computationalCapture"] }, []],
  ])("%s", (_name, facts, codes) => {
    const flags = fileFlags({ ...SOUND, ...facts }, PHOTO_LIMIT_DEFAULTS);
    expect(flags.map(({ code }) => code)).toEqual(codes);
    expect(flags.every(({ measured, limit }) => measured !== "" && limit !== "")).toBe(true);
  });

  it("follow the project's limits", () => {
    expect(fileFlags({ ...SOUND, trailingBytes: 2000 }, { ...PHOTO_LIMIT_DEFAULTS, trailingBytes: 2 })).toEqual([]);
    expect(fileFlags({ ...SOUND, trailingBytes: 2049 }, { ...PHOTO_LIMIT_DEFAULTS, trailingBytes: 2 })).toEqual([
      { code: "TRAILING_DATA", measured: "2049 bytes after the end of the picture", limit: "2048 bytes" },
    ]);
  });

  it.each<[string, GreyPicture | null, GreyPicture | null, string[]]>([
    ["no picture to look at", null, picture(posts), []],
    ["posts", picture(posts), null, []],
    ["posts at dusk, half as bright", picture((x, y) => posts(x, y) / 2), null, []],
    ["a lens cap", picture((x) => 2 + (x % 2)), null, ["BLANK_IMAGE"]],
    ["a slope of light and nothing else", picture((x, y) => 100 + (x + y) / 3), null, ["LOW_DETAIL"]],
    ["another small picture", picture(posts), picture(disc, 160, 120), ["THUMBNAIL_MISMATCH"]],
  ])("by its look: %s", (_name, large, small, codes) => {
    expect(lookFlags(large, small, PHOTO_LIMIT_DEFAULTS).map(({ code }) => code)).toEqual(codes);
  });

  it("by its look say the number and its limit", () => {
    expect(lookFlags(picture((x, y) => 100 + (x + y) / 3), null, PHOTO_LIMIT_DEFAULTS)).toEqual([
      { code: "LOW_DETAIL", measured: "neighbouring parts differ by 0.33 levels", limit: "1 of 255 levels" },
    ]);
  });
});

describe("a name in the software field", () => {
  it.each(["Adobe Photoshop CC (Macintosh)", "GIMP 2.10.34", "gimp-2.99", "Snapseed 2.0", "PaintTool SAI", "paint.net 5.0", "Microsoft Windows Photo Viewer 6.1", "Photos 3.0", "Picasa"])("%s is an editor's", (text) => {
    expect(editorNamed(text)).toBe(true);
  });

  it.each(["14.4.2", "00WW_3_380_SP02", "Version 1.0", "Nikon Transfer 1.1 W", "Sprint 3", "HDR+ 1.0.4", "Canvas phone 2", "firmware photosensor"])("%s is none", (text) => {
    expect(editorNamed(text)).toBe(false);
  });

  it("of a history is an edit only where something was done to the picture", () => {
    expect(editsIn("created, saved, converted; Any Program 5")).toEqual(["saved", "converted"]);
    expect(editsIn("created, copied, published; saved by nobody")).toEqual([]);
  });
});

describe("a declared source", () => {
  // IPTC NewsCodes, digital source type.
  it.each([
    ["http://cv.iptc.org/newscodes/digitalsourcetype/trainedAlgorithmicMedia", "generated"],
    ["https://cv.iptc.org/newscodes/digitalsourcetype/compositeWithTrainedAlgorithmicMedia", "generated"],
    ["digsrctype:algorithmicMedia", "generated"],
    ["virtualRecording", "generated"],
    ["http://cv.iptc.org/newscodes/digitalsourcetype/humanEdits", "edited"],
    ["http://cv.iptc.org/newscodes/digitalsourcetype/screenCapture", "screen"],
    ["http://cv.iptc.org/newscodes/digitalsourcetype/digitalCapture", null],
    ["http://cv.iptc.org/newscodes/digitalsourcetype/computationalCapture", null],
    ["constructor", null],
    ["", null],
  ])("%s is %s", (value, kind) => {
    expect(sourceKind(value)).toBe(kind);
  });
});

describe("a screen", () => {
  it.each([
    [1170, 2532, true],
    [2532, 1170, true],
    [1920, 1080, true],
    [4032, 3024, false],
    [2048, 1536, false], // a tablet, but cameras write it too
    [960, 720, false],
  ])("%d × %d: %s", (width, height, expected) => {
    expect(isScreenSize(width, height)).toBe(expected);
  });

  it.each([
    ["Screenshot", true],
    ["Screenshot_20261020-093000.png", true],
    ["gnome-screenshot", true],
    ["Screen Shot 2026-10-20 at 9.30", true],
    ["screen door removed", false],
  ])("%s is named: %s", (text, expected) => {
    expect(screenshotNamed(text)).toBe(expected);
  });
});

describe("the verdict on a file", () => {
  const flag = (code: (typeof PHOTO_FLAG_CODES)[number]) => ({ code, measured: `measured ${code}`, limit: "limit" });

  it.each([
    [[], "original"],
    [["GPS_MISSING", "TIME_ZONE_ASSUMED_SITE", "TRAILING_DATA", "THUMBNAIL_MISMATCH"], "original"],
    [["SOFTWARE_EDITED"], "edited"],
    [["SYNTHETIC_DECLARED"], "edited"],
    [["DUP_NEAR"], "look-alike"],
    [["DUP_NEAR", "SOFTWARE_EDITED"], "edited"],
    [["DUP_PIXELS"], "repeat"],
    [["DUP_EXACT", "SOFTWARE_EDITED", "DUP_NEAR"], "repeat"],
  ] as const)("of %j is %s", (codes, verdict) => {
    expect(fileVerdict(codes.map(flag)).verdict).toBe(verdict);
  });

  it("says what was measured, and accuses nobody", () => {
    expect(fileVerdict([flag("SYNTHETIC_DECLARED"), flag("SOFTWARE_EDITED")]).words).toBe("measured SYNTHETIC_DECLARED; measured SOFTWARE_EDITED");
    expect(fileVerdict([]).words).not.toMatch(/authentic|genuine|real|fake/i);
  });

  it("does not change when a flag is said twice, or the flags come in another order", () => {
    fc.assert(
      fc.property(fc.shuffledSubarray([...PHOTO_FLAG_CODES]), (codes) => {
        const flags = codes.map(flag);
        expect(fileVerdict([...flags, ...flags]).verdict).toBe(fileVerdict(mergeFlags(flags.toReversed())).verdict);
      }),
    );
  });
});

describe("the words of a flag", () => {
  it("are cut where a record ends, however much a file has to complain about", () => {
    const many = Array.from({ length: 100 }, (_, i) => ({ code: "METADATA_INVALID" as const, measured: `field ${i} \u{1f4f7} cannot be read`, limit: "fields that can be read" }));
    const [flag] = mergeFlags(many);
    expect(flag!.measured.length).toBeLessThanOrEqual(400);
    expect(flag!.measured.endsWith("…")).toBe(true);
    expect(() => encodeURIComponent(flag!.measured)).not.toThrow(); // no half of a character is left
  });
});
