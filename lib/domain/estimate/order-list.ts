import { shown, shownDigits, written, type Figure } from "#lib/domain/estimate/figure";
import { lengthOf, mm } from "#lib/domain/estimate/jacket-estimate";
import { cutList, cutListByLot, type CutList, type Piece, type Roll } from "#lib/domain/estimate/nesting";
import { many } from "#lib/domain/many";
import type { PileEstimate } from "#lib/domain/estimate/pile-estimate";
import { batchPlan } from "#lib/domain/estimate/resin";

/** What is still to be done at a pile: what is done needs nothing more. */
export interface StillToDo {
  /** Bars, spacers and clamps. */
  inside: boolean;
  cut: boolean;
  wrap: boolean;
  grout: boolean;
}

export interface PileToOrder {
  mark: string;
  estimate: PileEstimate;
  toDo: StillToDo;
}

export interface CutPiece {
  mark: string;
  type: string;
  length: Figure;
  height: Figure;
  /** Where it lies on the roll, metres along and across. */
  from: number;
  across: number;
}

export interface CutRoll {
  number: number;
  lot: string | null;
  pieces: CutPiece[];
  /** The longest offcut. */
  left: Figure;
}

/** The cut list of the piles whose jackets are cut from one kind of roll. */
export interface CutSheet {
  rollLength: Figure;
  rollWidth: Figure;
  thickness: Figure;
  rolls: CutRoll[];
  pieces: number;
  /** No plan needs fewer rolls. */
  bound: number;
  /** Whether it is shown that no plan needs fewer. */
  best: boolean;
  used: Figure;
  available: Figure;
  /** 0 to 1. */
  share: number;
}

export interface OrderLine {
  item: string;
  size: string;
  /** What the drawings need, without waste. */
  net: string;
  waste: string;
  order: string;
  note: string;
}

export interface OrderList {
  sheets: CutSheet[];
  uncut: { mark: string; because: string }[];
  resin: { piles: number; mass: Figure; a: Figure; b: Figure; batches: number | null; because: string | null };
  bags: number;
  lines: OrderLine[];
}

/**
 * What a selection of piles takes: rolls by a cut list, resin of each part, batches at a temperature, bags, and pieces.
 *
 * @param lots  Rolls in hand by lot. A jacket is one piece, and a lot is used up before the next is begun, so no pile stands under two.
 * @param celsius  Temperature of the resin; null: batches are not told.
 * @returns bags and cartridges rounded up pile by pile, because an opened one is not kept for the next.
 */
export function orderList(piles: readonly PileToOrder[], { lots, celsius }: { lots: readonly { lot: string; rolls: number }[]; celsius: number | null }): OrderList {
  const cuts = cutSheets(piles.filter(({ toDo }) => toDo.cut), lots);
  const resin = resinOf(piles, celsius);
  const grout = bagsOf(piles);
  return {
    ...cuts, resin, bags: grout.reduce((sum, { bags }) => sum + bags, 0),
    lines: [...cuts.sheets.map(rollLine), ...resinLines(piles, resin), ...grout.map(({ line }) => line), ...pieceLines(piles)],
  };
}

function cutSheets(piles: readonly PileToOrder[], lots: readonly { lot: string; rolls: number }[]): Pick<OrderList, "sheets" | "uncut"> {
  const uncut: OrderList["uncut"] = [];
  const kinds = new Map<string, { roll: Roll; figures: Pick<CutSheet, "rollLength" | "rollWidth" | "thickness">; pieces: Map<string, { piece: Piece; type: string }> }>();
  for (const { mark, estimate: { cut, type } } of piles) {
    if (!cut.known) {
      uncut.push({ mark, because: cut.because });
      continue;
    }
    const { rollLength, rollWidth, thickness } = cut;
    const key = [rollLength.si, rollWidth.si, thickness.si].join(" ");
    const kind = kinds.get(key) ?? { roll: { lengthMm: mm(rollLength), widthMm: mm(rollWidth) }, figures: { rollLength, rollWidth, thickness }, pieces: new Map<string, { piece: Piece; type: string }>() };
    kind.pieces.set(mark, { piece: { id: mark, lengthMm: mm(cut.length), heightMm: mm(cut.height) }, type });
    kinds.set(key, kind);
  }
  const sheets = [...kinds.values()].flatMap(({ roll, figures, pieces }): CutSheet[] => {
    const all = [...pieces.values()].map(({ piece }) => piece);
    const plain = cutList(all, roll);
    uncut.push(...plain.left.map(({ piece, because }) => ({ mark: piece.id, because: `The jacket does not come out of a roll: ${because}.` })));
    const cuts: { lot: string | null; cut: CutList }[] = lots.length === 0 ? [{ lot: null, cut: plain }] : cutListByLot(all, roll, lots);
    const sheet = sheetOf(cuts, roll, figures, plain, (mark) => pieces.get(mark)?.type ?? "");
    return sheet.rolls.length === 0 ? [] : [sheet];
  });
  return { sheets, uncut };
}

