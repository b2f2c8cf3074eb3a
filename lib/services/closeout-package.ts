import { formatWhen, siteTime } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { fileVerdict } from "#lib/domain/photo/file-verdict";
import { PHOTO_FLAGS } from "#lib/domain/photo/flag";
import { REASON_CODES } from "#lib/domain/point/history";
import { itemName, jacketOf, upstream, type PlanLine, type PlanQuantity, overridesAt } from "#lib/domain/plan/plan";
import { requirementWords } from "#lib/domain/requirement/words";
import { openOrMakeRendition } from "#lib/photos/rendition";
import { RENDITION_PX, originalPath, renditionPath } from "#lib/photos/store";
import { FileNames } from "#lib/closeout/file-name";
import type {
  AcceptanceRecord, DecisionRecord, DocumentRecord, ElevationData, PackageInput, PackageIssue, PhotoRecord, PileRecord, PointRecord, QuantityRecord, StoredFile, SubmissionRecord,
} from "#lib/closeout/package-input";
import { readArchive } from "#lib/db/archive";
import type { Tx } from "#lib/db/client";
import { listDocuments, type DocumentOnFile, type Photo } from "#lib/db/evidence";
import { listAcceptances, listSchedules, type Acceptance } from "#lib/db/pile";
import type { Decision, Submission } from "#lib/db/point-record";
import { listPhotoRecords } from "#lib/db/photo-record";
import { listMembers, type MemberOnFile } from "#lib/db/project";
import { sha256 } from "#lib/records/canonical";
import type { Judged } from "#lib/records/kind";
import type { Asking } from "#lib/services/ask";
import { closeoutTables } from "#lib/services/closeout-table";
import { loadAllSheets, openItems } from "#lib/services/closeout-view";
import type { PhotoView } from "#lib/services/evidence";
import { photosOfSheet } from "#lib/services/point-photos";
import { clockOf, type Sheet, revisionOf } from "#lib/services/sheet";

/** A sheet with its photos judged and every file named, as the package and its tables show it. */
export interface PackedSheet {
  sheet: Sheet;
  photos: PackedPhoto[];
  documents: { document: DocumentOnFile; attempt: number; bagPath: string }[];
  acceptance: Acceptance | null;
}

export interface PackedPhoto {
  view: PhotoView;
  bagPath: string;
  preview: StoredFile | null;
  /** The submission that it was sent with; null for a photo that was received and never sent. */
  submission: Submission | null;
}

/** Gathers everything that a closeout package holds, from one snapshot of the records. */
export async function assemblePackage(
  tx: Tx,
  { house, project }: Pick<Asking, "house" | "project">,
  issue: Omit<PackageIssue, "openItems">,
  at: Instant,
): Promise<{ input: PackageInput; logSize: number }> {
  const [members, archive, acceptances, schedules, photoRecords] = await Promise.all([
    listMembers(tx, project.id), readArchive(tx, project.id), listAcceptances(tx, project.id), listSchedules(tx, project.id), listPhotoRecords(tx, project.id),
  ]);
  const { projectSheet, sheets } = await loadAllSheets(tx, project, at);
  const names = new FileNames();
  const packed: PackedSheet[] = [];
  for (const sheet of [projectSheet, ...sheets]) packed.push(await packSheet(tx, house.dataDir, names, sheet, acceptances));
  const [projectPacked, ...piles] = packed;
  const clockPhotos = photoRecords.clockPhotos.map((photo): StoredFile => ({
    sha256: photo.sha256, bytes: photo.bytes, mediaType: photo.mediaType, filePath: originalPath(house.dataDir, photo.sha256),
    bagPath: names.next("clock-photos", { mark: null, line: "camera", attempt: 1, subject: photo.camera, takenAt: Date.parse(photo.shown), mediaType: photo.mediaType }),
  }));
  const write = new RecordWriter(members, project.zone);
  const organisations = [...new Map(members.map(({ organisation, part }) => [organisation, part]))];
  return {
    logSize: archive.logLines.length,
    input: {
      project: {
        code: project.code,
        name: project.name,
        place: project.place,
        zone: project.zone,
        organisations: organisations.map(([name, part]) => ({ name, part: PART_WORDS[part] })),
        position: { latitude: project.site.latitude, longitude: project.site.longitude },
      },
      issue: { ...issue, openItems: openItems(projectSheet, sheets) },
      piles: piles.map((one) => write.pile(one)),
      projectPoints: projectPacked ? write.points(projectPacked) : [],
      tables: closeoutTables({ project, members, sheets: packed, instruments: projectSheet.instruments, lots: projectSheet.lots, schedules, photoRecords }),
      records: archive.records,
      logLines: archive.logLines,
      heads: archive.heads,
      keys: [{ id: house.key.id, pem: house.key.publicPem }],
      originals: [...packed.flatMap((one) => originalsOf(house.dataDir, one)), ...clockPhotos],
      previews: packed.flatMap(({ photos }) => photos.flatMap(({ preview }) => preview ?? [])),
    },
  };
}

