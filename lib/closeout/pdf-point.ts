import type { DecisionOutcome, DecisionRecord, PointRecord, QuantityRecord } from "#lib/closeout/package-input";
import { drawKind, drawState, drawVerdict } from "#lib/closeout/pdf-mark";
import { BODY, STYLE, type PdfContext, type Sheet } from "#lib/closeout/pdf-sheet";
import { drawTable, type PdfCell, type PdfColumn } from "#lib/closeout/pdf-table";
import { PRINT } from "#lib/closeout/print-token";
import { printedSpan, printedTime } from "#lib/closeout/printed-time";

const POINT_COLUMNS: PdfColumn[] = [
  { head: "", width: 20, style: STYLE.bold },
  { head: "", width: 19 },
  { head: "Point and quantity", width: 114 },
  { head: "Requirement", width: 72 },
  { head: "Measured", width: 66, style: STYLE.bold },
  { head: "Verdict", width: 70 },
  { head: "State", width: 70 },
  { head: "Decided by, at", width: BODY.width - 431 },
];

/** Every point with what was required and measured. A quantity after the first has a row of its own under its point. */
export function drawPoints(sheet: Sheet, points: readonly PointRecord[], { project }: PdfContext): void {
  if (points.length === 0) return;
  const applicable = points.filter((point) => point.applicable);
  const settled = applicable.filter(({ state }) => state === "released" || state === "released under concession").length;
  sheet.outline("Points");
  sheet.heading(`Points, requirement against measured (${settled} of ${applicable.length} released)`);
  drawTable(sheet, POINT_COLUMNS, points.flatMap((point) => pointRows(sheet, point, project.zone)));
}

function pointRows({ doc }: Sheet, point: PointRecord, zone: string): PdfCell[][] {
  const [first, ...others] = point.quantities;
  const decision = point.decisions.findLast(({ outcome }) => outcome !== "QC check");
  const row: PdfCell[] = [
    { words: point.line },
    { words: "", mark: { size: 10.5, draw: (x, y) => drawKind(doc, point.kind, x, y, 10.5) } },
    { words: point.name, second: point.applicable ? first?.name : `Not applicable: ${point.because ?? "no reason on record"}` },
    ...valueCells(doc, first),
    {
      words: STATE_WORDS[point.state] ?? point.state,
      second: point.attempt > 1 ? `attempt ${point.attempt}` : null,
      mark: { size: 8.5, draw: (x, y) => drawState(doc, point.state, x, y, 8.5) },
    },
    decision ? { words: decision.by, second: printedTime(decision.at, zone) } : { words: "" },
  ];
  return [row, ...others.map((quantity): PdfCell[] => [{ words: "" }, { words: "" }, { words: "", second: quantity.name }, ...valueCells(doc, quantity), { words: "" }, { words: "" }])];
}

// The column is narrow, and the mark beside it says "released".
const STATE_WORDS: Partial<Record<PointRecord["state"], string>> = { "released under concession": "concession" };

function valueCells(doc: PDFKit.PDFDocument, quantity: QuantityRecord | undefined): PdfCell[] {
  if (!quantity) return [{ words: "" }, { words: "" }, { words: "" }];
  const { requirementWords, measuredWords, verdict, marginWords, instrument, mark } = quantity;
  const failing = verdict === "fails";
  return [
    { words: requirementWords },
    { words: measuredWords, second: instrument },
    {
      words: verdict ?? "recorded",
      second: [marginWords, mark].filter((text) => text !== null).join(" · "),
      style: failing ? { ...STYLE.bold, color: PRINT.rejected } : STYLE.body,
      ...(verdict && { mark: { size: 8.5, draw: (x: number, y: number) => drawVerdict(doc, verdict, x, y, 8.5) } }),
    },
  ];
}

/** Waits and clocks, as sentences. */
export function drawClocks(sheet: Sheet, points: readonly PointRecord[]): void {
  const rows = points.flatMap((point) => point.clockWords.map((words): PdfCell[] => [{ words: point.line }, { words: point.name }, { words }]));
  if (rows.length === 0) return;
  sheet.heading("Waits and clocks: the earliest time, not a permission");
  drawTable(
    sheet,
    [
      { head: "", width: 22, style: STYLE.bold },
      { head: "Point", width: 130 },
      { head: "What was waited for", width: BODY.width - 152 },
    ],
    rows,
  );
}

const OUTCOME_WORDS: Record<DecisionOutcome, string> = {
  "QC check": "QC checked",
  release: "released",
  "release under concession": "released under concession",
  reject: "rejected",
  reopen: "reopened",
  correction: "corrected",
  lapse: "notice lapsed",
};

/** Everything that was sent and decided, all attempts, in the order of time. */
export function drawHistory(sheet: Sheet, points: readonly PointRecord[], { project }: PdfContext): void {
  const events = points.flatMap((point) => [
    ...point.submissions.map((submission) => ({
      at: submission.at,
      point,
      attempt: submission.attempt,
      what: "submitted",
      red: false,
      who: `${submission.by}, ${submission.organisation}`,
      words: [workWords(submission.workBeganAt, submission.workEndedAt, project.zone), submission.words].filter(isText).join(". "),
    })),
    ...point.decisions.map((decision) => ({
      at: decision.at,
      point,
      attempt: decision.attempt,
      what: OUTCOME_WORDS[decision.outcome],
      red: decision.outcome === "reject",
      who: `${decision.by}, ${decision.organisation}`,
      words: decisionWords(decision),
    })),
    ...point.documents.map((document) => ({ ...document, at: null, point, what: "document", red: false, who: "", words: `${document.title}: data/${document.bagPath}` })),
  ]);
  if (events.length === 0) return;
  // Documents carry no time of their own: they stand at the end.
  events.sort((a, b) => (a.at === null ? Infinity : Date.parse(a.at)) - (b.at === null ? Infinity : Date.parse(b.at)) || 0);

  sheet.outline("History");
  sheet.heading("History: attempts, submissions and decisions");
  drawTable(
    sheet,
    [
      { head: "At (site time)", width: 98, style: { ...STYLE.body, font: "letter" } },
      { head: "Point", width: 32, style: STYLE.bold },
      { head: "Attempt", width: 40 },
      { head: "What", width: 84 },
      { head: "Who", width: 108, style: { ...STYLE.body, font: "letter" } },
      { head: "How, and why", width: BODY.width - 362, style: { ...STYLE.body, font: "letter" } },
    ],
    events.map(({ at, point, attempt, what, red, who, words }): PdfCell[] => [
      { words: at === null ? "" : printedTime(at, project.zone) },
      { words: point.line },
      { words: String(attempt) },
      { words: what, style: red ? { ...STYLE.bold, color: PRINT.rejected } : STYLE.bold },
      { words: who },
      { words },
    ]),
  );
}

const isText = (text: string | null): text is string => text !== null && text !== "";

function workWords(beganAt: string | null, endedAt: string | null, zone: string): string | null {
  if (beganAt && endedAt) return `work ${printedSpan(beganAt, endedAt, zone)}`;
  const parts = [beganAt && `work began ${printedTime(beganAt, zone)}`, endedAt && `ended ${printedTime(endedAt, zone)}`].filter(isText);
  return parts.length === 0 ? null : parts.join(", ");
}

function decisionWords({ reasons, words, seenAs, observedOn, attestation }: DecisionRecord): string {
  return [...reasons, words, seenAs, observedOn && `observed ${observedOn}`, attestation].filter(isText).join(" · ");
}
