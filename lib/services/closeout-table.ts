import { siteTime } from "#lib/domain/clock/site-time";
import { fileVerdict } from "#lib/domain/photo/file-verdict";
import { overridesAt } from "#lib/domain/plan/plan";
import type { CellValue, Table } from "#lib/closeout/package-input";
import { number, table, text, time, whole } from "#lib/services/table-column";
import type { listSchedules } from "#lib/db/pile";
import type { Submission } from "#lib/db/point-record";
import type { PhotoRecords } from "#lib/db/photo-record";
import type { MemberOnFile, Project } from "#lib/db/project";
import type { Instrument, Lot } from "#lib/db/register";
import type { PackedSheet } from "#lib/services/closeout-package";
import { photoRecordTables } from "#lib/services/photo-table";
import { revisionOf } from "#lib/services/sheet";

interface TableFacts {
  project: Project;
  members: readonly MemberOnFile[];
  /** The project sheet first, then every pile. */
  sheets: readonly PackedSheet[];
  instruments: readonly Instrument[];
  lots: readonly Lot[];
  schedules: Awaited<ReturnType<typeof listSchedules>>;
  photoRecords: PhotoRecords;
}

const PILE = text("pile", "Mark of the pile; \"project\" for the project sheet");
const POINT = text("point", "Number of the plan line");
const ATTEMPT = whole("attempt", "Number of the attempt, from 1");

/** The tables of a package: the same facts as the records, for a spreadsheet. Times are in the site's offset, ISO 8601. */
export function closeoutTables(facts: TableFacts): Table[] {
  return [pilesTable(facts), pointsTable(facts), attemptsTable(facts), measurementsTable(facts), photosTable(facts), documentsTable(facts), decisionsTable(facts), temperaturesTable(facts), lotsTable(facts), instrumentsTable(facts), calibrationsTable(facts), peopleTable(facts), completenessTable(facts), schedulesTable(facts), ...photoRecordTables(facts.photoRecords, writer(facts))];
}

const markOf = ({ sheet }: PackedSheet): string => sheet.pile?.mark ?? "project";

function writer({ members, project }: TableFacts) {
  return {
    name: (id: string | null): string => members.find(({ personId }) => personId === id)?.name ?? "the system",
    iso: (utc: string | number): string => siteTime(typeof utc === "number" ? utc : Date.parse(utc), project.zone).iso,
  };
}

function pilesTable(facts: TableFacts): Table {
  const { iso, name } = writer(facts);
  return table("piles", "Every pile and what it is", [
    text("mark", "Mark of the pile"), text("bent", "Bent"), text("row", "Row"), text("type", "Pile type"), text("state", "State of the pile"), text("scope", "in, or out by a change order"),
    number("latitude", "Degrees, WGS 84", true), number("longitude", "Degrees, WGS 84", true), text("revision", "Requirement revision"),
    time("acceptedAt", "When the owner accepted it", true), text("acceptedBy", "Who accepted it", true),
  ], facts.sheets.flatMap(({ sheet, acceptance }) => {
    const { pile, set, revision } = sheet;
    if (!pile || !set) return [];
    return [[pile.mark, pile.bent, pile.row, set.name, pile.state, pile.scope, pile.latitude, pile.longitude, revision.letter, acceptance && iso(acceptance.acceptedAt), acceptance && name(acceptance.by)]];
  }));
}

function pointsTable({ sheets }: TableFacts): Table {
  return table("points", "Every point of every sheet", [
    PILE, POINT, text("name", "Name of the point"), text("kind", "H hold, W witness, R record"), text("state", "State of the point"), ATTEMPT,
    text("notApplicable", "Stated reason where it does not apply", true), text("after", "Points it stands on"), text("releasedBy", "Who may release it"),
    text("revision", "Requirement revision that it stands under"),
  ], sheets.flatMap((packed) => packed.sheet.lines.map((line) => {
    const status = packed.sheet.folded.get(line.line);
    return [markOf(packed), line.line, line.name, line.kind, status?.state ?? "not open", status?.attempt ?? 1, line.notApplicable, line.after.join(" "), line.release.roles.join(line.release.all ? " and " : " or "), revisionOf(packed.sheet, line.line).letter];
  })));
}

