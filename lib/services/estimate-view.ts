import { Decimal } from "#lib/domain/quantity/decimal";
import type { Instant } from "#lib/domain/instant";
import { shown } from "#lib/domain/estimate/figure";
import { orderList, type OrderList, type StillToDo } from "#lib/domain/estimate/order-list";
import { notWorkedOut, pileEstimate, type PileEstimate } from "#lib/domain/estimate/pile-estimate";
import { many } from "#lib/domain/many";
import { pilesSaid } from "#lib/domain/plan/mark";
import { overridesAt, requirementSet } from "#lib/domain/plan/plan";
import type { PointState } from "#lib/domain/point/state";
import type { Fault } from "#lib/domain/refusal";
import type { RequirementSet } from "#lib/domain/requirement/set";
import type { Tx } from "#lib/db/client";
import { listPiles, listPointRows, type Pile } from "#lib/db/pile";
import { projectHistories, type SheetHistory } from "#lib/db/point-record";
import type { ApprovedRevision, Project } from "#lib/db/project";
import { listLots } from "#lib/db/register";
import { entriesAt, loadCommon, pileSheet, revisionOf, type Common, type Sheet } from "#lib/services/sheet";
import { markWords } from "#lib/services/words";

/** Which piles are asked about, and how: what is not named is not narrowed. */
export interface EstimateSelection {
  bents: readonly string[];
  types: readonly string[];
  /** Marks as people say them; "02" is every pile that begins so. */
  marks: readonly string[];
  /** Count what is done already as well. */
  everything: boolean;
  /** Temperature of the resin, °C; null: not given. */
  celsius: number | null;
  /** Rolls in hand by lot. */
  lots: readonly { lot: string; rolls: number }[];
}

export interface EstimatePile {
  mark: string;
  bent: string;
  type: string;
  /** The revision that its jacket is cut under. */
  letter: string;
  estimate: PileEstimate;
  toDo: StillToDo;
  /** How far it has come: "nothing done", "jacket cut", "wrapped", "grouted". */
  done: string;
  /** What of its section the survey found left, per cent; null where that is not known. */
  areaLeftPct: string | null;
}

/** Piles of one type that come out alike. */
export interface EstimateGroup {
  type: string;
  name: string;
  letter: string;
  marks: string[];
  markWords: string;
  estimate: PileEstimate;
  /** How many of them still need each. */
  toDo: Record<keyof StillToDo, number>;
}

export interface EstimateView {
  piles: EstimatePile[];
  groups: EstimateGroup[];
  order: OrderList;
  /** Piles that are asked for and not counted, with why. */
  leftOut: { words: string; because: string }[];
  notWorkedOut: { words: string; parts: string[]; because: string }[];
  /** What was asked for and does not exist; `field` names the input. */
  faults: Fault[];
  choices: { bents: string[]; types: { type: string; name: string }[]; lots: string[] };
  /** The revision that most of the piles stand under; null where none is approved. */
  revision: ApprovedRevision | null;
}

/** The points whose standing submission says that a stage is behind the pile. */
const STAGE_LINES = { inside: "10", cut: "12", wrap: "15", grout: "21" } as const satisfies Record<keyof StillToDo, string>;
/** Work has been done and sent; whether it is released does not give the material back. */
const SENT: ReadonlySet<PointState> = new Set(["submitted", "QC checked", "released", "released under concession", "in doubt", "expired", "conflict", "notice lapsed"]);
const SURVEY_LINE = "5";
const AREA_LEFT = "left";

/** The estimate of a selection of piles, as their requirements stand at an instant. Nothing of it is recorded. */
export async function estimateView(tx: Tx, project: Project, at: Instant, selection: EstimateSelection): Promise<EstimateView> {
  const [all, points, common, histories, lots] = await Promise.all([
    listPiles(tx, project.id), listPointRows(tx, project.id), loadCommon(tx, project), projectHistories(tx, project.id), listLots(tx, project.id),
  ]);
  const chosen = chooseFrom(all, selection);
  const inScope = chosen.piles.filter(({ scope }) => scope === "in");
  const states = new Map(points.map(({ sheet, line, state }) => [`${sheet} ${line}`, state]));
  const found = inScope.map((pile) => pileOf(pile, { project, common, at, history: histories.get(pile.id), states }));
  const known = found.filter((one): one is EstimatePile => !("because" in one));
  const counted = selection.everything ? known.map((pile) => ({ ...pile, toDo: ALL })) : known.filter(({ toDo }) => Object.values(toDo).some(Boolean));
  const words = (marks: readonly string[]): string => markWords(marks, all);
  const { lots: asked, lotFaults } = lotsOf(selection, lots.filter(({ kind }) => kind === "jacket").map(({ number }) => number));
  return {
    piles: counted,
    groups: groupsOf(counted, words),
    order: orderList(counted, { lots: asked, celsius: selection.celsius }),
    leftOut: leftOut(chosen.piles, known, counted, words),
    notWorkedOut: [...reasonsOf(counted, words), ...found.flatMap((one) => ("because" in one ? [{ words: one.mark, parts: ["everything"], because: one.because }] : []))],
    faults: [...chosen.faults, ...lotFaults],
    choices: {
      bents: [...new Set(all.map(({ bent }) => bent))].sort((a, b) => a.localeCompare(b, "en", { numeric: true })), types: typesOf(all, common),
      lots: lots.filter(({ kind }) => kind === "jacket").map(({ number }) => number),
    },
    revision: commonRevision(counted, common.revisions),
  };
}

