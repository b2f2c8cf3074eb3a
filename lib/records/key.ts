import { createPrivateKey, createPublicKey, generateKeyPairSync, randomUUID, sign, verify, type KeyObject } from "node:crypto";
import { linkSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { sha256 } from "#lib/records/canonical";

export interface SigningKey {
  /** First 16 hexadecimal digits of the SHA-256 of the public key (SPKI, DER). */
  id: string;
  privateKey: KeyObject;
  publicPem: string;
}

const PRIVATE_FILE = "signing-key.pem";
const PUBLIC_FILE = "signing-key.pub.pem";

/**
 * The server's Ed25519 key from `dir`, made on first use (PEM files, mode 0600).
 * Throws when the private file is of another kind of key or may be read by anybody but its owner.
 */
export function loadOrCreateKey(dir: string): SigningKey {
  mkdirSync(dir, { recursive: true, mode: 0o700 });
  const privateFile = join(dir, PRIVATE_FILE);
  if (!statSync(privateFile, { throwIfNoEntry: false })) createKeyFile(privateFile, dir);

  if (process.platform !== "win32" && (statSync(privateFile).mode & 0o077) !== 0) {
    throw new Error(`${PRIVATE_FILE} may be read by others: set its mode to 0600, or take it out of use and let a new key be made.`);
  }
  const privateKey = createPrivateKey(readFileSync(privateFile));
  if (privateKey.asymmetricKeyType !== "ed25519") throw new Error(`${PRIVATE_FILE} is not an Ed25519 key.`);

  const publicPem = createPublicKey(privateKey).export({ type: "spki", format: "pem" }).toString();
  const publicFile = join(dir, PUBLIC_FILE);
  if (!statSync(publicFile, { throwIfNoEntry: false })) writeFileSync(publicFile, publicPem, { mode: 0o600 });
  return { id: keyId(publicPem), privateKey, publicPem };
}

function createKeyFile(privateFile: string, dir: string): void {
  const { privateKey } = generateKeyPairSync("ed25519");
  const draft = join(dir, `${randomUUID()}.tmp`);
  writeFileSync(draft, privateKey.export({ type: "pkcs8", format: "pem" }), { mode: 0o600, flag: "wx", flush: true });
  try {
    // Two processes may start at once: a link never replaces a file, so both end up with the key of the first.
    linkSync(draft, privateFile);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
  } finally {
    rmSync(draft);
  }
}

/** Id of a public key given as PEM: the first 16 hexadecimal digits of the SHA-256 of its SPKI DER. */
export function keyId(publicPem: string): string {
  return sha256(createPublicKey(publicPem).export({ type: "spki", format: "der" })).slice(0, 16);
}

/** Ed25519 signature (RFC 8032) over the bytes as they stand, in base64. */
export function signBytes(key: SigningKey, bytes: Uint8Array): string {
  return sign(null, bytes, key.privateKey).toString("base64");
}

/** True only for the plain base64 of a 64-byte Ed25519 signature that holds for these bytes under this key. */
export function verifyBytes(publicPem: string, bytes: Uint8Array, signature: string): boolean {
  const raw = Buffer.from(signature, "base64");
  // Node's decoder skips what is not base64; a signature has one spelling only.
  if (raw.length !== 64 || raw.toString("base64") !== signature) return false;
  const key = createPublicKey(publicPem);
  return key.asymmetricKeyType === "ed25519" && verify(null, bytes, key, raw);
}