function attemptsTable(facts: TableFacts): Table {
  const { iso, name } = writer(facts);
  return table("attempts", "Every submission", [
    PILE, POINT, ATTEMPT, text("submission", "Digest of the submission's record"), text("by", "Who sent it"), time("receivedAt", "When the server received it"),
    time("workBegan", "When work began"), time("workEnded", "When work ended"), text("revision", "Requirement revision"), whole("photos", "Photos sent"), text("words", "What was said with it"),
  ], facts.sheets.flatMap((packed) => [...packed.sheet.history.submissions.values()].map((one) => [
    markOf(packed), one.line, one.attempt, one.digest, name(one.by), iso(one.receivedAt), iso(one.workBegan), iso(one.workEnded), one.revision.letter, one.photos.length, one.words,
  ])));
}

function measurementsTable({ sheets }: TableFacts): Table {
  return table("measurements", "Every value against its requirement, as judged when it was sent", [
    PILE, POINT, ATTEMPT, text("quantity", "What was measured"), whole("item", "Number of the bar, bolt, ring or lift", true), text("requirement", "Requirement in words"),
    text("measured", "Value as entered, with its unit"), text("typed", "Text as typed", true), text("unit", "Unit as entered", true), text("si", "Value in SI, decimal", true),
    text("verdict", "meets / meets, inside uncertainty / fails / cannot tell / not measured / recorded"), text("margin", "Margin in words"), text("instrument", "Mark of the instrument"), text("mark", "Second mark, such as instrument overdue"),
    text("thisPileOnly", "Drawing that changes the requirement on this pile, with its words", true),
  ], sheets.flatMap((packed) => [...packed.sheet.history.submissions.values()].flatMap((one) => {
    const line = packed.sheet.lines.find((known) => known.line === one.line);
    return one.judged.map((value) => {
      const entry = one.entries.find(({ quantity, item }) => quantity === value.quantity && item === value.item);
      const measured = entry?.kind === "measured" ? entry.measured : null;
      return [
        markOf(packed), one.line, one.attempt, line?.quantities.find(({ id }) => id === value.quantity)?.name ?? value.quantity, value.item, value.requirement, value.measured,
        measured?.text ?? null, measured?.unit ?? null, measured?.si ?? null, value.verdict ?? "recorded", value.margin, value.instrument, value.mark, ownDrawing(packed, one, value.quantity),
      ];
    });
  })));
}

/** The drawing that changed a requirement on one pile when something was sent; null where the type's own held. */
function ownDrawing({ sheet: { pile } }: PackedSheet, { line, seq }: Submission, quantity: string): string | null {
  const own = overridesAt(pile?.overrides ?? [], seq).find((one) => one.line === line && one.change.kind === "quantity" && one.change.quantity === quantity);
  return own ? `${own.drawing}: ${own.words}` : null;
}

function photosTable(facts: TableFacts): Table {
  const { iso, name } = writer(facts);
  return table("photos", "Every photo received, with what it claims and how it stands in the sequence", [
    PILE, POINT, ATTEMPT, text("subject", "What it shows"), text("sha256", "SHA-256 of the file as received"), text("path", "Path below data/"), whole("bytes", "Size of the file"),
    text("cameraTime", "Time as the camera wrote it", true), text("cameraOffset", "Offset as the camera wrote it", true), time("takenAt", "Derived instant, empty where it cannot be known", true), text("basis", "What the instant rests on"),
    number("uncertaintySeconds", "± seconds", true), time("windowFrom", "When it may have been taken at the earliest", true), time("windowTo", "When at the latest"), text("order", "Order verdict"),
    number("distanceM", "Metres from the middle of the site", true), text("place", "Place verdict"), text("file", "File verdict"), text("tag", "Tag verdict"), text("tagOf", "Pile whose tag was read", true), text("mix", "Streak verdict of the mix", true),
    number("correctedBySeconds", "Seconds added to what the camera's clock showed, for the site's clock", true), text("possibleInstants", "Every reading that is possible, in UTC, where more than one is", true),
    text("flags", "Flags raised"), text("flagFacts", "Each flag with what was measured and its limit"), time("receivedAt", "When the server received it"), text("by", "Who sent it"), text("sent", "yes where a submission names it"),
  ], facts.sheets.flatMap((packed) => packed.photos.map(({ view, bagPath, submission }) => {
    const { photo, derived, window, order, place, flags, tag, streaks } = view;
    return [
      markOf(packed), photo.line, submission?.attempt ?? photo.attempt, photo.subject, photo.sha256, bagPath, photo.bytes,
      derived.cameraSays, photo.claims.camera.offsetTimeOriginal ?? null, derived.instant === null ? null : iso(derived.instant), derived.basis,
      derived.uncertaintySeconds, window.from === null ? null : iso(window.from), iso(window.to), order.verdict,
      place.distanceM === null ? null : Math.round(place.distanceM * 1000) / 1000, place.verdict, fileVerdict(flags).verdict, tag.verdict, tag.mark, streaks?.verdict ?? null,
      derived.correctedBySeconds, derived.hypotheses.length > 1 ? derived.hypotheses.map((at) => new Date(at).toISOString()).join(" ") : null,
      flags.map(({ code }) => code).join(" "), flags.map(({ code, measured, limit }) => `${code}: ${measured} (${limit})`).join("; "), iso(photo.receivedAt), name(photo.by), submission ? "yes" : "no",
    ];
  })));
}

