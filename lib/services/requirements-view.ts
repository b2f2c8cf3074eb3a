import { can } from "#lib/domain/access/can";
import type { Member } from "#lib/domain/access/member";
import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { revisionInForce } from "#lib/domain/plan/plan";
import { Decimal } from "#lib/domain/quantity/decimal";
import { dimensionOf, fromSi } from "#lib/domain/quantity/unit";
import { differenceOf, type RevisionDifference } from "#lib/domain/requirement/difference";
import { draftFaults, type DraftFault } from "#lib/domain/requirement/draft";
import { quantityRows, type QuantityRow } from "#lib/domain/requirement/draft-quantity";
import { accuracyWords } from "#lib/domain/requirement/instrument";
import { limitsOf } from "#lib/domain/requirement/limits";
import { RULE_FIELDS } from "#lib/domain/requirement/rule-field";
import { itemRule, type Rule } from "#lib/domain/requirement/rule";
import type { PlanLineSpec, Quantity, Revision } from "#lib/domain/requirement/set";
import { requirementWords } from "#lib/domain/requirement/words";
import type { Tx } from "#lib/db/client";
import { findReviewWords, findRevisionDraft, type RevisionDraft } from "#lib/db/revision-draft";
import { listMembers, listRevisions, type ApprovedRevision, type Project } from "#lib/db/project";
import { reviewOfDraft } from "#lib/services/issue-revision";
import { lastReview } from "#lib/db/issue-revision";
import { linesOfPoint, PROJECT_SHEET } from "#lib/services/revision-draft";

/** How far the shown revision has come, as its three stages say it. */
export interface RevisionState {
  letter: string;
  state: "draft" | "reviewed" | "approved" | "in force";
  /** Words for the head of the sheet. */
  words: string;
  draft: { changed: string; by: string } | null;
  review: { outcome: "reviewed" | "sent back"; when: string; by: string; words: string; stands: boolean; because: string } | null;
  approval: { when: string; by: string; applies: string } | null;
}

export interface RequirementsView {
  /** Null where no revision is approved yet and no draft begun. */
  revision: Revision | null;
  digest: string;
  state: RevisionState | null;
  /** The revision that it is compared with. */
  base: ApprovedRevision | null;
  inForce: ApprovedRevision | null;
  latest: ApprovedRevision | null;
  difference: RevisionDifference | null;
  faults: DraftFault[];
  /** The letter that was asked for, where there is such a revision. */
  asked: string | null;
  /** Every letter that can be looked at, newest first. */
  letters: { letter: string; words: string; shown: boolean }[];
  hasDraft: boolean;
  may: { draft: boolean; review: boolean; approve: boolean };
  /** Whether the shown one is the draft and this person may write it. */
  editable: boolean;
}

/** Who works on drafts sees them; everybody sees what is approved. */
export function maySeeDraft(member: Member, projectId: string): boolean {
  return (["draft revision", "review revision", "approve revision"] as const).some((action) => can(member, action, projectId));
}

/** What the Requirements sheet shows: the draft for who works on it, otherwise the revision in force, or the one asked for. */
export async function requirementsView(tx: Tx, project: Project, member: Member, at: Instant, asked: string | null = null): Promise<RequirementsView> {
  const [approved, found, members] = await Promise.all([listRevisions(tx, project.id), findRevisionDraft(tx, project.id), listMembers(tx, project.id)]);
  const draft = maySeeDraft(member, project.id) ? found : null;
  const bySeq = [...approved].sort((a, b) => a.seq - b.seq);
  const latest = bySeq.at(-1) ?? null;
  const inForce = revisionInForce(approved, at);
  const wanted = approved.find(({ letter }) => letter === asked) ?? null;
  const shownDraft = wanted ? null : draft;
  const shown = wanted ?? (shownDraft ? null : (inForce ?? latest));
  const base = shownDraft ? latest : shown ? (bySeq[bySeq.indexOf(shown) - 1] ?? null) : null;
  const revision = shownDraft?.draft ?? shown?.revision ?? null;
  const nameOf = (personId: string): string => members.find((one) => one.personId === personId)?.name ?? personId;
  const may = { draft: can(member, "draft revision", project.id), review: can(member, "review revision", project.id), approve: can(member, "approve revision", project.id) };
  return {
    revision, base, inForce, latest, may, asked: wanted?.letter ?? null,
    digest: shownDraft?.digest ?? shown?.digest ?? "",
    state: shownDraft ? await draftState(tx, project, shownDraft, nameOf) : shown && approvedState(shown, project, at, inForce, nameOf),
    difference: revision && base ? differenceOf(base.revision, revision) : null,
    faults: shownDraft ? draftFaults(shownDraft.draft) : [],
    letters: [
      ...(draft ? [{ letter: draft.letter, words: "draft", shown: shownDraft !== null }] : []),
      ...bySeq.reverse().map((one) => ({ letter: one.letter, words: one === inForce ? "in force" : one.appliesFrom > at ? `from ${formatWhen(one.appliesFrom, project.zone)}` : "superseded", shown: one === shown })),
    ],
    hasDraft: draft !== null,
    editable: shownDraft !== null && may.draft,
  };
}

