import { writeFile } from "node:fs/promises";
import path from "node:path";

import { describe, expect, it } from "vitest";

import { sniff } from "#lib/photos/sniff";
import { dataFolder, fixturePath } from "#tests/photos/fixture";

async function sniffed(start: string) {
  const file = path.join(await dataFolder(), "x");
  await writeFile(file, Buffer.from(start, "latin1"));
  return sniff(file);
}

describe("the type of a file", () => {
  it.each([
    ["no-metadata.jpg", "image/jpeg"],
    ["plain.png", "image/png"],
    ["tagged.webp", "image/webp"],
    ["phone.heic", "image/heic"],
  ])("of %s is %s", async (name, mediaType) => {
    expect(await sniff(fixturePath(name))).toEqual({ kind: "type", mediaType });
  });

  it.each([
    ["GIF89a", "GIF"],
    ["II*\0", "TIFF or a camera's raw file"],
    ["FUJIFILMCCD-RAW ", "a camera's raw file"],
    ["\u00ff\u000a", "JPEG XL"],
    ["\0\0\0\u000cJXL \r\n\u0087\n", "JPEG XL"],
    ["\0\0\0\u000cjP  \r\n\u0087\n", "JPEG 2000"],
    ["8BPS", "an editor's own file"],
    ["<?xml version='1.0'?>\n<svg xmlns='http://www.w3.org/2000/svg'>", "SVG"],
    ["\0\0\0\u001cftypavif\0\0\0\0mif1avif", "AVIF"],
    ["\0\0\0\u0018ftyphevc\0\0\0\0mif1hevc", "moving HEIC"],
    ["\0\0\0\u0018ftypisom\0\0\0\0isom", "video or other media"],
  ])("that begins with %j is a known one, and not taken: %s", async (start, name) => {
    expect(await sniffed(start)).toEqual({ kind: "other", name });
  });

  it.each(["", "\u00ff", "\u00ff\u00d8", "hello", "<html><svg>", "RIFF\0\0\0\0WAVE", "BM", "PK\u0003\u0004"])("that begins with %j is not known", async (start) => {
    expect(await sniffed(start)).toEqual({ kind: "unknown" });
  });
});