function documentsTable(facts: TableFacts): Table {
  const { iso, name } = writer(facts);
  return table("documents", "Every document received", [PILE, POINT, text("title", "Title"), text("sha256", "SHA-256 of the file as received"), text("path", "Path below data/"), whole("bytes", "Size of the file"), time("receivedAt", "When the server received it"), text("by", "Who sent it")],
    facts.sheets.flatMap((packed) => packed.documents.map(({ document, bagPath }) => [markOf(packed), document.line, document.title, document.sha256, bagPath, document.bytes, iso(document.receivedAt), name(document.byId)])));
}

function decisionsTable(facts: TableFacts): Table {
  const { iso, name } = writer(facts);
  return table("decisions", "Every QC check, release, rejection, reopening and withdrawal", [
    PILE, POINT, ATTEMPT, text("outcome", "What was decided"), text("by", "Who decided"), text("organisation", "Their organisation"), time("at", "When it was recorded"), text("seenAs", "How it was seen", true), text("observedOn", "Day of the observation", true),
    text("reasons", "Reason codes"), text("words", "Reason in words"), text("answers", "Answers to flags: code = answer"), text("attestation", "How it is signed", true), text("record", "Digest of its record"),
  ], facts.sheets.flatMap((packed) => {
    const { checks, decisions, withdrawals, submissions } = packed.sheet.history;
    const attempt = (id: string): number => submissions.get(id)?.attempt ?? 1;
    const rows: { seq: number; row: CellValue[] }[] = [
      ...checks.map((one) => ({ seq: one.seq, row: [markOf(packed), one.line, attempt(one.submissionId), `QC ${one.outcome}`, name(one.by), "", iso(one.at), null, null, one.codes.join(" "), one.words, "", null, one.digest] })),
      ...decisions.map((one) => ({ seq: one.seq, row: [markOf(packed), one.line, one.attempt, one.outcome, name(one.by), one.organisation, iso(one.decidedAt), one.seenAs, one.observedOn, one.codes.join(" "), one.words, one.answers.map(({ code, answer }) => `${code} = ${answer}`).join("; "), one.attestation, one.digest] })),
      ...withdrawals.map((one) => ({ seq: one.seq, row: [markOf(packed), one.line, attempt(one.submissionId), "withdrawal", name(one.by), "", iso(one.at), null, null, "", one.words, "", null, ""] })),
    ];
    return rows.sort((a, b) => a.seq - b.seq).map(({ row }) => row);
  }));
}

function temperaturesTable(facts: TableFacts): Table {
  const { iso, name } = writer(facts);
  return table("temperatures", "Temperatures read for the clocks", [PILE, POINT, time("at", "When it was read"), number("celsius", "°C"), text("typed", "As typed"), text("by", "Who read it"), time("enteredAt", "When it was entered")],
    facts.sheets.flatMap((packed) => packed.sheet.readings.map((one) => [markOf(packed), one.line, iso(one.at), one.celsius, one.asTyped, name(one.byId), iso(one.enteredAt)])));
}

function lotsTable({ lots, sheets }: TableFacts): Table {
  return table("lots", "Material lots and the points that used them", [text("kind", "Material"), text("number", "Lot number"), text("certificate", "Certificate"), text("receivedOn", "Day of receipt"), text("expiresOn", "Day of expiry", true), text("quantity", "Quantity"), text("usedAt", "Pile and point of each use")],
    lots.map((lot) => [lot.kind, lot.number, lot.certificate, lot.receivedOn, lot.expiresOn, lot.quantity, sheets.flatMap((packed) => [...packed.sheet.history.submissions.values()].filter(({ lots: used }) => used.some(({ lotId }) => lotId === lot.id)).map(({ line }) => `${markOf(packed)} ${line}`)).join("; ")]));
}

