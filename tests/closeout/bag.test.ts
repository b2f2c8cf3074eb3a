import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { PassThrough, Writable } from "node:stream";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writePackage, type WrittenPackage } from "#lib/closeout/bag";
import type { PackageInput } from "#lib/closeout/package-input";
import { sha256 } from "#lib/records/canonical";
import { loadOrCreateKey, signBytes } from "#lib/records/key";
import { examplePackage } from "#tests/closeout/example";
import { readZip, type ZipEntry } from "#tests/closeout/unpack";

let dir: string;
let input: PackageInput;
let zip: Buffer;
let written: WrittenPackage;
let entries: ZipEntry[];
beforeAll(async () => {
  dir = mkdtempSync(join(tmpdir(), "closeout-bag-"));
  input = await examplePackage(join(dir, "made"));
  written = await writePackage(input, join(dir, "out.zip"));
  zip = readFileSync(join(dir, "out.zip"));
  entries = readZip(zip);
});
afterAll(() => rmSync(dir, { recursive: true }));

const entry = (path: string): string => entries.find(({ name }) => name === `${written.topFolder}/${path}`)!.bytes.toString("utf8");

describe("a package", () => {
  it("is a ZIP without compression, of one top folder and one time, the issue's own in UTC", () => {
    // 2026-12-03 16:00:00 as MS-DOS date and time: (46 << 9 | 12 << 5 | 3) and 16 << 11.
    const dosTime = ((46 << 9) | (12 << 5) | 3) * 65_536 + (16 << 11);
    for (const { name, method, dosTime: time } of entries) {
      expect(name.startsWith("W2-issue-1-interim/"), name).toBe(true);
      expect([method, time]).toEqual([0, dosTime]);
    }
    expect(entries.find(({ name }) => name.endsWith("/verify.sh"))!.mode & 0o777).toBe(0o755);
  });

  it("reports the digests and size of what it wrote", () => {
    expect(written).toMatchObject({ zipSha256: sha256(zip), bytes: zip.length, tagmanifestSha256: sha256(entry("tagmanifest-sha256.txt")) });
  });

  it("is a complete and valid BagIt 1.0 bag (RFC 8493, 3)", () => {
    expect(entry("bagit.txt")).toBe("BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n");
    const digestOf = new Map(entries.map(({ name, bytes }) => [name.slice(written.topFolder.length + 1), sha256(bytes)]));
    const listed = (text: string): [string, string][] => text.trimEnd().split("\n").map((line) => [line.slice(66), line.slice(0, 64)]);
    const payload = listed(entry("manifest-sha256.txt"));
    const tags = listed(entry("tagmanifest-sha256.txt"));
    for (const [path, digest] of [...payload, ...tags]) expect(digestOf.get(path), path).toBe(digest);
    expect(new Set([...payload, ...tags].map(([path]) => path)).add("tagmanifest-sha256.txt")).toEqual(new Set(digestOf.keys()));
    expect(tags.map(([path]) => path)).toEqual(["README.txt", "bag-info.txt", "bagit.txt", "manifest-sha256.txt", "verify.sh"]);

    const data = entries.filter(({ name }) => name.startsWith(`${written.topFolder}/data/`));
    const oxum = `${data.reduce((sum, { bytes }) => sum + bytes.length, 0)}.${data.length}`;
    expect(entry("bag-info.txt")).toBe(
      [
        "Source-Organization: Thornmarl Marine Works",
        "Contact-Name: Hanne Ulverdew",
        "External-Description: Wharf 2 Pile Encasement, Port Ellumbrey: inspection and sign-off record of pile encasement",
        "External-Identifier: W2-issue-1",
        "Internal-Sender-Identifier: W2",
        "Internal-Sender-Description: Closeout package, issue 1, interim, whole project, open items: 1",
        "Bagging-Date: 2026-12-03",
        `Payload-Oxum: ${oxum}`,
        "Bag-Software-Agent: Lastlook",
        "",
      ].join("\n"),
    );
  });

  it("comes out the same, byte for byte, from the same input", async () => {
    const sink = new PassThrough();
    const chunks: Buffer[] = [];
    sink.on("data", (chunk: Buffer) => chunks.push(chunk));
    expect(await writePackage(input, sink)).toEqual(written);
    expect(Buffer.concat(chunks).equals(zip)).toBe(true);
  });

  it("holds every original untouched, under a name that tells what it is", () => {
    for (const { bagPath, sha256: digest } of input.originals) expect(sha256(entries.find(({ name }) => name.endsWith(bagPath))!.bytes)).toBe(digest);
    expect(entries.map(({ name }) => name)).toContain("W2-issue-1-interim/data/piles/05-C/photos/07-a1-bar-3-with-tape-20261013T120300Z.jpg");
  });

  it("carries log, heads and positions as the standards say", () => {
    expect(entry("data/log.jsonl")).toBe(input.logLines.map((line) => `${Buffer.from(line).toString()}\n`).join(""));
    // RFC 7946, 3.1.1: longitude before latitude.
    expect(JSON.parse(entry("data/piles.geojson"))).toMatchObject({ type: "FeatureCollection", features: [{ geometry: { type: "Point", coordinates: [-63.499958, 44.0001485] } }] });
  });

  it("has an index that needs no scripts and no network, whose links all lead into the package", () => {
    const html = entry("data/index.html");
    expect(html).not.toMatch(/<script|https?:|@import|url\(/);
    const links = [...html.matchAll(/href="([^"]+)"/g)].map((match) => decodeURIComponent(match[1]!));
    expect(links.length).toBeGreaterThan(8);
    const paths = entries.map(({ name }) => name.slice(written.topFolder.length + 1));
    for (const link of links) {
      const target = link.startsWith("../") ? link.slice(3) : `data/${link}`;
      expect(paths.some((path) => (link.endsWith("/") ? path.startsWith(target) : path === target)), link).toBe(true);
    }
    expect(html).toContain("Not a substitute for the engineer&#39;s judgement");
  });

  it("shows words as words: markup in a name stays text", async () => {
    const chunks: Buffer[] = [];
    const out = new PassThrough().on("data", (chunk: Buffer) => chunks.push(chunk));
    await writePackage({ ...input, issue: { ...input.issue, openItems: ['<img src=x onerror="alert(1)"> & more'] } }, out);
    const html = readZip(Buffer.concat(chunks)).find(({ name }) => name.endsWith("/index.html"))!.bytes.toString();
    expect(html).toContain("&#60;img src=x onerror=&#34;alert(1)&#34;&#62; &#38; more");
  });
});

describe("a package is not issued", () => {
  const refused: [string, (sound: PackageInput) => PackageInput, string][] = [
    ["as final while items are open", (sound) => ({ ...sound, issue: { ...sound.issue, kind: "final" } }), "A final package has no open items: 1 are open."],
    ["without a head over the whole log", (sound) => ({ ...sound, heads: sound.heads.slice(0, 2) }), "No head covers the whole log"],
    ["with a broken log", (sound) => ({ ...sound, logLines: sound.logLines.toSpliced(1, 1) }), "Entry 2 of the log is numbered 3, 2 follows."],
    ["with a changed record", (sound) => ({ ...sound, records: sound.records.with(0, { ...sound.records[0]!, bytes: Buffer.from("{}") }) }), "has other bytes than its digest says"],
    ["without a record that the log names", (sound) => ({ ...sound, records: sound.records.slice(1) }), "Entry 1 of the log names a revision that is not in the package."],
    ["with a record that the log does not name", (sound) => ({ ...sound, records: [...sound.records, { kind: "note", digest: sha256("{}"), bytes: Buffer.from("{}"), signature: null }] }), "is not named by the log"],
    ["with an unsigned decision", (sound) => ({ ...sound, records: sound.records.map((record) => ({ ...record, signature: null })) }), "is not signed"],
    ["with a decision signed by a key that is not in it", (sound) => {
        const other = loadOrCreateKey(join(dir, "other"));
        return { ...sound, records: sound.records.map((record) => record.signature ? { ...record, signature: { key: other.id, base64: signBytes(other, record.bytes) } } : record) };
      }, "does not hold"],
    ["without a photo that a submission names", (sound) => ({ ...sound, originals: sound.originals.slice(1), piles: [] }), "names the original"],
    ["with a key under another id", (sound) => ({ ...sound, keys: [{ ...sound.keys[0]!, id: "0".repeat(16) }] }), "does not have the id"],
    ["with a path that leaves the folder", (sound) => ({ ...sound, originals: sound.originals.with(0, { ...sound.originals[0]!, bagPath: "../x.jpg" }) }), "does not stay in its folder"],
    ["without a photo where a point shows it", (sound) => ({ ...sound, originals: sound.originals.with(0, { ...sound.originals[0]!, bagPath: "elsewhere.jpg" }) }), "which is not among the originals"],
    ["with two files of one name", (sound) => ({ ...sound, previews: [...sound.previews, sound.originals[0]!] }), "Two files of the package would be called"],
    ["with an original that is damaged on disk", (sound) => {
        const damaged = join(dir, "damaged");
        writeFileSync(damaged, "other bytes");
        return { ...sound, originals: sound.originals.with(0, { ...sound.originals[0]!, filePath: damaged }) };
      }, "the stored file is damaged"],
    ["with an original that is gone from disk", (sound) => ({ ...sound, originals: sound.originals.with(0, { ...sound.originals[0]!, filePath: join(dir, "gone") }) }), "ENOENT"],
  ];
  it.each(refused)("%s, and leaves no file behind", async (_what, change, problem) => {
    const out = join(dir, "refused.zip");
    await expect(writePackage(change(input), out)).rejects.toThrow(problem);
    expect(existsSync(out)).toBe(false);
    expect(readdirSync(dir).filter((name) => name.startsWith("refused"))).toEqual([]);
  });

  it("over a good file when it fails: that one stays", async () => {
    const out = join(dir, "kept.zip");
    writeFileSync(out, "the last issue");
    await expect(writePackage({ ...input, heads: [] }, out)).rejects.toThrow();
    expect(readFileSync(out, "utf8")).toBe("the last issue");
  });

  it("when the receiver breaks off: the failure comes back instead of a wait without end", async () => {
    const broken = new Writable({ write: (_chunk, _encoding, done) => done(new Error("the receiver is gone")) });
    await expect(writePackage(input, broken)).rejects.toThrow("the receiver is gone");
  });
});

describe("a file too large to be held in memory", () => {
  it("is streamed, and its digest is still checked", async () => {
    const large = Buffer.alloc(33 * 1024 * 1024, "tide");
    const filePath = join(dir, "large.pdf");
    writeFileSync(filePath, large);
    const document = { sha256: sha256(large), bytes: large.length, mediaType: "application/pdf", bagPath: "documents/large.pdf", filePath };
    const out = join(dir, "large.zip");
    await writePackage({ ...input, originals: [...input.originals, document] }, out);
    const stored = readZip(readFileSync(out)).find(({ name }) => name.endsWith("/documents/large.pdf"))!;
    expect(stored.bytes.equals(large)).toBe(true);
    await expect(writePackage({ ...input, originals: [...input.originals, { ...document, sha256: "0".repeat(64) }] }, out)).rejects.toThrow("damaged");
  });
});