const PART_WORDS = { owner: "Owner", contractor: "Contractor", inspection: "Inspection", engineer: "Engineer" } as const;

async function packSheet(tx: Tx, dataDir: string, names: FileNames, sheet: Sheet, acceptances: readonly Acceptance[]): Promise<PackedSheet> {
  const documents = await listDocuments(tx, sheet.id);
  const mark = sheet.pile?.mark ?? null;
  return {
    sheet,
    photos: await packPhotos(tx, dataDir, names, sheet),
    documents: documents.map((document) => {
      const attempt = [...sheet.history.submissions.values()].findLast((one) => one.documents.some(({ id }) => id === document.id))?.attempt ?? 1;
      return { document, attempt, bagPath: names.next("documents", { mark, line: document.line, attempt, subject: document.title, mediaType: "application/pdf" }) };
    }),
    acceptance: acceptances.findLast(({ pileId }) => pileId === sheet.id) ?? null,
  };
}

async function packPhotos(tx: Tx, dataDir: string, names: FileNames, sheet: Sheet): Promise<PackedPhoto[]> {
  const packed: PackedPhoto[] = [];
  for (const { view, line, submission } of await photosOfSheet(tx, sheet)) {
    const { photo } = view;
    const attempt = submission?.attempt ?? photo.attempt;
    const parts = { mark: sheet.pile?.mark ?? null, line: photo.line, attempt, subject: subjectName(line, photo.subject), takenAt: view.derived.instant };
    const bagPath = names.next("photos", { ...parts, mediaType: photo.mediaType });
    packed.push({ view, bagPath, preview: photo.preview === "made" ? await packPreview(dataDir, photo, names.next("view", { ...parts, mediaType: "image/jpeg" })) : null, submission });
  }
  return packed;
}

/** The reduced copy is made here and may be made anew, so its digest is taken from the file as it is. */
async function packPreview(dataDir: string, { sha256: original, claims }: Photo, bagPath: string): Promise<StoredFile | null> {
  const rendition = await openOrMakeRendition(dataDir, RENDITION_PX[1], original, claims.camera.orientation ?? 1);
  if (rendition === null) return null;
  const bytes = await rendition.readFile().finally(() => rendition.close());
  return { sha256: sha256(bytes), bytes: bytes.length, mediaType: "image/jpeg", bagPath, filePath: renditionPath(dataDir, RENDITION_PX[1], original) };
}

function subjectName(line: PlanLine, subject: string): string {
  return line.photos.find(({ id }) => id === subject)?.name ?? subject;
}

