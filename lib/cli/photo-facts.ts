// Prints what is read from photos, one JSON object a line. Nothing is stored and no database is needed.
import { createReadStream } from "node:fs";
import { mkdtemp, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { parseArgs } from "node:util";

import { Temporal } from "temporal-polyfill";

import type { Instant } from "#lib/domain/instant";
import { deriveInstant } from "#lib/domain/photo/derived-instant";
import { mergeFlags } from "#lib/domain/photo/flag";
import { photoFlags } from "#lib/domain/photo/photo-flags";
import { ASSUMED_ERROR_M, placeVerdict } from "#lib/domain/photo/place";
import type { Site } from "#lib/domain/photo/place";
import { bestPosition } from "#lib/domain/photo/position";
import { receiveImage } from "#lib/photos/intake";

const HELP = `Usage: npm run --silent photo-facts -- FILE… [options]

Prints one JSON object a line for each file: what it claims, when and where it was taken, and the flags.

  --site-zone ZONE      IANA zone of the site, for a camera that gives no zone (default UTC)
  --site LAT,LON,R      middle of the site in degrees and its radius in metres
  --received ISO        when the photo was received (default now)
  --project-start ISO   when work on the project began
  --help                this text

Ends with 0 when every file was accepted, 1 when one was refused or could not be read, 2 on a wrong option.
`;

interface Settings {
  readonly files: readonly string[];
  readonly siteZone: string;
  readonly site: Site | null;
  readonly receivedAt: Instant;
  readonly projectStart: Instant | null;
}

class UsageError extends Error {}

async function main(): Promise<number> {
  const settings = readSettings();
  if (settings === null) {
    process.stdout.write(HELP);
    return 0;
  }

  const dataDir = await mkdtemp(path.join(tmpdir(), "photo-facts-"));
  let accepted = true;
  try {
    for (const file of settings.files) {
      const facts = await factsOf(file, settings, dataDir);
      accepted &&= facts.accepted;
      process.stdout.write(`${JSON.stringify(facts)}\n`);
    }
  } finally {
    await rm(dataDir, { recursive: true, force: true });
  }
  return accepted ? 0 : 1;
}

/** npm moves to the project's folder first; a name is meant from where the person stands. */
const STANDING_IN = process.env["INIT_CWD"] ?? process.cwd();

async function factsOf(file: string, { siteZone, site, receivedAt, projectStart }: Settings, dataDir: string) {
  const found = path.resolve(STANDING_IN, file);
  const unreadable = await stat(found).then(
    (entry) => (entry.isFile() ? null : "not a file"),
    (error: Error) => error.message,
  );
  if (unreadable !== null) return { file, accepted: false, refusal: null, error: unreadable };

  const kept = await receiveImage({ stream: createReadStream(found), fileName: path.basename(file), dataDir, renditions: false });
  if (!kept.ok) return { file, accepted: false, refusal: kept.refusal };

  const derived = deriveInstant(kept.claims, { siteZone, receivedAt });
  const position = bestPosition(kept.claims);
  const place = site === null ? null : placeVerdict(position, site);
  const flags = photoFlags(kept.claims, derived, place, { receivedAt, projectStart, shift: null, siteRadiusM: site?.radiusM ?? null });
  return {
    file,
    sha256: kept.sha256,
    bytes: kept.bytes,
    type: kept.mediaType,
    accepted: true,
    refusal: null,
    preview: kept.preview,
    claims: kept.claims,
    instant: derived.instant === null ? null : isoText(derived.instant),
    ...(derived.hypotheses.length > 1 && { possibleInstants: derived.hypotheses.map(isoText) }),
    basis: derived.basis,
    uncertaintySeconds: derived.uncertaintySeconds,
    cameraOffsetSeconds: derived.cameraOffsetSeconds,
    cameraDriftSeconds: derived.cameraDriftSeconds,
    position,
    place,
    flags: mergeFlags([...kept.flags, ...flags]),
  };
}

function readSettings(): Settings | null {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      "site-zone": { type: "string", default: "UTC" },
      site: { type: "string" },
      received: { type: "string" },
      "project-start": { type: "string" },
      help: { type: "boolean", default: false },
    },
  });
  if (values.help) return null;
  if (positionals.length === 0) throw new UsageError("Name at least one file.");

  return {
    files: positionals,
    siteZone: zoneOf(values["site-zone"]),
    site: values.site === undefined ? null : siteOf(values.site),
    receivedAt: values.received === undefined ? Date.now() : instantOf(values.received),
    projectStart: values["project-start"] === undefined ? null : instantOf(values["project-start"]),
  };
}

function zoneOf(text: string): string {
  try {
    return Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(text).timeZoneId;
  } catch {
    throw new UsageError(`--site-zone ${text}: no such zone. Give an IANA name such as America/Halifax.`);
  }
}

function siteOf(text: string): Site {
  const parts = text.split(",").map((part) => (/^-?\d+(\.\d+)?$/.test(part.trim()) ? Number(part) : Number.NaN));
  const [latitude = Number.NaN, longitude = Number.NaN, radiusM = Number.NaN] = parts;
  if (parts.length !== 3 || !(Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180 && radiusM > 0)) {
    throw new UsageError(`--site ${text}: give latitude, longitude and radius in metres, such as 44.0,-63.5,100.`);
  }
  return { latitude, longitude, radiusM, assumedErrorM: ASSUMED_ERROR_M.underDeck };
}

function instantOf(text: string): Instant {
  try {
    return Temporal.Instant.from(text).epochMilliseconds;
  } catch {
    throw new UsageError(`${text}: give a date and time with its offset, such as 2026-12-03T12:00:00-04:00.`);
  }
}

function isoText(instant: Instant): string {
  return new Date(instant).toISOString();
}

try {
  process.exitCode = await main();
} catch (error) {
  const usage = error instanceof UsageError || (error instanceof TypeError && "code" in error && String(error.code).startsWith("ERR_PARSE_ARGS"));
  process.stderr.write(usage ? `${(error as Error).message}\n\n${HELP}` : `${String(error)}\n`);
  process.exitCode = usage ? 2 : 1;
}
