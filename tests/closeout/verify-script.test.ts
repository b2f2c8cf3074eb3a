import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { writePackage } from "#lib/closeout/bag";
import { manifestText } from "#lib/closeout/manifest";
import { VERIFY_SCRIPT } from "#lib/closeout/verify-script";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import { loadOrCreateKey, signBytes } from "#lib/records/key";
import { examplePackage } from "#tests/closeout/example";
import { unpack } from "#tests/closeout/unpack";

let dir: string;
let issued: string;
let bag: string;
let script: string;

beforeAll(async () => {
  dir = mkdtempSync(join(tmpdir(), "closeout verify-")); // a space in the path is part of the test
  await writePackage(await examplePackage(join(dir, "made")), join(dir, "out.zip"));
  issued = unpack(join(dir, "out.zip"), join(dir, "issued"));
  script = join(dir, "trusted-verify.sh");
  writeFileSync(script, VERIFY_SCRIPT);
});
afterAll(() => rmSync(dir, { recursive: true }));
beforeEach(() => {
  bag = join(dir, "spoiled");
  rmSync(bag, { recursive: true, force: true });
  cpSync(issued, bag, { recursive: true });
});

function verify(folder = bag): { status: number | null; faults: string[]; lines: string[] } {
  const { status, stdout, stderr } = spawnSync("sh", [script, folder], { encoding: "utf8" });
  expect(stderr).toBe("");
  const lines = stdout.trimEnd().split("\n");
  return { status, faults: lines.filter((line) => line.startsWith("FAULT: ")), lines };
}

/** Each named fault must be there; a package with any fault ends in NOT OK and 1. */
function expectFaults(...wanted: string[]): void {
  const { status, faults, lines } = verify();
  for (const fault of wanted) expect(faults).toContainEqual(expect.stringContaining(`FAULT: ${fault}`));
  expect(lines.at(-1)).toBe(`NOT OK: ${faults.length} fault(s).`);
  expect(status).toBe(1);
}

const path = (file: string): string => join(bag, file);
const files = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)))
    .sort();
const only = (folder: string, ending = ""): string[] => readdirSync(path(folder)).filter((name) => name.endsWith(ending)).sort();
const edit = (file: string, change: (text: string) => string): void => {
  const before = readFileSync(path(file), "utf8");
  const after = change(before);
  expect(after).not.toBe(before);
  writeFileSync(path(file), after);
};

/** Writes the manifests anew, as somebody would who wants to hide a change. */
function reseal(): void {
  const listed = files(bag).map((file) => ({ path: file, sha256: sha256(readFileSync(path(file))), bytes: statSync(path(file)).size }));
  const payload = listed.filter((file) => file.path.startsWith("data/"));
  writeFileSync(path("manifest-sha256.txt"), manifestText(payload));
  const oxum = `${payload.reduce((sum, { bytes }) => sum + bytes, 0)}.${payload.length}`;
  writeFileSync(path("bag-info.txt"), readFileSync(path("bag-info.txt"), "utf8").replace(/Payload-Oxum: .*/, `Payload-Oxum: ${oxum}`));
  const tags = files(bag).filter((file) => !file.startsWith("data/") && !file.startsWith("tagmanifest"));
  writeFileSync(path("tagmanifest-sha256.txt"), manifestText(tags.map((file) => ({ path: file, sha256: sha256(readFileSync(path(file))), bytes: 0 }))));
}

const recordOf = (kind: string, nth = 0): string => {
  const refs = readFileSync(path("data/log.jsonl"), "utf8").trimEnd().split("\n").map((line) => (JSON.parse(line) as { ref: { kind: string; digest: string } }).ref);
  return refs.filter((ref) => ref.kind === kind)[nth]!.digest;
};