async function draftState(tx: Tx, project: Project, { letter, draft, changedAt, by }: RevisionDraft, nameOf: (id: string) => string): Promise<RevisionState> {
  const [last, review, words] = await Promise.all([lastReview(tx, project.id, letter), reviewOfDraft(tx, project, { letter, revision: draft }), findReviewWords(tx, project.id, letter)]);
  const stands = "reviewedBy" in review;
  const when = formatWhen(changedAt, project.zone);
  return {
    letter, state: stands ? "reviewed" : "draft", words: stands ? `Revision ${letter}, reviewed, not approved` : `Revision ${letter}, draft`,
    draft: { changed: when, by: nameOf(by) }, approval: null,
    review: last && { outcome: last.outcome, when: formatWhen(last.at, project.zone), by: nameOf(last.by), words, stands, because: "because" in review ? review.because : "" },
  };
}

function approvedState({ letter, approvedBy, approvedAt, appliesFrom, terms: { reviewedBy } }: ApprovedRevision, { zone }: Project, at: Instant, inForce: ApprovedRevision | null, nameOf: (id: string) => string): RevisionState {
  const isInForce = inForce?.letter === letter;
  const applies = formatWhen(appliesFrom, zone);
  return {
    letter, state: isInForce ? "in force" : "approved",
    words: isInForce ? `Revision ${letter}, in force` : appliesFrom > at ? `Revision ${letter}, approved, applies from ${applies}` : `Revision ${letter}, superseded`,
    draft: null, review: reviewedBy === null ? null : { outcome: "reviewed", when: "", by: nameOf(reviewedBy), words: "", stands: true, because: "" },
    approval: { when: formatWhen(approvedAt, zone), by: nameOf(approvedBy), applies },
  };
}

// ---- one point ------------------------------------------------------------------------------------------------------

export interface RequirementCell {
  /** Limit as it is shown, without its unit where the row says it. */
  words: string;
  /** What stood there in the revision before; null where nothing changed. */
  was: string | null;
}

export interface RequirementRow {
  key: string;
  letter: string;
  row: QuantityRow;
  /** "min", "each bar, min, 6 of 20 checked". */
  form: string;
  unit: string;
  cells: Record<string, RequirementCell | null>;
  /** Limits of the types on one axis, in the unit of the row; null where they are no numbers. */
  drawn: { unit: string; limits: { type: string; min: number | null; max: number | null }[] } | null;
  /** Where there is no drawing: what decides instead. */
  drawnWords: string;
  measuredWith: string;
  changed: boolean;
}

export interface PointRequirements {
  id: string;
  lines: { type: string; line: PlanLineSpec }[];
  /** Types that have the point, in the order of the sets. */
  types: string[];
  rows: RequirementRow[];
  faults: DraftFault[];
  changed: boolean;
}

/** A point of a revision with all its types side by side; null where none has it. */
export function pointRequirements({ revision, base, faults, difference }: Pick<RequirementsView, "revision" | "base" | "faults" | "difference">, id: string): PointRequirements | null {
  const lines = revision ? linesOfPoint(revision, id) : [];
  if (lines.length === 0) return null;
  const before = base ? linesOfPoint(base.revision, id) : [];
  const applying = lines.filter(({ line }) => !line.notApplicable);
  const rows = quantityRows(applying).map((row, index) => rowOf(row, index, { lines: applying, before, compared: base !== null }));
  return { id, lines, types: lines.map(({ type }) => type), rows, faults: faults.filter(({ line }) => line === id), changed: changedLines(difference).has(id) };
}

/** The points at which a revision asks for something else than the one before. */
export function changedLines(difference: RevisionDifference | null): Set<string> {
  return new Set((difference?.changes ?? []).flatMap(({ lines }) => lines.map(({ line }) => line)));
}

function rowOf(row: QuantityRow, index: number, { lines, before, compared }: { lines: PointRequirements["lines"]; before: PointRequirements["lines"]; compared: boolean }): RequirementRow {
  const first = row.of[row.types[0] ?? ""];
  if (!first) throw new RangeError("A row has at least one type.");
  const wasOf = (type: string): Quantity | undefined => before.find((one) => one.type === type)?.line.quantities.find(({ id }) => id === row.id);
  const cells = Object.fromEntries(lines.map(({ type }): [string, RequirementCell | null] => {
    const now = row.of[type];
    if (!now) return [type, null];
    const was = wasOf(type);
    const same = was && JSON.stringify(was.rule) === JSON.stringify(now.rule);
    return [type, { words: cellWords(now.rule), was: same || !compared ? null : was ? cellWords(was.rule) : "new" }];
  }));
  const photos = lines.find(({ type }) => type === row.types[0])?.line.photos ?? [];
  return {
    key: `${row.id}.${row.types.join("")}`, letter: String.fromCharCode(97 + (index % 26)), row, cells, unit: unitWords(first.rule), form: formWords(first.rule),
    drawn: drawnLimits(row), drawnWords: decidedBy(first), measuredWith: measuredWords(first, photos), changed: Object.values(cells).some((cell) => cell?.was != null),
  };
}

