import type { DecisionRecord, PileRecord, PointRecord } from "#lib/closeout/package-input";
import { drawElevation, drawNoElevation, ELEVATION } from "#lib/closeout/pdf-elevation";
import { drawPileState } from "#lib/closeout/pdf-mark";
import { drawPhotos } from "#lib/closeout/pdf-photo";
import { drawClocks, drawHistory, drawPoints } from "#lib/closeout/pdf-point";
import { BODY, closeoutFrame, Sheet, STYLE, type PdfContext } from "#lib/closeout/pdf-sheet";
import { drawStamp, type Stamp } from "#lib/closeout/pdf-stamp";
import type { TextStyle } from "#lib/closeout/pdf-text";
import { PRINT } from "#lib/closeout/print-token";
import { printedTime } from "#lib/closeout/printed-time";

export type { PdfContext } from "#lib/closeout/pdf-sheet";

const MARK: TextStyle = { font: "wordBold", size: 33, color: PRINT.ink, leading: 1.1 };
const STATE: TextStyle = { font: "wordBold", size: 13.5, color: PRINT.ink };
const STAMP_WIDTH = 166;
// More would push the drawing off the cover; the history holds them all.
const STAMPS_AT_MOST = 4;

/** A pile's record as a PDF: cover with state, drawing and stamps; points; clocks; history; photos. No archival profile is claimed. */
export async function pilePdf(pile: PileRecord, context: PdfContext): Promise<Buffer> {
  const sheet = new Sheet(closeoutFrame(context), `Pile ${pile.mark}`, "Pile encasement record");
  sheet.outline(`Pile ${pile.mark}, ${pile.state}`);
  drawHeader(sheet, pile, context);
  drawCover(sheet, pile, context);
  drawBody(sheet, pile.points, context);
  return sheet.finish();
}

/** The points of the project itself (P1–P4), in the same form. */
export async function projectPdf(points: readonly PointRecord[], context: PdfContext): Promise<Buffer> {
  const { project } = context;
  const sheet = new Sheet(closeoutFrame(context), "Project points", "Points of the project");
  sheet.outline("Project points");
  sheet.y += sheet.text("Points of the project", { x: BODY.left, y: sheet.y, width: BODY.width }, STYLE.lead);
  sheet.y += sheet.text(project.name, { x: BODY.left, y: sheet.y, width: BODY.width }, { ...MARK, size: 22 }, "H1");
  sheet.paragraph([project.place, ...project.organisations.map(({ part, name }) => `${part}: ${name}`)].join(" · "), STYLE.body, 10);
  drawBody(sheet, points, context);
  return sheet.finish();
}

function drawBody(sheet: Sheet, points: readonly PointRecord[], context: PdfContext): void {
  drawPoints(sheet, points, context);
  drawClocks(sheet, points);
  drawHistory(sheet, points, context);
  if (points.some(({ photos }) => photos.length > 0)) {
    sheet.newSheet();
    sheet.outline("Photos");
    sheet.heading("Photos");
    drawPhotos(sheet, points);
  }
}

function drawHeader(sheet: Sheet, pile: PileRecord, { project }: PdfContext): void {
  const { doc } = sheet;
  const top = BODY.top;
  const split = BODY.left + 308;
  sheet.text("Pile encasement record", { x: BODY.left, y: top, width: 280 }, STYLE.lead);
  sheet.text(pile.mark, { x: BODY.left, y: top + 12, width: 290 }, MARK, "H1");

  const x = split + 15;
  const width = BODY.right - x;
  sheet.artifact(() => drawPileState(doc, pile.state, x, top + 2.5, 13));
  let y = top + sheet.text(capital(pile.state), { x: x + 20, y: top, width: width - 20 }, STATE) + 1;
  const { acceptance } = pile;
  const lines = [
    pile.stateWords,
    acceptance && `${printedTime(acceptance.at, project.zone)}, ${acceptance.by}, ${acceptance.organisation}`,
    acceptance?.warrantyWords,
  ];
  for (const line of lines) if (line) y += sheet.text(line, { x, y, width }, STYLE.body);

  const bottom = Math.max(top + 56, y + 8);
  sheet.rule(bottom, 0.9, PRINT.ink, BODY.left - 16, BODY.right + 16);
  sheet.artifact(() => doc.moveTo(split, BODY.top - 14).lineTo(split, bottom).lineWidth(0.9).stroke(PRINT.ink));
  sheet.y = bottom + 12;
}