describe("verify.sh on a package as issued", () => {
  it("finds no fault, and says which head it holds", () => {
    const { status, faults, lines } = verify();
    expect(faults).toEqual([]);
    expect(status).toBe(0);
    expect(lines.at(-1)).toBe("OK: all files, log entries, records and signatures agree.");
    const last = sha256(readFileSync(path("data/log.jsonl"), "utf8").trimEnd().split("\n").at(-1)!);
    expect(lines).toContain(`Log head: entry 6, ${last}`);
    expect(lines).toContain(`Tag manifest: ${sha256(readFileSync(path("tagmanifest-sha256.txt")))}`);
  });

  it("runs from inside the package too, under dash where the system has it as sh", () => {
    const { status, stdout } = spawnSync("sh", ["verify.sh"], { cwd: bag, encoding: "utf8" });
    expect([status, stdout.trimEnd().split("\n").at(-1)]).toEqual([0, "OK: all files, log entries, records and signatures agree."]);
  });

  it("leaves the package as it was, and says when it was pointed at something else", () => {
    verify();
    expect(files(bag)).toEqual(files(issued));
    expect(spawnSync("sh", [script, join(dir, "made")], { encoding: "utf8" })).toMatchObject({ status: 2, stdout: expect.stringContaining("CANNOT CHECK") as string });
  });

  it("stays sound when only its manifests are written anew", () => {
    reseal();
    expect(verify().faults).toEqual([]);
  });
});

describe("verify.sh on a spoiled package", () => {
  const flip = (file: string, nth: number): void => {
    const bytes = readFileSync(path(file));
    bytes[(nth * 7919) % bytes.length]! ^= 1 << (nth % 8);
    writeFileSync(path(file), bytes);
  };

  it("names every payload file in which one bit was flipped", () => {
    const payload = files(issued).filter((file) => file.startsWith("data/"));
    expect(payload.length).toBeGreaterThan(25);
    payload.forEach(flip);
    expectFaults(...payload.map((file) => `${file}: was changed, or line `));
  });

  it.each(["README.txt", "bag-info.txt", "bagit.txt", "manifest-sha256.txt", "tagmanifest-sha256.txt", "verify.sh", "data/log.jsonl"])("finds one flipped bit of %s, and names it", (file) => {
    flip(file, 3);
    const { status, faults } = verify();
    expect(faults.filter((fault) => fault.includes(file))).not.toEqual([]);
    expect(status).toBe(1);
  });

  it("finds every flipped bit of a line of each manifest", { timeout: 120_000 }, () => {
    for (const list of ["manifest-sha256.txt", "tagmanifest-sha256.txt"]) {
      const bytes = readFileSync(path(list));
      // Digest, separator, path and line end; the bit moves along with the place.
      for (const offset of [0, 63, 64, 65, 70, bytes.indexOf("\n"), bytes.length - 1]) {
        const flipped = Buffer.from(bytes);
        flipped[offset]! ^= 1 << ((offset + 5) % 8);
        writeFileSync(path(list), flipped);
        expect(verify().status, `${list}, byte ${offset}`).toBe(1);
      }
      writeFileSync(path(list), bytes);
    }
  });

  it("names a missing, an extra and a renamed file, spaces and all", () => {
    const [photo, other] = files(bag).filter((file) => file.includes("/photos/")) as [string, string];
    rmSync(path(photo));
    renameSync(path(other), path("data/my photo.jpg"));
    writeFileSync(path("data/notes of mine.txt"), "x");
    writeFileSync(path("notes.txt"), "x");
    expectFaults(
      `${photo}: is missing (line `,
      `${other}: was renamed: its bytes are in data/my photo.jpg`,
      `data/my photo.jpg: is ${other} under another name`,
      "data/notes of mine.txt: is in no manifest",
      "notes.txt: is in no manifest",
      "bag-info.txt: Payload-Oxum is",
    );
  });

  it("names both of two files that were swapped", () => {
    const [a, b] = files(bag).filter((file) => file.includes("/photos/")) as [string, string];
    const bytes = readFileSync(path(a));
    cpSync(path(b), path(a));
    writeFileSync(path(b), bytes);
    expectFaults(`${a}: holds the bytes of ${b}`, `${b}: holds the bytes of ${a}`);
  });

  it("names the line that was edited in a manifest", () => {
    const lines = readFileSync(path("manifest-sha256.txt"), "utf8").trimEnd().split("\n");
    const [digest, file] = lines[4]!.split("  ") as [string, string];
    const wrong = `${digest.slice(0, 63)}${digest.endsWith("0") ? "1" : "0"}`;
    edit("manifest-sha256.txt", (text) => text.replace(digest, wrong));
    expectFaults(`${file}: was changed, or line 5 of manifest-sha256.txt was: that line says ${wrong}, the file is ${digest}`, "manifest-sha256.txt: was changed, or line 4 of tagmanifest-sha256.txt was");
  });

  it.each<[string, (line: string) => string, string]>([
    ["names a file outside by an absolute path", (line) => line.replace("data/", "/data/"), "names a path outside the package"],
    ["climbs out with dots", (line) => line.replace("data/", "data/../../"), "names a path outside the package"],
    ["climbs to a home folder", (line) => line.replace("data/", "~/data/"), "names a path outside the package"],
    ["names a drive", (line) => line.replace("data/", "C:/data/"), "names a path outside the package"],
    ["names a file that is not payload", (line) => line.replace(/ {2}.*/, "  README.txt"), "names a file that is not under data/"],
    ["is listed twice", (line) => `${line}\n${line}`, "a second time"],
    ["is listed twice with another digest", (line) => `${line}\n${"0".repeat(64)}${line.slice(64)}`, "a second time"],
    ["has capital digits", (line) => line.slice(0, 64).toUpperCase() + line.slice(64), "is not a digest, two spaces and a path"],
    ["has a tab for its spaces", (line) => line.replace("  ", "\t"), "is not a digest, two spaces and a path"],
  ])("names the line of a manifest that %s", (_what, change, fault) => {
    // RFC 8493, 5, and the invalid bags of the Library of Congress conformance suite.
    edit("manifest-sha256.txt", (text) => text.replace(/^.*data\/index.html$/m, change));
    const { status, faults } = verify();
    expect(faults).toContainEqual(expect.stringMatching(new RegExp(`^FAULT: manifest-sha256.txt: line \\d+ .*${fault}`)));
    expect(status).toBe(1);
  });

  it.each<[string, string]>([
    ["another version", "BagIt-Version: 2.0\nTag-File-Character-Encoding: UTF-8\n"],
    ["a byte order mark", "\ufeffBagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"],
    ["a space too many", "BagIt-Version : 1.0\nTag-File-Character-Encoding: UTF-8\n"],
    ["no encoding", "BagIt-Version: 1.0\n"],
  ])("refuses a bagit.txt with %s, whatever the manifests say", (_what, text) => {
    writeFileSync(path("bagit.txt"), text);
    reseal();
    expectFaults("bagit.txt: does not declare a BagIt 1.0 bag");
  });

  it.each(["bagit.txt", "bag-info.txt", "manifest-sha256.txt", "tagmanifest-sha256.txt", "data/log.jsonl"])("misses %s when it is gone", (file) => {
    rmSync(path(file));
    expectFaults(`${file}: is missing`);
  });

  it("names a link in place of a file", () => {
    symlinkSync("/etc/hostname", path("data/linked"));
    expectFaults("data/linked: is neither a file nor a folder");
  });
});