function instrumentsTable({ instruments }: TableFacts): Table {
  return table("instruments", "The register of instruments", [text("mark", "Mark"), text("class", "Class"), text("name", "Name"), text("unit", "Unit of range and accuracy", true), text("rangeMin", "Range from", true), text("rangeMax", "Range to", true), text("accuracy", "Accuracy as stated", true)],
    instruments.map(({ mark, class: kind, name, unit, rangeMin, rangeMax, accuracy }) => [mark, kind, name, unit, rangeMin, rangeMax, accuracy && `± ${accuracy.value} ${accuracy.kind === "per cent" ? "%" : (unit ?? "")}`]));
}

function calibrationsTable(facts: TableFacts): Table {
  const { iso } = writer(facts);
  return table("calibrations", "Every calibration", [text("instrument", "Mark of the instrument"), time("calibratedAt", "When it was calibrated"), text("dueOn", "Day it is due again"), text("certificate", "Certificate"), text("words", "What was said with it")],
    facts.instruments.flatMap(({ mark, certificates }) => certificates.map((one) => [mark, iso(one.calibratedAt), one.dueOn, one.certificate, one.words])));
}

function peopleTable({ members }: TableFacts): Table {
  return table("people", "Members of the project: names, organisations and roles only", [text("name", "Name"), text("organisation", "Organisation"), text("part", "Party to the contract"), text("roles", "Roles"), text("left", "yes where they have left the project")],
    members.map(({ name, organisation, part, roles, left }) => [name, organisation, part, roles.join(", "), left ? "yes" : "no"]));
}

function schedulesTable(facts: TableFacts): Table {
  const { iso, name } = writer(facts);
  return table("schedules", "Every drawing schedule brought in, and every change order", [
    text("title", "File or paste that it was read from"), text("sha256", "SHA-256 of what was read"), time("at", "When it was brought in"), text("by", "Who brought it in"), text("changeOrder", "Number of the change order", true),
    whole("rows", "Rows read"), text("added", "Piles added"), text("changed", "Piles changed"), text("removed", "Piles taken out of scope"), text("takenBack", "yes where it was taken back as a whole"),
  ], facts.schedules.map((one) => [
    one.title, one.sha256, iso(one.at), name(one.by), one.changeOrder, one.rows, one.added.map(({ mark }) => mark).join(" "), one.changed.map(({ now }) => now.mark).join(" "),
    one.removed.map(({ pileId }) => facts.sheets.find(({ sheet }) => sheet.id === pileId)?.sheet.pile?.mark ?? pileId).join(" "), one.undone ? "yes" : "no",
  ]));
}

function completenessTable({ sheets }: TableFacts): Table {
  return table("completeness", "Every item that the plan asks for: present, missing or not applicable", [PILE, POINT, text("item", "What is asked for"), whole("asked", "How many"), whole("present", "How many were sent with the submission that stands"), text("state", "present / missing / not applicable / not reached")],
    sheets.flatMap((packed) => packed.sheet.lines.flatMap((line): CellValue[][] => {
      const mark = markOf(packed);
      if (line.notApplicable) return [[mark, line.line, "the point", 0, 0, "not applicable"]];
      const trail = packed.sheet.folded.get(line.line)?.standing.trail;
      const submission = trail && packed.sheet.history.submissions.get(trail.submission.submissionId);
      const row = (item: string, asked: number, present: number): CellValue[] => [mark, line.line, item, asked, present, !submission ? "not reached" : present >= asked ? "present" : "missing"];
      return [
        ...line.photos.map(({ id, name, count }) => row(`photo: ${name}`, count, new Set(submission?.photos.filter(({ subject }) => subject === id).map(({ sha256 }) => sha256)).size)),
        ...line.documents.filter(({ required }) => required).map(({ id, name }) => row(`document: ${name}`, 1, submission?.documents.filter(({ use }) => use === id).length ?? 0)),
        ...line.quantities.filter(({ derived }) => !derived).map(({ id, name, rule }) => row(`value: ${name}`, rule.form === "each" ? (rule.count ?? 1) : 1, submission?.judged.filter(({ quantity, verdict }) => quantity === id && verdict !== "not measured").length ?? 0)),
      ];
    })));
}