function originalsOf(dataDir: string, { photos, documents }: PackedSheet): StoredFile[] {
  return [
    ...photos.map(({ view: { photo }, bagPath }) => ({ sha256: photo.sha256, bytes: photo.bytes, mediaType: photo.mediaType, bagPath, filePath: originalPath(dataDir, photo.sha256) })),
    ...documents.map(({ document, bagPath }) => ({
      sha256: document.sha256, bytes: document.bytes, mediaType: "application/pdf", bagPath, filePath: originalPath(dataDir, document.sha256),
    })),
  ];
}

/** Writes records as the words and plain data of a package. */
class RecordWriter {
  constructor(
    private readonly members: readonly MemberOnFile[],
    private readonly zone: string,
  ) {}

  pile(packed: PackedSheet): PileRecord {
    const { sheet, acceptance } = packed;
    const { pile, set } = sheet;
    if (!pile || !set) throw new Error("The project sheet is no pile.");
    const jacket = jacketOf(set, overridesAt(pile.overrides, null));
    return {
      mark: pile.mark,
      typeWords: set.name,
      bent: pile.bent,
      row: pile.row,
      state: pile.state,
      stateWords: null,
      position: pile.latitude === null || pile.longitude === null ? null : { latitude: pile.latitude, longitude: pile.longitude },
      facts: [
        { name: "Jacket", words: `${jacket.insideDiameterIn} in inside × ${jacket.heightIn} in, ${jacket.layers} layers` },
        { name: "Requirement set", words: `revision ${sheet.revision.letter}, ${siteTime(sheet.revision.appliesFrom, this.zone).date}${otherRevisions(sheet)}` },
        { name: "Lots", words: lotWords(sheet) || "none recorded" },
        ...overridesAt(pile.overrides, null).map(({ drawing, words }) => ({ name: `Drawing ${drawing}`, words })),
      ],
      points: this.points(packed),
      acceptance: acceptance && this.acceptance(acceptance),
      elevation: elevationOf(sheet),
    };
  }

  points({ sheet, photos, documents }: PackedSheet): PointRecord[] {
    return sheet.lines.map((line): PointRecord => {
      const status = sheet.folded.get(line.line);
      const submissions = [...sheet.history.submissions.values()].filter((one) => one.line === line.line);
      const standing = status?.standing.trail?.submission.submissionId;
      const shown = submissions.find(({ id }) => id === standing) ?? submissions.at(-1);
      return {
        line: line.line,
        kind: line.kind,
        name: line.name,
        applicable: line.notApplicable === null,
        because: line.notApplicable && `${line.notApplicable} (revision ${revisionOf(sheet, line.line).letter})`,
        state: status?.state ?? "not open",
        attempt: shown?.attempt ?? 0,
        quantities: shown ? quantitiesOf(line, shown) : [],
        submissions: submissions.map((one) => this.submission(one)),
        decisions: this.decisions(sheet, line.line),
        photos: photos.filter(({ view }) => view.photo.line === line.line).map((one) => this.photo(line, one)),
        documents: documents.filter(({ document }) => document.line === line.line).map(({ document, attempt, bagPath }): DocumentRecord => ({ attempt, title: document.title, sha256: document.sha256, bagPath })),
        clockWords: clockWords(sheet, line, this.zone),
      };
    });
  }

  private name(personId: string | null): { by: string; organisation: string } {
    const member = this.members.find((one) => one.personId === personId);
    return { by: member?.name ?? "the system", organisation: member?.organisation ?? "" };
  }

  private submission(one: Submission): SubmissionRecord {
    const { attempt, by, receivedAt, workBegan, workEnded, words, reasons } = one;
    const said = [words, ...reasons.map((reason) => `${reason.quantity}${reason.item === null ? "" : ` ${reason.item}`}: ${reason.words}`)].filter(Boolean).join("; ");
    return { attempt, ...this.name(by), at: this.iso(receivedAt), workBeganAt: this.iso(workBegan), workEndedAt: this.iso(workEnded), words: said || null };
  }