/** The finding in one line: "24 piles: 6 rolls, 37.6 kg resin, 560 bags". */
export function estimateLead({ piles, order, leftOut }: EstimateView): string {
  if (piles.length === 0) return "No pile to count";
  const rolls = order.sheets.reduce((sum, sheet) => sum + sheet.rolls.length, 0);
  return `${many(piles.length, "pile")}${leftOut.length === 0 ? "" : " still to do"}: ${many(rolls, "roll")}, ${shown(order.resin.mass, 1)} resin, ${many(order.bags, "bag")}`;
}

export function selectionWords({ bents, types, marks, everything }: EstimateSelection): string {
  const narrowed = [bents.length > 0 && `bents ${bents.join(", ")}`, types.length > 0 && `types ${types.join(", ")}`, marks.length > 0 && marks.join(", ")].filter(Boolean);
  return `${narrowed.length === 0 ? "all piles in scope" : narrowed.join("; ")}, ${everything ? "everything, done or not" : "what is left to do"}`;
}

const ALL: StillToDo = { inside: true, cut: true, wrap: true, grout: true };

function chooseFrom(all: readonly Pile[], { bents, types, marks }: EstimateSelection): { piles: Pile[]; faults: Fault[] } {
  const said = marks.map((typed) => ({ typed, piles: pilesSaid(all, typed) }));
  const named = new Set(said.flatMap(({ piles }) => piles.map(({ id }) => id)));
  const unknown = said.filter(({ piles }) => piles.length === 0).map(({ typed }) => typed);
  const [bentCodes, typeCodes] = [new Set(bents), new Set(types)];
  const piles = all.filter(({ id, bent, type }) => (bents.length === 0 || bentCodes.has(bent)) && (types.length === 0 || typeCodes.has(type)) && (marks.length === 0 || named.has(id)));
  return { piles, faults: unknown.length === 0 ? [] : [{ field: "marks", message: `${unknown.join(", ")}: no pile of this project is called so. Give marks such as ${all[0]?.mark ?? "02-A"}.` }] };
}

interface Facts {
  project: Project;
  common: Common;
  at: Instant;
  history: SheetHistory | undefined;
  states: ReadonlyMap<string, PointState>;
}

function pileOf(pile: Pile, { project, common, at, history, states }: Facts): EstimatePile | { mark: string; because: string } {
  const { mark, bent, type } = pile;
  if (common.revisions.every(({ revision }) => requirementSet(revision, type) === null)) return { mark, because: `No approved revision has a requirement set for pile type ${type}.` };
  const sheet = pileSheet(project, pile, common, { history: history ?? { events: [], submissions: new Map(), checks: [], decisions: [], withdrawals: [] }, readings: [] }, at);
  const cutUnder = revisionOf(sheet, STAGE_LINES.cut);
  const set = requirementSet(cutUnder.revision, type) ?? sheet.set;
  if (!set) return { mark, because: `Revision ${cutUnder.letter} has no requirement set for pile type ${type}.` };
  const toDo = Object.fromEntries(Object.entries(STAGE_LINES).map(([stage, line]) => [stage, !SENT.has(states.get(`${pile.id} ${line}`) ?? "not open")])) as unknown as StillToDo;
  const areaLeft = areaLeftOf(sheet, set);
  return {
    mark, bent, type, letter: cutUnder.letter, toDo, done: doneWords(toDo), areaLeftPct: areaLeft && areaLeft.times(100).toString(),
    estimate: pileEstimate(set, overridesAt(pile.overrides, null), { areaLost: areaLeft && new Decimal(1).minus(areaLeft).toNumber() }),
  };
}

/** What the survey of a steel pile found left of its section, as a share; of other piles it measures something else. */
function areaLeftOf(sheet: Sheet, { core }: RequirementSet): Decimal | null {
  if (core !== "H") return null;
  const [entry] = entriesAt(sheet, SURVEY_LINE).flatMap((one) => (one.kind === "measured" && one.quantity === AREA_LEFT ? [one] : []));
  const share = entry && entry.measured.unit === "%" ? new Decimal(entry.measured.si) : null;
  return share && share.gte(0) && share.lte(1) ? share : null;
}