/** Words of a limit without the unit that the row shows. */
function cellWords(rule: Rule): string {
  const unit = unitWords(rule);
  const words = shortWords(rule);
  const bare = unit === "" ? words : words.replaceAll(` ${unit}`, "");
  return rule.form === "each" && rule.count !== null ? `${rule.count} × ${bare}` : bare;
}

/** What fills a cell by itself is said short; the open quantity shows all of it. */
function shortWords(rule: Rule): string {
  const item = itemRule(rule);
  if (item.form === "cure" || item.form === "equivalent age") return `${item.hours} h at ${item.referenceC} °C${item.minimumC === null ? "" : `, over ${item.minimumC} °C`}`;
  if (item.form === "elapsed") return `${[item.atLeastHours && `≥ ${item.atLeastHours} h`, item.atMostHours && `≤ ${item.atMostHours} h`].filter(Boolean).join(", ")} from ${item.from.line}`;
  if (item.form !== "pot life") return requirementWords(rule);
  if (item.life.kind === "doubling") return `${item.life.minutes} min at ${item.life.referenceC} °C`;
  return `${item.life.rows[0]?.minutes ?? ""} … ${item.life.rows.at(-1)?.minutes ?? ""} min`;
}

function unitWords(rule: Rule): string {
  const item = itemRule(rule);
  return "unit" in item && item.unit && item.unit !== "1" ? item.unit : "";
}

function formWords(rule: Rule): string {
  const item = itemRule(rule);
  const form = item.form === "all of" || item.form === "any of" ? item.form : RULE_FIELDS[item.form].short;
  return rule.form === "each" ? `each ${rule.of}: ${form}` : form;
}

function decidedBy({ rule, derived }: Quantity): string {
  if (derived && itemRule(rule).form !== "min") return "worked out";
  switch (itemRule(rule).form) {
    case "count":
      return "counted";
    case "statement":
      return "photo must be in order";
    case "grade":
      return "along its scale";
    case "exact":
      return "the same word";
    case "recorded":
      return "no limit";
    default:
      return "";
  }
}

function measuredWords(quantity: Quantity, photos: PlanLineSpec["photos"]): string {
  const item = itemRule(quantity.rule);
  const shown = photos.find(({ id }) => id === (item.form === "statement" ? item.photo : quantity.id));
  const how = quantity.instrument ?? (quantity.derived ? `from ${quantity.derived.from.join(", ") || quantity.derived.formula}` : item.form === "count" ? "counted" : "");
  return [[how, accuracyWords(quantity)].filter(Boolean).join(" "), shown && `${shown.name.toLowerCase()} × ${shown.count}`].filter(Boolean).join(" · ");
}

/** What a limit is, in numbers of the row's unit, where every type's is one of length, share, time and the like. */
function drawnLimits({ types, of }: QuantityRow): RequirementRow["drawn"] {
  const limits = types.flatMap((type) => {
    const quantity = of[type];
    const read = quantity && limitsOf(itemRule(quantity.rule));
    if (!read || itemRule(quantity.rule).form === "ratio" || itemRule(quantity.rule).form === "pot life") return [];
    const number = (limit: { si: Decimal } | undefined): number | null => (limit ? fromSi(limit.si, read.unit).toNumber() : null);
    return [{ type, unit: read.unit, min: number(read.min), max: number(read.max) }];
  });
  const [first] = limits;
  if (!first || limits.length !== types.length || limits.some(({ unit }) => dimensionOf(unit) !== dimensionOf(first.unit))) return null;
  return { unit: first.unit, limits: limits.map(({ type, min, max }) => ({ type, min, max })) };
}

/** Number of quantities that a point asks for, counted once for all types. */
export function quantityCount(revision: Revision, id: string): number {
  return new Set(linesOfPoint(revision, id).flatMap(({ line }) => line.quantities.map((one) => one.id))).size;
}

/** Every point of a revision in the order of the plan, the project sheet's last. */
export function pointIds(revision: Revision): string[] {
  const order: string[] = [];
  for (const { lines } of revision.sets) {
    let before = -1;
    for (const { line } of lines) {
      if (!order.includes(line)) order.splice(before + 1, 0, line);
      before = order.indexOf(line);
    }
  }
  return [...order, ...revision.projectLines.map(({ line }) => line)];
}

/** The types that a sheet shows as columns. */
export function typeLabel(type: string): string {
  return type === PROJECT_SHEET ? "Project" : type;
}
