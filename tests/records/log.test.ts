import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import { entryBytes, GENESIS, nextEntry, parseEntry, verifyChain, type LogEntry, type LogFields } from "#lib/records/log";

const fields = (n: number): LogFields => ({
  project: "W2",
  at: `2026-10-05T07:00:${String(n % 60).padStart(2, "0")}.000Z`,
  actor: "crew-lead-1",
  type: "point-submitted",
  ref: { kind: "submission", digest: sha256(`record ${n}`) },
});

function logOf(size: number): Buffer[] {
  const lines: Buffer[] = [];
  for (let n = 1; n <= size; n++) lines.push(nextEntry(lines.at(-1) ?? null, fields(n)).bytes);
  return lines;
}

const change = (bytes: Buffer, changes: Partial<LogEntry>): Buffer => canonicalBytes({ ...parseEntry(bytes), ...changes });

describe("the log", () => {
  it("starts at entry 1 on 64 zeros and gives each entry the digest of the one before", () => {
    const [first, second] = logOf(2) as [Buffer, Buffer];
    expect(parseEntry(first)).toMatchObject({ v: 1, seq: 1, prev: GENESIS });
    expect(parseEntry(second)).toMatchObject({ seq: 2, prev: sha256(first) });
  });

  it("is sound as it was written, and says how far it goes", () => {
    const lines = logOf(7);
    expect(verifyChain(lines)).toEqual({ ok: true, size: 7, last: sha256(lines[6]!) });
    expect(verifyChain([])).toEqual({ ok: true, size: 0, last: GENESIS });
  });

  it("does not go on with another project's entry", () => {
    expect(() => nextEntry(logOf(1)[0]!, { ...fields(2), project: "W3" })).toThrow("The log of W2 cannot go on with an entry of W3.");
  });

  it.each<[string, Partial<LogFields>]>([
    ["a time with an offset", { at: "2026-10-05T07:00:00.000-03:00" }],
    ["a time without milliseconds", { at: "2026-10-05T07:00:00Z" }],
    ["30 February", { at: "2026-02-30T07:00:00.000Z" }],
    ["a short digest", { ref: { kind: "submission", digest: "ab" } }],
    ["a digest in capitals", { ref: { kind: "submission", digest: "A".repeat(64) } }],
    ["no actor", { actor: "" }],
  ])("refuses %s", (_what, wrong) => {
    expect(() => nextEntry(null, { ...fields(1), ...wrong })).toThrow();
  });

  const spoiled: [string, (lines: Buffer[]) => Buffer[], number, string][] = [
    ["an entry cut out of the middle", (lines) => lines.toSpliced(3, 1), 4, "is numbered 5, 4 follows"],
    ["the first entry cut off", (lines) => lines.slice(1), 1, "is numbered 2, 1 follows"],
    ["two entries swapped", (lines) => lines.toSpliced(2, 2, lines[3]!, lines[2]!), 3, "is numbered 4, 3 follows"],
    ["an entry sent twice", (lines) => lines.toSpliced(2, 0, lines[1]!), 3, "is numbered 2, 3 follows"],
    ["a changed actor", (lines) => lines.toSpliced(2, 1, change(lines[2]!, { actor: "somebody-else" })), 4, "does not follow from the entry before it"],
    [
      "an entry cut out and the rest renumbered",
      (lines) => lines.toSpliced(3, 1).map((line, i) => change(line, { seq: i + 1 })),
      4,
      "does not follow from the entry before it",
    ],
    ["an entry of another project", (lines) => lines.with(4, change(lines[4]!, { project: "W3" })), 5, "is of project W3, not W2"],
    ["an unknown member", (lines) => lines.with(1, canonicalBytes({ ...parseEntry(lines[1]!), note: "x" })), 2, "is not a log entry"],
    ["another version", (lines) => lines.with(1, canonicalBytes({ ...parseEntry(lines[1]!), v: 2 })), 2, "is not a log entry"],
    ["the same entry with a space in it", (lines) => lines.with(1, Buffer.from(lines[1]!.toString().replace(":", ": "))), 2, "not in canonical form"],
    ["an empty line", (lines) => lines.toSpliced(5, 0, Buffer.alloc(0)), 6, "is not a log entry"],
  ];
  it.each(spoiled)("is refused at the place of %s", (_what, spoil, seq, problem) => {
    const result = verifyChain(spoil(logOf(8)));
    expect(result).toMatchObject({ ok: false, seq });
    expect(result).toHaveProperty("problem", expect.stringContaining(problem));
  });

  it("shows any single flipped bit, in the entry or in the one after it; in the last entry only its digest shows it", () => {
    const lines = logOf(4);
    const last = sha256(lines[3]!);
    fc.assert(
      fc.property(fc.nat(3), fc.nat(10_000), fc.nat(7), (line, offset, bit) => {
        const flipped = Buffer.from(lines[line]!);
        flipped[offset % flipped.length]! ^= 1 << bit;
        const result = verifyChain(lines.with(line, flipped));
        expect(result.ok && result.last === last).toBe(false);
      }),
    );
  });

  it("stores entries in canonical form", () => {
    const entry = parseEntry(logOf(1)[0]!);
    expect(entryBytes(entry).toString()).toMatch(/^\{"actor":.*"v":1\}$/);
  });
});
