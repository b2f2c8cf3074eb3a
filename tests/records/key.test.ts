import { createPrivateKey, createPublicKey } from "node:crypto";
import { execFileSync } from "node:child_process";
import { chmodSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { canonicalBytes } from "#lib/records/canonical";
import { signHead, verifyHead } from "#lib/records/head";
import { keyId, loadOrCreateKey, signBytes, verifyBytes, type SigningKey } from "#lib/records/key";

interface VectorRow { name: string; secret_seed?: string; public: string; message_hex: string; signature: string; valid: boolean }
// The vector file names its sources: RFC 8032 section 7.1 and, for the negative cases, C2SP/wycheproof.
const { rows } = JSON.parse(readFileSync(new URL("./vector/ed25519.json", import.meta.url), "utf8")) as { rows: VectorRow[] };

// RFC 8410: the DER that stands before a raw Ed25519 private or public key.
const privateKeyOf = (seedHex: string) =>
  createPrivateKey({ key: Buffer.from(`302e020100300506032b657004220420${seedHex}`, "hex"), format: "der", type: "pkcs8" });
const publicPemOf = (publicHex: string): string =>
  createPublicKey({ key: Buffer.from(`302a300506032b6570032100${publicHex}`, "hex"), format: "der", type: "spki" })
    .export({ type: "spki", format: "pem" })
    .toString();
const base64 = (hex: string): string => Buffer.from(hex, "hex").toString("base64");

let dir: string;
let key: SigningKey;
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), "records-"));
  key = loadOrCreateKey(join(dir, "key"));
});
afterAll(() => rmSync(dir, { recursive: true }));

describe("Ed25519 signatures", () => {
  it.each(rows.filter((row) => row.secret_seed))("equal the published one of RFC 8032, $name", (row) => {
    const publicPem = publicPemOf(row.public);
    const signing = { id: keyId(publicPem), privateKey: privateKeyOf(row.secret_seed!), publicPem };
    const message = Buffer.from(row.message_hex, "hex");
    expect(signBytes(signing, message)).toBe(base64(row.signature));
    expect(verifyBytes(publicPem, message, base64(row.signature))).toBe(true);
  });

  it.each(rows.filter((row) => !row.valid))("refuse the published wrong one, $name", (row) => {
    expect(verifyBytes(publicPemOf(row.public), Buffer.from(row.message_hex, "hex"), base64(row.signature))).toBe(false);
  });

  it("have one spelling: spaces, missing padding and the URL alphabet are refused", () => {
    const message = Buffer.from("a record");
    const signature = signBytes(key, message);
    expect(verifyBytes(key.publicPem, message, signature)).toBe(true);
    for (const spelling of [` ${signature}`, signature.replace(/=+$/, ""), `${signature}\n`, `${signature.slice(0, 5)}!${signature.slice(5)}`]) {
      expect(verifyBytes(key.publicPem, message, spelling), spelling).toBe(false);
    }
  });

  it("can be checked with OpenSSL alone, and OpenSSL sees a changed record", () => {
    const record = join(dir, "record.json");
    const signatureFile = join(dir, "record.sig");
    const keyFile = join(dir, "key.pem");
    const bytes = canonicalBytes({ outcome: "release", line: "11" });
    writeFileSync(record, bytes);
    writeFileSync(signatureFile, Buffer.from(signBytes(key, bytes), "base64"));
    writeFileSync(keyFile, key.publicPem);
    const openssl = (): string =>
      execFileSync("openssl", ["pkeyutl", "-verify", "-pubin", "-inkey", keyFile, "-rawin", "-in", record, "-sigfile", signatureFile], {
        encoding: "utf8",
        stdio: "pipe",
      });
    expect(openssl()).toContain("Signature Verified Successfully");
    writeFileSync(record, canonicalBytes({ outcome: "reject", line: "11" }));
    expect(openssl).toThrow();
  });
});

describe("the server's key", () => {
  it("is made once, readable by its owner only, and read back the same", () => {
    const folder = join(dir, "key");
    expect(loadOrCreateKey(folder)).toMatchObject({ id: key.id, publicPem: key.publicPem });
    expect(readdirSync(folder).sort()).toEqual(["signing-key.pem", "signing-key.pub.pem"]);
    for (const file of readdirSync(folder)) expect(statSync(join(folder, file)).mode & 0o777).toBe(0o600);
  });

  it("is named by the first 16 digits of the SHA-256 of its public DER, as openssl and sha256sum give it", () => {
    const pem = join(dir, "id.pem");
    writeFileSync(pem, key.publicPem);
    const sum = execFileSync("sh", ["-c", 'openssl pkey -pubin -in "$1" -outform DER | sha256sum', "sh", pem], { encoding: "utf8" });
    expect(sum.slice(0, 16)).toBe(key.id);
  });

  it("is refused when others may read it", () => {
    const folder = join(dir, "open-key");
    loadOrCreateKey(folder);
    chmodSync(join(folder, "signing-key.pem"), 0o644);
    expect(() => loadOrCreateKey(folder)).toThrow("may be read by others");
  });
});

describe("a head", () => {
  const fields = { project: "W2", size: 3902, last: "9c".repeat(32), at: "2026-11-30T20:05:00.000Z" };

  it("verifies with the key it names, and gives back what was signed", () => {
    const signed = signHead(key, fields);
    expect(verifyHead(signed, key.publicPem)).toEqual({ ok: true, head: { v: 1, ...fields, key: key.id } });
  });

  it("is refused when changed, signed by another key, or under another key's name", () => {
    const signed = signHead(key, fields);
    const other = loadOrCreateKey(join(dir, "other-key"));
    const grown = { ...signed, bytes: canonicalBytes({ ...signed.head, size: 3903 }) };
    expect(verifyHead(grown, key.publicPem)).toEqual({ ok: false, problem: "the signature does not hold" });
    expect(verifyHead({ ...signed, signature: signBytes(other, signed.bytes) }, key.publicPem)).toEqual({ ok: false, problem: "the signature does not hold" });
    expect(verifyHead(signed, other.publicPem)).toEqual({ ok: false, problem: `names key ${key.id}, not the one given` });
  });

  it.each([
    ["an extra member", { note: "x" }],
    ["size 0", { size: 0 }],
    ["a size that is not whole", { size: 1.5 }],
    ["local time", { at: "2026-11-30T16:05:00.000-04:00" }],
  ])("is not a head with %s, whatever its signature", (_what, wrong) => {
    const bytes = canonicalBytes({ ...signHead(key, fields).head, ...wrong });
    expect(verifyHead({ bytes, signature: signBytes(key, bytes) }, key.publicPem)).toMatchObject({ ok: false, problem: expect.stringContaining("is not a head") as string });
  });
});
