import { mkdirSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import sharp from "sharp";
import type { PileRecord, PackageInput, PhotoRecord, PointRecord, StoredFile, StoredRecord, Table } from "#lib/closeout/package-input";
import { FileNames } from "#lib/closeout/file-name";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import { signHead } from "#lib/records/head";
import { loadOrCreateKey, signBytes, type SigningKey } from "#lib/records/key";
import { nextEntry } from "#lib/records/log";

const PROJECT = "W2";

/** Writes records one after the other into a log, as a server would. */
export class ExampleLog {
  readonly lines: Buffer[] = [];
  readonly records: StoredRecord[] = [];
  constructor(readonly key: SigningKey) {}

  add(kind: string, facts: Record<string, unknown>): string {
    const bytes = canonicalBytes({ v: 1, ...facts });
    const digest = sha256(bytes);
    const signature = kind === "decision" || kind === "acceptance" ? { key: this.key.id, base64: signBytes(this.key, bytes) } : null;
    this.records.push({ digest, kind, bytes, signature });
    const at = new Date(Date.UTC(2026, 9, 13, 14, 0, this.lines.length)).toISOString();
    this.lines.push(nextEntry(this.lines.at(-1) ?? null, { project: PROJECT, at, actor: "crew-lead-1", type: `${kind}-recorded`, ref: { kind, digest } }).bytes);
    return digest;
  }

  head(size = this.lines.length, at = "2026-12-03T16:00:00.000Z"): { bytes: Buffer; signature: string } {
    const { bytes, signature } = signHead(this.key, { project: PROJECT, size, last: sha256(this.lines[size - 1]!), at });
    return { bytes, signature };
  }
}

/** A small picture that a reader can tell from the others: steel, water line, a tape with ticks. */
async function picture(seed: number, width: number, height: number): Promise<Buffer> {
  const ticks = Array.from({ length: 14 }, (_, i) => `<path d="M${40 + i * 40} ${height * 0.62}v${i % 2 ? 16 : 28}" stroke="#222" stroke-width="3"/>`).join("");
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 600 ${Math.round((600 * height) / width)}">
    <rect width="600" height="600" fill="hsl(${(seed * 47) % 360} 18% 62%)"/><rect x="${150 + ((seed * 31) % 120)}" width="180" height="600" fill="hsl(20 ${20 + ((seed * 13) % 30)}% 34%)"/>
    <rect y="${height * 0.6}" width="600" height="40" fill="#e8c94a"/>${ticks}</svg>`;
  return sharp(Buffer.from(svg)).resize(width, height, { fit: "cover" }).jpeg({ quality: 80 }).toBuffer();
}

export interface ExampleFiles {
  originals: StoredFile[];
  previews: StoredFile[];
  photo(mark: string | null, line: string, subject: string, facts?: Partial<PhotoRecord>): Promise<PhotoRecord>;
}

export function exampleFiles(dir: string): ExampleFiles {
  mkdirSync(dir, { recursive: true });
  const names = new FileNames();
  const originals: StoredFile[] = [];
  const previews: StoredFile[] = [];
  const store = (bytes: Buffer, bagPath: string): StoredFile => {
    const digest = sha256(bytes);
    const filePath = join(dir, digest);
    writeFileSync(filePath, bytes);
    return { sha256: digest, bytes: statSync(filePath).size, mediaType: "image/jpeg", bagPath, filePath };
  };
  return {
    originals,
    previews,
    async photo(mark, line, subject, facts = {}) {
      const seed = originals.length + 1;
      const parts = { mark, line, attempt: 1, subject, takenAt: Date.UTC(2026, 9, 13, 12, seed), mediaType: "image/jpeg" };
      const original = store(await picture(seed, 320, 240), names.next("photos", parts));
      const preview = store(await picture(seed, 160, 120), names.next("view", parts));
      originals.push(original);
      previews.push(preview);
      return {
        attempt: 1,
        subject,
        sha256: original.sha256,
        takenWords: `13 Oct 2026 09:${String(seed).padStart(2, "0")}:00 −03:00 ± 2 s`,
        receivedWords: "13 Oct 2026 15:10:12 −03:00",
        basis: "GPS_DELTA",
        order: "in order",
        place: "at site", file: "original", tag: "no tag read", mixWords: null, cameraWords: null,
        flags: [],
        previewPath: preview.filePath,
        bagPath: original.bagPath,
        ...facts,
      };
    },
  };
}

const decided = (by: string, at: string): PointRecord["decisions"][number] => ({
  attempt: 1,
  outcome: "release",
  by,
  organisation: "Brandlewick Inspection Office",
  at,
  seenAs: "in person",
  observedOn: null,
  reasons: [],
  words: null,
  attestation: "server-attested",
});

export function point(facts: Partial<PointRecord> & Pick<PointRecord, "line" | "name">): PointRecord {
  return {
    kind: "H",
    applicable: true,
    because: null,
    state: "not open",
    attempt: 0,
    quantities: [],
    submissions: [],
    decisions: [],
    photos: [],
    documents: [],
    clockWords: [],
    ...facts,
  };
}

export async function examplePile(files: ExampleFiles, mark = "05-C"): Promise<PileRecord> {
  const submitted = (attempt: number, at: string, words: string | null = null): PointRecord["submissions"][number] => ({
    attempt,
    by: "Mira Quandle",
    organisation: "Thornmarl Marine Works",
    at,
    workBeganAt: "2026-10-13T08:10:00-03:00",
    workEndedAt: "2026-10-13T09:40:00-03:00",
    words,
  });
  return {
    mark,
    typeWords: "HP 12×53",
    bent: "05",
    row: "C",
    state: "in work",
    stateWords: "4 of 7 points released, point 7 rejected",
    position: { latitude: 44.0001485, longitude: -63.499958 },
    facts: [
      { name: "Jacket", words: "24 in inside × 42 in, 2 layers, overlap 8 in" },
      { name: "Lots", words: "resin A-771/B-418, grout G-52" },
      { name: "Requirement set", words: "revision B, 5 Oct 2026" },
    ],
    points: [
      point({
        line: "4",
        name: "Surface preparation",
        state: "released",
        attempt: 1,
        quantities: [{ name: "grade", requirementWords: "Sa 2½ or equal", measuredWords: "Sa 2½", verdict: "meets", marginWords: null, instrument: null, mark: null }],
        submissions: [submitted(1, "2026-10-13T10:02:00-03:00")],
        decisions: [{ ...decided("Hanne Ulverdew", "2026-10-13T10:40:00-03:00"), outcome: "QC check", organisation: "Thornmarl Marine Works" }, decided("Ilse Tarrowby", "2026-10-13T11:20:00-03:00")],
        photos: [await files.photo(mark, "4", "Face 1"), await files.photo(mark, "4", "Face 2", { order: "cannot tell", basis: "SITE_ZONE_ASSUMED", place: "place cannot tell", file: "original", tag: "no tag read", mixWords: null, cameraWords: null, flags: [{ code: "GPS_FAR", words: "64 m from the site's position, limit 100 m, error 48 m", answer: null }, { code: "TIME_GPS_MISMATCH", words: "121 s apart, limit 120 s", answer: "explained: reference photo taken" }] })],
        clockWords: ["At most 24 h to cover-up: until 14 Oct 2026 09:40 −03:00."],
      }),
      point({
        line: "7",
        name: "Anchor bars and resin",
        state: "rejected",
        attempt: 2,
        quantities: [
          { name: "embedment, bar 3", requirementWords: "≥ 7.0 in", measuredWords: "7.1 in", verdict: "meets", marginWords: "0.1 in over", instrument: "tape T-4", mark: null },
          { name: "embedment, bar 4", requirementWords: "≥ 7.0 in", measuredWords: "6.4 in", verdict: "fails", marginWords: "0.6 in short", instrument: "tape T-4", mark: null },
          { name: "base temperature", requirementWords: "50…95 °F", measuredWords: "51 °F", verdict: "meets, inside uncertainty", marginWords: null, instrument: "HY-1", mark: "instrument overdue" },
        ],
        submissions: [submitted(1, "2026-10-13T15:10:00-03:00"), submitted(2, "2026-10-14T09:02:00-03:00", "bar 4 drilled on, set again")],
        decisions: [
          { ...decided("Ilse Tarrowby", "2026-10-13T16:00:00-03:00"), outcome: "reject", reasons: ["MEAS measured value fails"], words: "Bar 4 too short." },
          { ...decided("Ilse Tarrowby", "2026-10-14T10:00:00-03:00"), attempt: 2, outcome: "reject", reasons: ["MEAS measured value fails"], words: "Bar 4 is 6.4 in deep; 7.0 in are required." },
        ],
        photos: [await files.photo(mark, "7", "Bar 3 with tape"), await files.photo(mark, "7", "Bar 4 with tape", { order: "too late", previewPath: null })],
      }),
      point({ line: "8", kind: "R", name: "Shear clamps", applicable: false, because: "revision B, type C", state: "not applicable" }),
      point({ line: "10", kind: "W", name: "Spacers", state: "submitted", attempt: 1, quantities: [{ name: "ring 1", requirementWords: "to be recorded", measuredWords: "6", verdict: null, marginWords: null, instrument: null, mark: null }], submissions: [submitted(1, "2026-10-13T15:20:00-03:00")] }),
      point({ line: "11", name: "Cover-up release" }),
    ],
    acceptance: null,
    elevation: { topFt: 1.3, bottomFt: -2.2, jacketHeightIn: 42, insideDiameterIn: 24, core: "H", coreWidthIn: 12 },
  };
}

export function exampleTables(): Table[] {
  return [
    {
      name: "piles",
      description: "one row for each pile",
      columns: [
        { name: "mark", type: "string", description: "pile mark" },
        { name: "top_ft", type: "number", description: "top of the jacket, ft", nullable: true },
        { name: "state", type: "string", description: "state", enum: ["in work", "not started"] },
        { name: "note", type: "string", description: "words", nullable: true },
      ],
      rows: [["05-C", 1.3, "in work", "=1+1"], ["05-D", null, "not started", null]],
    },
  ];
}

/** A whole package of one pile, with two submissions, two decisions, an acceptance and three heads. */
export async function examplePackage(dir: string): Promise<PackageInput> {
  const files = exampleFiles(join(dir, "store"));
  const key = loadOrCreateKey(join(dir, "key"));
  const pile = await examplePile(files);
  const log = new ExampleLog(key);
  const heads: PackageInput["heads"] = [];
  log.add("revision", { revision: "B" });
  for (const shown of pile.points.filter(({ photos }) => photos.length > 0)) {
    const submission = log.add("submission", { line: shown.line, photos: shown.photos.map(({ subject, sha256: digest }) => ({ subject, sha256: digest })) });
    log.add("decision", { line: shown.line, submission, photos: shown.photos.map(({ sha256: digest }) => digest) });
    heads.push(log.head(log.lines.length, `2026-10-13T14:0${heads.length}:30.000Z`));
  }
  log.add("acceptance", { pile: "M-1" });
  heads.push(log.head());
  return {
    project: {
      code: PROJECT,
      name: "Wharf 2 Pile Encasement",
      place: "Port Ellumbrey",
      zone: "America/Halifax",
      organisations: [
        { name: "Ellumbrey Harbour Commission", part: "Owner" },
        { name: "Thornmarl Marine Works", part: "Contractor" },
        { name: "Brandlewick Inspection Office", part: "Inspection" },
        { name: "Hexley & Umbrin", part: "Engineer" },
      ],
      position: { latitude: 44, longitude: -63.5 },
    },
    issue: {
      number: 1,
      kind: "interim",
      issuedAt: "2026-12-03T12:00:00-04:00",
      issuedBy: { name: "Hanne Ulverdew", organisation: "Thornmarl Marine Works" },
      openItems: ["05-C, point 7 is rejected"],
      scope: "whole",
    },
    piles: [pile],
    projectPoints: [point({ line: "P1", name: "Submittals approved", state: "open" })],
    tables: exampleTables(),
    records: log.records,
    logLines: log.lines,
    heads,
    keys: [{ id: key.id, pem: key.publicPem }],
    originals: files.originals,
    previews: files.previews,
  };
}