function sheetOf(
  cuts: readonly { lot: string | null; cut: CutList }[],
  roll: Roll,
  figures: Pick<CutSheet, "rollLength" | "rollWidth" | "thickness">,
  { bound, best }: CutList,
  typeOf: (mark: string) => string,
): CutSheet {
  const lanes = cuts.flatMap(({ lot, cut }) => cut.rolls.map((one) => ({ lot, lanes: one.lanes })));
  const rolls = lanes.map(({ lot, lanes: own }, index): CutRoll => ({
    number: index + 1, lot, left: lengthOf(Math.max(...own.map(({ leftMm }) => leftMm))),
    pieces: own.flatMap(({ pieces }, lane) => pieces.map(({ id, lengthMm, heightMm, offsetMm }): CutPiece => ({
      mark: id, type: typeOf(id), length: lengthOf(lengthMm), height: lengthOf(heightMm), from: offsetMm / 1_000, across: (lane * roll.widthMm) / 2_000,
    }))),
  }));
  const count = lanes.reduce((sum, one) => sum + one.lanes.length, 0);
  const used = rolls.flatMap(({ pieces }) => pieces).reduce((sum, { length }) => sum + length.si, 0);
  const available = count * figures.rollLength.si;
  return {
    ...figures, rolls, pieces: rolls.flatMap(({ pieces }) => pieces).length, bound, best: best && rolls.length === bound, used: { si: used, unit: figures.rollLength.unit },
    available: { si: available, unit: figures.rollLength.unit }, share: available === 0 ? 0 : used / available,
  };
}

function rollLine({ rolls, rollLength, rollWidth, thickness, used, share }: CutSheet): OrderLine {
  const lots = new Map<string | null, number>();
  for (const { lot } of rolls) lots.set(lot, (lots.get(lot) ?? 0) + 1);
  const inHand = [...lots].map(([lot, count]) => (lot === null ? `${count} to buy` : `${count} of lot ${lot}`));
  return {
    item: "Jacket sheet", size: `${shownDigits(rollLength, 0)} × ${written(rollWidth)}, ${written(thickness)}`, net: shown(used, 1), waste: `${((1 - share) * 100).toFixed(1)} % offcut`,
    order: many(rolls.length, "roll"), note: lots.size === 1 && lots.has(null) ? "one pile, one lot" : inHand.join(", "),
  };
}

function resinOf(piles: readonly PileToOrder[], celsius: number | null): OrderList["resin"] {
  const parts = piles.flatMap(({ toDo, estimate: { resin } }) => (toDo.wrap && resin.known ? [resin] : []));
  const sum = (pick: (part: (typeof parts)[number]) => Figure): Figure => ({ si: parts.reduce((total, part) => total + pick(part).si, 0), unit: "kg" });
  const plans = celsius === null ? [] : parts.map(({ mass, spreading }) => batchPlan(mass.si, celsius, spreading));
  const untold = plans.includes(null);
  return {
    piles: parts.length, mass: sum(({ mass }) => mass), a: sum(({ a }) => a), b: sum(({ b }) => b),
    batches: celsius === null || untold ? null : plans.reduce((total, plan) => total + (plan?.batches ?? 0), 0),
    because: celsius === null ? "Give the temperature of the resin." : untold ? `The data sheet gives no pot life at ${celsius} °C.` : null,
  };
}