  private decisions(sheet: Sheet, line: string): DecisionRecord[] {
    const checks = sheet.history.checks.filter((one) => one.line === line).map(({ seq, submissionId, by, at, outcome, codes, words }) => ({
      seq,
      record: {
        attempt: sheet.history.submissions.get(submissionId)?.attempt ?? 1,
        outcome: outcome === "checked" ? ("QC check" as const) : ("reject" as const),
        ...this.name(by),
        at: siteTime(at, this.zone).iso,
        seenAs: "in person",
        observedOn: null,
        reasons: codes.map((code) => `${code} ${REASON_CODES[code]}`),
        words: (outcome === "sent back" ? `Sent back by the QC manager. ${words}` : words) || null,
        attestation: "recorded in the log",
      },
    }));
    const decisions = sheet.history.decisions.filter((one) => one.line === line).map((one) => ({ seq: one.seq, record: this.decision(one) }));
    return [...checks, ...decisions].sort((a, b) => a.seq - b.seq).map(({ record }) => record);
  }

  private decision({ attempt, outcome, by, decidedAt, seenAs, observedOn, codes, words, attestation }: Decision): DecisionRecord {
    const day = siteTime(Date.parse(decidedAt), this.zone).date;
    return {
      attempt, outcome, ...this.name(by), at: this.iso(decidedAt), seenAs, observedOn: observedOn === day ? null : observedOn,
      reasons: codes.map((code) => `${code} ${REASON_CODES[code]}`), words: words || null, attestation,
    };
  }

  private photo(line: PlanLine, { view, bagPath, preview, submission }: PackedPhoto): PhotoRecord {
    const { photo, derived, order, place, flags, tag, streaks } = view;
    return {
      attempt: submission?.attempt ?? photo.attempt,
      subject: subjectName(line, photo.subject),
      sha256: photo.sha256,
      takenWords: derived.instant === null ? order.words : `${formatWhen(derived.instant, this.zone, { seconds: true })} ± ${derived.uncertaintySeconds ?? "?"} s`,
      receivedWords: formatWhen(photo.receivedAt, this.zone, { seconds: true }),
      basis: derived.basis,
      order: order.verdict,
      place: place.verdict,
      file: fileVerdict(flags).verdict,
      tag: tag.verdict,
      mixWords: streaks && `mix ${streaks.verdict}`,
      cameraWords: derived.correctedBySeconds ? `camera said ${derived.cameraSays}, corrected by ${derived.correctedBySeconds} s` : null,
      flags: flags.map(({ code, measured, limit }) => ({ code, words: `${PHOTO_FLAGS[code].title}: ${measured}${limit ? ` (${limit})` : ""}`, answer: null })),
      previewPath: preview?.filePath ?? null,
      bagPath,
    };
  }

  private acceptance({ by, acceptedAt, words }: Acceptance): AcceptanceRecord {
    return { outcome: "accepted", ...this.name(by), at: this.iso(acceptedAt), words: words || null, warrantyWords: null };
  }

  private iso(utc: string): string {
    return siteTime(Date.parse(utc), this.zone).iso;
  }
}

function quantitiesOf(line: PlanLine, { judged }: Submission): QuantityRecord[] {
  return line.quantities.flatMap((quantity): QuantityRecord[] => {
    const own = judged.filter((one) => one.quantity === quantity.id);
    const sound = own.filter(({ verdict, mark }) => mark === "" && (verdict === "meets" || verdict === null));
    // Twenty bolts that meet are one row, from the least to the most; what does not meet stands in a row of its own.
    const rest = own.filter((one) => !sound.includes(one) || sound.length === 1);
    return [...(sound.length > 1 ? [togetherRow(quantity, sound)] : []), ...rest.map((one) => singleRow(quantity, one))];
  });
}

function singleRow(quantity: PlanQuantity, { item, requirement, measured, verdict, margin, instrument, mark }: Judged): QuantityRecord {
  return {
    name: itemName(quantity, item),
    requirementWords: ownRequirement(quantity, requirement),
    measuredWords: measured,
    verdict,
    marginWords: verdict === "meets" ? null : margin || null,
    instrument: instrument || null,
    mark: mark || null,
  };
}

