// Prints what is read from photos, one JSON object a line. Nothing is stored and no database is needed.
import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { access, constants, mkdtemp, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { parseArgs } from "node:util";

import { Temporal } from "temporal-polyfill";

import type { Instant } from "#lib/domain/instant";
import { deriveInstant } from "#lib/domain/photo/derived-instant";
import { fileVerdict } from "#lib/domain/photo/file-verdict";
import { mergeFlags } from "#lib/domain/photo/flag";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import type { FlagContext } from "#lib/domain/photo/photo-flags";
import { photoFlags } from "#lib/domain/photo/photo-flags";
import { ASSUMED_ERROR_M, placeVerdict } from "#lib/domain/photo/place";
import type { Site } from "#lib/domain/photo/place";
import { bestPosition } from "#lib/domain/photo/position";
import { receiveImage } from "#lib/photos/intake";
import { sniff } from "#lib/photos/sniff";

const HELP = `Usage: npm run --silent photo-facts -- FILE… [options]

Prints one JSON object a line for each file: what it claims, when and where it was taken, and the flags. The instant is
null where it cannot be known, and a list where several are possible.

  --site-zone ZONE      IANA zone of the site, for a camera that gives no zone (default UTC)
  --site LAT,LON,R      middle of the site in degrees and its radius in metres
  --received ISO        when the photo was received (default now)
  --project-start ISO   when work on the project began
  --shift HH:MM-HH:MM   shift hours in the site's zone; they may run past midnight
  --json                one JSON object a line, which is the only form there is
  --help                this text

Ends with 0 when every file was accepted, 1 when one was refused or could not be read, 2 on a wrong option.
`;

interface Settings {
  readonly files: readonly string[];
  readonly siteZone: string;
  readonly site: Site | null;
  readonly receivedAt: Instant;
  readonly projectStart: Instant | null;
  readonly shift: FlagContext["shift"];
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

/** What there is to say about a file that tells nothing. */
const NO_FACTS = { claims: null, instant: null, basis: null, uncertaintySeconds: null, position: null, place: null, fileVerdict: null, flags: [] };

async function factsOf(file: string, settings: Settings, dataDir: string) {
  const found = path.resolve(STANDING_IN, file);
  const unreadable = await access(found, constants.R_OK)
    .then(() => stat(found))
    .then(
      (entry) => (entry.isFile() ? null : "not a file"),
      (error: Error) => error.message,
    );
  if (unreadable !== null) return { file, sha256: null, bytes: null, type: null, accepted: false, refusal: null, ...NO_FACTS, error: unreadable };

  const kept = await receiveImage({ stream: createReadStream(found), fileName: path.basename(file), dataDir, renditions: false });
  if (!kept.ok) return { file, ...(await refusedFile(found)), accepted: false, refusal: kept.refusal, ...NO_FACTS };

  const { siteZone, site, receivedAt, projectStart, shift } = settings;
  const derived = deriveInstant(kept.claims, { siteZone, receivedAt });
  const position = bestPosition(kept.claims);
  const place = site === null ? null : placeVerdict(position, site);
  const context = { receivedAt, projectStart, shift, siteRadiusM: site?.radiusM ?? null, limits: PHOTO_LIMIT_DEFAULTS };
  const flags = mergeFlags([...kept.flags, ...photoFlags(kept.claims, derived, place, context)]);
  return {
    file,
    sha256: kept.sha256,
    bytes: kept.bytes,
    type: kept.mediaType,
    accepted: true,
    refusal: null,
    preview: kept.preview,
    claims: kept.claims,
    instant: instantFact(derived.hypotheses),
    basis: derived.basis,
    uncertaintySeconds: derived.uncertaintySeconds,
    cameraOffsetSeconds: derived.cameraOffsetSeconds,
    cameraDriftSeconds: derived.cameraDriftSeconds,
    position,
    place,
    fileVerdict: fileVerdict(flags),
    flags,
  };
}

/** One instant, none, or all that are possible. */
function instantFact(hypotheses: readonly Instant[]): string | null | readonly string[] {
  const [first, ...more] = hypotheses.map(isoText);
  if (first === undefined) return null;
  return more.length === 0 ? first : [first, ...more];
}

/** A refused file is not kept: what can be said of it is read where it lies. */
async function refusedFile(found: string) {
  const hash = createHash("sha256");
  let bytes = 0;
  for await (const chunk of createReadStream(found) as AsyncIterable<Uint8Array>) {
    hash.update(chunk);
    bytes += chunk.byteLength;
  }
  const sniffed = await sniff(found);
  return { sha256: hash.digest("hex"), bytes, type: sniffed.kind === "type" ? sniffed.mediaType : null };
}

function readSettings(): Settings | null {
  const { values, positionals } = parseArgs({
    args: withSignedValues(process.argv.slice(2)),
    allowPositionals: true,
    options: {
      "site-zone": { type: "string", default: "UTC" },
      site: { type: "string" },
      received: { type: "string" },
      "project-start": { type: "string" },
      shift: { type: "string" },
      json: { type: "boolean", default: true },
      help: { type: "boolean", default: false },
    },
  });
  if (values.help) return null;
  if (positionals.length === 0) throw new UsageError("Name at least one file.");

  const siteZone = zoneOf(values["site-zone"]);
  return {
    files: positionals,
    siteZone,
    site: values.site === undefined ? null : siteOf(values.site),
    receivedAt: values.received === undefined ? Date.now() : instantOf(values.received),
    projectStart: values["project-start"] === undefined ? null : instantOf(values["project-start"]),
    shift: values.shift === undefined ? null : { siteZone, ...shiftOf(values.shift) },
  };
}

/** A site south of the equator begins with a sign, which must not be taken for an option. */
function withSignedValues(args: readonly string[]): string[] {
  const joined: string[] = [];
  for (const arg of args) {
    if (joined.at(-1) === "--site" && /^-\d/.test(arg)) joined.push(`${joined.pop()}=${arg}`);
    else joined.push(arg);
  }
  return joined;
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

function shiftOf(text: string): { readonly beginsMinute: number; readonly endsMinute: number } {
  const match = /^([01]\d|2[0-3]):([0-5]\d)-([01]\d|2[0-3]):([0-5]\d)$/.exec(text);
  if (match === null || text.slice(0, 5) === text.slice(6)) throw new UsageError(`--shift ${text}: give the hours of the shift, such as 07:00-17:30.`);
  const [fromHour = 0, fromMinute = 0, toHour = 0, toMinute = 0] = match.slice(1).map(Number);
  return { beginsMinute: fromHour * 60 + fromMinute, endsMinute: toHour * 60 + toMinute };
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