function drawCover(sheet: Sheet, pile: PileRecord, { project }: PdfContext): void {
  const top = sheet.y;
  if (pile.elevation) drawElevation(sheet, pile.elevation, BODY.left, top);
  else drawNoElevation(sheet, BODY.left, top);

  const facts = [
    { name: "Project", words: `${project.name}, ${project.place}` },
    ...project.organisations.map(({ part, name }) => ({ name: part, words: name })),
    { name: "Pile", words: `${pile.typeWords}, bent ${pile.bent}, row ${pile.row}` },
    ...pile.facts,
  ];
  const left = BODY.left + ELEVATION.width + 8;
  const stampLeft = BODY.right - STAMP_WIDTH;
  let factY = top;
  for (const { name, words } of facts) {
    const label = sheet.text(name, { x: left, y: factY, width: 62 }, STYLE.label);
    factY += Math.max(label, sheet.text(words, { x: left + 64, y: factY, width: stampLeft - left - 64 - 12 }, STYLE.body)) + 2.2;
  }

  const stamps = stampsOf(pile, project.zone);
  let stampY = top;
  for (const stamp of stamps.slice(0, STAMPS_AT_MOST)) stampY += drawStamp(sheet, stamp, { x: stampLeft, y: stampY, width: STAMP_WIDTH }) + 9;
  if (stamps.length > STAMPS_AT_MOST) {
    stampY += sheet.text(`and ${stamps.length - STAMPS_AT_MOST} more in the history`, { x: stampLeft, y: stampY, width: STAMP_WIDTH }, STYLE.note);
  }

  const bottom = Math.max(top + ELEVATION.height, factY, stampY) + 8;
  sheet.rule(bottom, 0.9, PRINT.ink, BODY.left - 16, BODY.right + 16);
  sheet.y = bottom + 11;
}

/** Cover stamps in the order of what a reader must not miss: rejected points, concessions, acceptance, then the newest release. */
export function stampsOf(pile: PileRecord, zone: string): Stamp[] {
  const decided = pile.points.flatMap((point) => {
    const decision = decisionBehind(point);
    return decision ? [{ point, decision }] : [];
  });
  const rejected = decided.filter(({ point }) => point.state === "rejected").map(({ point, decision }) => pointStamp("rejected", point, decision, zone));
  const concessions = decided.filter(({ point }) => point.state === "released under concession").map(({ point, decision }) => pointStamp("concession", point, decision, zone));
  const releases = decided.filter(({ point }) => point.state === "released").sort((a, b) => Date.parse(a.decision.at) - Date.parse(b.decision.at));
  const newest = releases.at(-1);
  return [
    ...rejected,
    ...concessions,
    ...acceptanceStamp(pile, zone),
    ...(newest ? [pointStamp("released", newest.point, newest.decision, zone)] : []),
  ];
}

function acceptanceStamp({ acceptance }: PileRecord, zone: string): Stamp[] {
  if (!acceptance) return [];
  const { outcome, by, organisation, at, words } = acceptance;
  const kind = outcome === "accepted" ? "released" : "concession";
  return [{ kind, title: outcome, lines: [...(words ? [words] : []), `${by}, ${organisation}`, printedTime(at, zone)], serverAttested: false }];
}

const STAMP_TITLE = { released: "Released", rejected: "Rejected", concession: "Released under concession" } as const;

function pointStamp(kind: Stamp["kind"], point: PointRecord, decision: DecisionRecord, zone: string): Stamp {
  return {
    kind,
    title: `${STAMP_TITLE[kind]}, point ${point.line}`,
    lines: [
      ...decision.reasons,
      ...(decision.words ? [decision.words] : []),
      `${decision.by}, ${decision.organisation}`,
      printedTime(decision.at, zone),
      `${decision.seenAs} · ${decision.attestation}`,
    ],
    serverAttested: decision.attestation === "server-attested",
  };
}

const OUTCOMES = {
  released: ["release"],
  "released under concession": ["release under concession"],
  rejected: ["reject"],
} as const satisfies Partial<Record<PointRecord["state"], readonly DecisionRecord["outcome"][]>>;

// The decision that put the point where it is: a later QC check does not stand for a release.
function decisionBehind({ state, decisions }: PointRecord): DecisionRecord | null {
  const outcomes: readonly string[] = state in OUTCOMES ? OUTCOMES[state as keyof typeof OUTCOMES] : [];
  return decisions.findLast(({ outcome }) => outcomes.includes(outcome)) ?? null;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