function resinLines(piles: readonly PileToOrder[], { mass, a, b, batches, because, piles: count }: OrderList["resin"]): OrderLine[] {
  if (count === 0) return [];
  const parts = piles.flatMap(({ toDo, estimate: { resin } }) => (toDo.wrap && resin.known ? [resin] : []));
  const net = parts.reduce((total, one) => total + one.net.si, 0);
  const wastes = [...new Set(parts.map(({ wastePct }) => `${wastePct} %`))].join(", ");
  const ratios = [...new Set(parts.map(({ ratio }) => ratio))].join("; ");
  const part = (name: string, figure: Figure): OrderLine => ({
    item: `Jacket resin, part ${name}`, size: ratios, net: shown({ si: (figure.si * net) / mass.si, unit: "kg" }, 2), waste: wastes, order: shown(figure, 2), note: shown({ ...figure, unit: "lb" }, 1),
  });
  return [part("A", a), part("B", b), { item: "Resin batches", size: "", net: "", waste: "", order: batches === null ? "cannot tell" : many(batches, "batch", "batches"), note: because ?? "of equal mass, each jacket for itself" }];
}

function bagsOf(piles: readonly PileToOrder[]): { bags: number; line: OrderLine }[] {
  const mixes = new Map<string, { strength: string | null; bagYield: Figure; waste: number; volume: number; bags: number; piles: number }>();
  for (const { toDo, estimate: { grout, strength } } of piles) {
    if (!toDo.grout || !grout.known) continue;
    const key = [strength, grout.bagYield.si, grout.wastePct].join(" ");
    const mix = mixes.get(key) ?? { strength, bagYield: grout.bagYield, waste: grout.wastePct, volume: 0, bags: 0, piles: 0 };
    mixes.set(key, { ...mix, volume: mix.volume + grout.volume.si, bags: mix.bags + grout.bags, piles: mix.piles + 1 });
  }
  return [...mixes.values()].map(({ strength, bagYield, waste, volume, bags, piles: count }) => ({
    bags,
    line: {
      item: "Grout", size: [strength, `${written(bagYield)} a bag`].filter(Boolean).join(", "), net: shown({ si: volume, unit: bagYield.unit }, 1), waste: `${waste} %`, order: many(bags, "bag"), note: `${many(count, "pile")}, each rounded up`,
    },
  }));
}

/** What is counted in pieces, by its size. */
function pieceLines(piles: readonly PileToOrder[]): OrderLine[] {
  const found = new Map<string, { item: string; size: string; word: string; count: number; note: string }>();
  const add = (item: string, size: string, word: string, count: number | null, note = ""): void => {
    if (!count) return;
    const key = `${item} ${size}`;
    found.set(key, { item, size, word, note, count: (found.get(key)?.count ?? 0) + count });
  };
  for (const { toDo, estimate } of piles) {
    const { spacer, spacers, bars, holes, clamps, core, ties, tieSets } = estimate;
    if (toDo.inside) {
      if (bars.known) add("Bars", [bars.size, bars.length && written(bars.length)].filter(Boolean).join(", "), "bar", bars.count);
      if (holes.known) add("Anchor resin", `${written(holes.cartridge)} cartridge`, "cartridge", holes.cartridges, `${holes.wastePct} % waste, each pile rounded up`);
      if (spacer.known) add("Spacers", written(spacer.size), "spacer", spacers);
      add(core === "round" ? "Lag connectors" : "Shear clamps", "", core === "round" ? "connector" : "clamp", clamps);
    }
    if (toDo.wrap) add("Tie sets", ties.known ? `rated ${written(ties.rating)}` : "", "set", tieSets);
  }
  return [...found.values()]
    .sort((a, b) => PIECES.indexOf(a.item) - PIECES.indexOf(b.item) || a.size.localeCompare(b.size, "en", { numeric: true }))
    .map(({ item, size, word, count, note }) => ({ item, size, net: `${count}`, waste: "", order: many(count, word), note }));
}

const PIECES = ["Bars", "Anchor resin", "Spacers", "Shear clamps", "Lag connectors", "Tie sets"];