function doneWords({ cut, wrap, grout }: StillToDo): string {
  if (!grout) return "grouted";
  if (!wrap) return "wrapped";
  return cut ? "nothing cut" : "jacket cut";
}

function leftOut(asked: readonly Pile[], known: readonly EstimatePile[], counted: readonly EstimatePile[], words: (marks: readonly string[]) => string): EstimateView["leftOut"] {
  const out = asked.filter(({ scope }) => scope === "out").map(({ mark }) => mark);
  const listed = new Set(counted.map(({ mark }) => mark));
  const done = known.filter(({ mark }) => !listed.has(mark)).map(({ mark }) => mark);
  const wrapped = counted.filter(({ toDo, done: state }) => state === "wrapped" && !toDo.wrap).map(({ mark }) => mark);
  const cut = counted.filter(({ toDo, done: state }) => state === "jacket cut" && !toDo.cut).map(({ mark }) => mark);
  return [
    { marks: out, because: "out of scope" },
    { marks: done, because: "grouted: nothing more is needed" },
    { marks: wrapped, because: "wrapped: only grout is counted" },
    { marks: cut, because: "jacket cut: no sheet is counted" },
  ].flatMap(({ marks, because }) => (marks.length === 0 ? [] : [{ words: words(marks), because }]));
}

function groupsOf(piles: readonly EstimatePile[], words: (marks: readonly string[]) => string): EstimateGroup[] {
  const alike = new Map<string, EstimatePile[]>();
  for (const pile of piles) {
    const { cut, resin, grout } = pile.estimate;
    const key = JSON.stringify([pile.type, pile.letter, cut.known && cut.length.si, resin.known && resin.mass.si, grout.known && [grout.bags, grout.height.si, grout.insideDiameter.si]]);
    alike.set(key, [...(alike.get(key) ?? []), pile]);
  }
  const count = (own: readonly EstimatePile[], stage: keyof StillToDo): number => own.filter(({ toDo }) => toDo[stage]).length;
  return [...alike.values()].flatMap((own): EstimateGroup[] => {
    const [first] = own;
    const marks = own.map(({ mark }) => mark);
    return first ? [{
      type: first.type, name: first.estimate.name, letter: first.letter, marks, markWords: words(marks), estimate: first.estimate,
      toDo: { inside: count(own, "inside"), cut: count(own, "cut"), wrap: count(own, "wrap"), grout: count(own, "grout") },
    }] : [];
  });
}

function reasonsOf(piles: readonly EstimatePile[], words: (marks: readonly string[]) => string): EstimateView["notWorkedOut"] {
  const reasons = new Map<string, { parts: string[]; because: string; marks: string[] }>();
  for (const { mark, estimate } of piles) {
    for (const { parts, because } of notWorkedOut(estimate)) {
      const key = `${parts.join()} ${because}`;
      reasons.set(key, { parts, because, marks: [...(reasons.get(key)?.marks ?? []), mark] });
    }
  }
  return [...reasons.values()].map(({ marks, ...rest }) => ({ ...rest, words: words(marks) }));
}

function lotsOf({ lots }: EstimateSelection, onRegister: readonly string[]): { lots: { lot: string; rolls: number }[]; lotFaults: Fault[] } {
  const stray = lots.filter(({ lot }) => !onRegister.includes(lot)).map(({ lot }) => lot);
  const hint = onRegister.length === 0 ? "No jacket lot is on the register." : `On the register: ${onRegister.join(", ")}.`;
  return {
    lots: lots.filter(({ lot }) => onRegister.includes(lot)).map((one) => ({ ...one })),
    lotFaults: stray.length === 0 ? [] : [{ field: "lots", message: `${stray.join(", ")}: no such jacket lot. ${hint}` }],
  };
}

function typesOf(all: readonly Pile[], { revisions }: Common): { type: string; name: string }[] {
  const nameOf = (type: string): string => revisions.flatMap(({ revision }) => requirementSet(revision, type)?.name ?? []).at(-1) ?? "";
  return [...new Set(all.map(({ type }) => type))].sort().map((type) => ({ type, name: nameOf(type) }));
}

function commonRevision(piles: readonly EstimatePile[], revisions: readonly ApprovedRevision[]): ApprovedRevision | null {
  const count = (letter: string): number => piles.filter((pile) => pile.letter === letter).length;
  return [...revisions].sort((a, b) => count(b.letter) - count(a.letter) || b.appliesFrom - a.appliesFrom)[0] ?? null;
}