function togetherRow(quantity: PlanQuantity, judged: readonly Judged[]): QuantityRecord {
  const byAmount = judged.map(({ measured }) => measured).sort((a, b) => parseFloat(a.replace("−", "-")) - parseFloat(b.replace("−", "-")));
  const [least = "", most = ""] = [byAmount[0], byAmount.at(-1)];
  const [first] = judged;
  return {
    name: `${quantity.name}, ${judged.length} × ${quantity.rule.form === "each" ? quantity.rule.of : "value"}`,
    requirementWords: ownRequirement(quantity, first?.requirement ?? ""),
    measuredWords: least === most ? least : `${least.split(" ")[0]} … ${most}`,
    verdict: first?.verdict ?? null,
    marginWords: null,
    instrument: [...new Set(judged.map(({ instrument }) => instrument).filter(Boolean))].join(", ") || null,
    mark: null,
  };
}

/** A requirement that holds on this pile only stands with its drawing and what the type asks for. */
function ownRequirement({ override }: PlanQuantity, requirement: string): string {
  return override ? `${requirement} (this pile only: ${override.drawing}; type: ${requirementWords(override.was)})` : requirement;
}

/** The points that stand under another revision than the pile began with: "; points 12, 15 under revision C". */
function otherRevisions(sheet: Sheet): string {
  const letters = [...new Set(sheet.lines.map(({ line }) => revisionOf(sheet, line).letter))].filter((letter) => letter !== sheet.revision.letter);
  return letters.map((letter) => `; points ${sheet.lines.filter(({ line, notApplicable }) => !notApplicable && revisionOf(sheet, line).letter === letter).map(({ line }) => line).join(", ")} under revision ${letter}`).join("");
}

function lotWords(sheet: Sheet): string {
  const used = new Set([...sheet.history.submissions.values()].flatMap(({ lots }) => lots.map(({ lotId }) => lotId)));
  return sheet.lots.filter(({ id }) => used.has(id)).map(({ kind, number }) => `${kind} ${number}`).join(", ");
}

function clockWords(sheet: Sheet, line: PlanLine, zone: string): string[] {
  const clock = clockOf(sheet, line);
  const unit = clock?.form === "cure" ? "h at reference" : "°C·h";
  const running = clock
    ? [`${clock.progress.toFixed(2)} of ${clock.required} ${unit}, ${clock.state}${clock.doneAt === null ? "" : `, reached ${formatWhen(clock.doneAt, zone)}`}.`]
    : [];
  const waits = line.waits.map(({ kind, hours, name, from }) => `${name}: ${kind} ${hours} h from the end of point ${from}.`);
  return [...running, ...waits];
}

/** What the pile's drawing needs: levels as measured at the identity point, sizes as the requirement set has them. */
function elevationOf(sheet: Sheet): ElevationData | null {
  const { set } = sheet;
  if (!set) return null;
  const jacket = jacketOf(set, overridesAt(sheet.pile?.overrides ?? [], null));
  const level = (id: string): number | null => {
    const identity = sheet.lines.find((line) => line.gate !== "is the gate" && line.quantities.some((quantity) => quantity.id === id) && upstream(sheet.lines, line).length > 0);
    const submission = [...sheet.history.submissions.values()].findLast((one) => one.line === identity?.line);
    const entry = submission?.entries.find((one) => one.quantity === id);
    return entry?.kind === "measured" ? Number(entry.measured.si) / 0.3048 : null;
  };
  const [topFt, bottomFt] = [level("top"), level("bottom")];
  if (topFt === null || bottomFt === null) return null;
  return {
    topFt,
    bottomFt,
    jacketHeightIn: Number(jacket.heightIn),
    insideDiameterIn: Number(jacket.insideDiameterIn),
    core: set.core,
    coreWidthIn: Number(set.coreWidthIn),
  };
}