describe("verify.sh on a package whose manifests were written anew to hide a change", () => {
  const spoiled: [string, () => void, string[]][] = [
    ["the log cut at its end", () => edit("data/log.jsonl", (text) => text.trimEnd().split("\n").slice(0, -1).join("\n") + "\n"), ["data/heads/000000006-20261203T160000000Z.json: says the log has 6 entries, data/log.jsonl has 5"]],
    ["an entry cut out of the log", () => edit("data/log.jsonl", (text) => text.split("\n").toSpliced(2, 1).join("\n")), ["data/log.jsonl: entry 3 is numbered 4, 3 follows", "data/log.jsonl: entry 3 does not follow from the entry before it"]],
    ["two entries swapped", () => edit("data/log.jsonl", (text) => { const lines = text.split("\n"); return lines.toSpliced(1, 2, lines[2]!, lines[1]!).join("\n"); }), ["data/log.jsonl: entry 2 is numbered 3, 2 follows", "data/log.jsonl: entry 3 is numbered 2, 3 follows"]],
    ["another actor in an entry", () => edit("data/log.jsonl", (text) => text.replace("crew-lead-1", "crew-lead-2")), ["data/log.jsonl: entry 2 does not follow from the entry before it"]],
    ["another actor in the last entry", () => edit("data/log.jsonl", (text) => text.replace(/crew-lead-1(?=[^\n]*\n$)/, "crew-lead-2")), ["data/heads/000000006-20261203T160000000Z.json: does not fit entry 6 of data/log.jsonl"]],
    ["an entry that is not JSON", () => edit("data/log.jsonl", (text) => text.replace("{", "[")), ["data/log.jsonl: entry 1 is not JSON"]],
    ["an entry with a member more", () => edit("data/log.jsonl", (text) => text.replace("{", '{"x":1,')), ["data/log.jsonl: entry 1 has other members than a log entry"]],
    ["an empty line in the log", () => edit("data/log.jsonl", (text) => text.replace("\n", "\n\n")), ["data/log.jsonl: entry 2 is not JSON"]],
    ["an entry added to the log", () => edit("data/log.jsonl", (text) => {
        const lines = text.trimEnd().split("\n");
        const next = { ...(JSON.parse(lines[5]!) as object), seq: 7, prev: sha256(lines[5]!) };
        return `${text}${canonicalBytes(next).toString()}\n`;
      }), ["data/log.jsonl: has 7 entries, but the newest head covers 6"]],
    ["a changed record under its old name", () => edit(`data/records/${recordOf("submission")}.json`, (text) => text.replace('"line":"4"', '"line":"5"')), [": does not have the digest that its name says"]],
    ["a record that is gone", () => rmSync(path(`data/records/${recordOf("submission")}.json`)), [": is missing: entry 2 of the log names this submission"]],
    ["a record that the log does not name", () => { const bytes = canonicalBytes({ planted: true }); writeFileSync(path(`data/records/${sha256(bytes)}.json`), bytes); }, [": is not named by the log"]],
    ["a record that is not JSON", () => { const bytes = "not JSON"; writeFileSync(path(`data/records/${sha256(bytes)}.json`), bytes); }, [": is not one line of JSON"]],
    ["a decision without its signature", () => rmSync(path(`data/signatures/${only("data/signatures").find((name) => name.startsWith(recordOf("decision")))!}`)), ["this decision (entry "]],
    ["an acceptance without its signature", () => rmSync(path(`data/signatures/${only("data/signatures").find((name) => name.startsWith(recordOf("acceptance")))!}`)), ["this acceptance (entry "]],
    ["a signature of another decision", () => { const [a, b] = only("data/signatures") as [string, string]; cpSync(path(`data/signatures/${b}`), path(`data/signatures/${a}`)); }, ["data/signatures/"]],
    ["a decision signed with a key of somebody else's", () => {
        const other = loadOrCreateKey(join(dir, "other-key"));
        const digest = recordOf("decision");
        writeFileSync(path(`data/keys/${only("data/keys")[0]!}`), other.publicPem);
        writeFileSync(path(`data/signatures/${digest}.${other.id}.sig`), Buffer.from(signBytes(other, readFileSync(path(`data/records/${digest}.json`))), "base64"));
      }, ["is not the key that its name says: it is ", "this decision (entry "]],
    ["a head that is gone", () => { for (const name of only("data/heads").slice(-2)) rmSync(path(`data/heads/${name}`)); }, ["data/log.jsonl: has 6 entries, but the newest head covers 5"]],
    ["a head without its signature", () => rmSync(path(`data/heads/${only("data/heads", ".sig")[1]!}`)), ["data/heads/000000005-20261013T140130000Z.sig: is missing"]],
    ["a changed head", () => edit(`data/heads/${only("data/heads", ".json")[0]!}`, (text) => text.replace('"size":3', '"size":4')), ["data/heads/000000003-20261013T140030000Z.json: does not fit entry 4", "data/heads/000000003-20261013T140030000Z.sig: is not the signature of"]],
    ["no heads", () => rmSync(path("data/heads"), { recursive: true }), ["data/log.jsonl: has 6 entries, but the newest head covers 0"]],
    ["a photo that is gone", () => rmSync(path(files(bag).find((file) => file.includes("/photos/"))!)), ["which is not in the package"]],
    ["a photo that was exchanged", () => { const photo = files(bag).find((file) => file.includes("/photos/"))!; mkdirSync(path("data"), { recursive: true }); writeFileSync(path(photo), "another picture"); }, ["which is not in the package"]],
  ];
  it.each(spoiled)("finds %s", (_what, spoil, wanted) => {
    spoil();
    reseal();
    const { status, faults } = verify();
    for (const fault of wanted) expect(faults).toContainEqual(expect.stringContaining(fault));
    expect(status).toBe(1);
  });
});
