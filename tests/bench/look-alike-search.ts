// Measures the search for look-alikes among 100,000 stored hashes, beside going through all of them. Prints figures; ends
// with 1 when 95 of 100 searches are past its limit.
import { mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import Database from "better-sqlite3";
import { bandsOf, lookDistances, orientations } from "#lib/domain/photo/look-alike";
import { databaseFile, openDatabase } from "#lib/db/client";
import { searchLooks } from "#lib/db/likeness";
import { migrate } from "#lib/db/migrations";

const STORED = 100_000;
const SEARCHES = 100;
const WARM_UP = 5;
const LIMIT_MS = 50;

const folder = mkdtempSync(path.join(os.tmpdir(), "lastlook-looks-"));
const say = (words: string): void => void process.stdout.write(`${words}\n`);
const digits = (count: number): string => Array.from({ length: count }, () => Math.floor(Math.random() * 16).toString(16)).join("");
/** Real pictures share large shapes: half of the hashes here are a common one with a third of its bits turned. */
const COMMON = digits(32);
const hashLike = (): string => [...COMMON].map((digit) => (Number.parseInt(digit, 16) ^ (Math.random() < 0.6 ? 1 << Math.floor(Math.random() * 4) : 0)).toString(16)).join("");

try {
  const file = databaseFile(folder);
  migrate(file);
  const raw = new Database(file);
  const insert = raw.prepare('INSERT INTO "PhotoLook" ("photoId", "projectId", "pixels", "hash", "band0", "band1", "band2") VALUES (?, ?, ?, ?, ?, ?, ?)');
  const stored = Array.from({ length: STORED }, (_, i) => ({ id: `photo-${i}`, hash: i % 2 === 0 ? digits(32) : hashLike() }));
  raw.transaction(() => {
    for (const { id, hash } of stored) insert.run(id, "one", digits(64), hash, ...bandsOf(hash));
  })();
  raw.close();

  const db = openDatabase(file);
  const took: number[] = [];
  let found = 0;
  // The first few prepare the statements and are left out.
  for (let i = -WARM_UP; i < SEARCHES; i += 1) {
    // A stored picture with five bits turned, in one of its eight orientations.
    const { id, hash } = stored[Math.floor(Math.random() * STORED)]!;
    const other = orientations(hash)[Math.abs(i) % 8]!;
    const turned = (BigInt(`0x${other}`) ^ 0x8000000001000121n).toString(16).padStart(32, "0");
    const began = performance.now();
    const matches = await searchLooks(db.read, ["one"], { pixels: digits(64), hash: turned });
    if (i < 0) continue;
    took.push(performance.now() - began);
    if (matches.some(({ photoId }) => photoId === id)) found += 1;
  }
  const began = performance.now();
  const apart = lookDistances(stored[0]!.hash);
  const all = stored.filter(({ hash }) => apart(hash).bits <= 8).length;
  const scanMs = performance.now() - began;
  await db.close();

  const sorted = took.sort((a, b) => a - b);
  const [median = 0, most = 0, slowest = 0] = [sorted[SEARCHES / 2], sorted[Math.ceil(SEARCHES * 0.95) - 1], sorted.at(-1)];
  say(`look-alike search among ${STORED.toLocaleString("en")}: median ${median.toFixed(1)} ms, 95 of 100 within ${most.toFixed(1)} ms, slowest ${slowest.toFixed(1)} ms (limit ${LIMIT_MS} ms for 95 of 100); through all of them ${scanMs.toFixed(0)} ms, ${(scanMs / median).toFixed(0)} times as long (${all} alike)`);
  say(`found again: ${found} of ${SEARCHES}`);
  process.exitCode = most <= LIMIT_MS && found === SEARCHES ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
