import { inUnit, type Figure } from "#lib/domain/estimate/figure";
import { notWorkedOut } from "#lib/domain/estimate/pile-estimate";
import { batchPlan } from "#lib/domain/estimate/resin";
import type { CellValue, ColumnDef, Table } from "#lib/closeout/package-input";
import type { EstimatePile, EstimateView } from "#lib/services/estimate-view";

export const ESTIMATE_TABLES = ["piles", "cuts", "order"] as const;
export type EstimateTable = (typeof ESTIMATE_TABLES)[number];

/** An estimate as a table: by pile, by cut, or the order list. Numbers are rounded for reading, units stand in the names of the columns. */
export function estimateTable(view: EstimateView, name: EstimateTable, celsius: number | null): Table {
  switch (name) {
    case "piles":
      return { name: "estimate-piles", description: "Quantities of each pile that is counted", columns: PILE_COLUMNS, rows: view.piles.map((pile) => pileRow(pile, celsius)) };
    case "cuts":
      return { name: "estimate-cuts", description: "Cut list: one row for each jacket on its roll", columns: CUT_COLUMNS, rows: cutRows(view) };
    case "order":
      return { name: "estimate-order", description: "Order list with waste", columns: ORDER_COLUMNS, rows: view.order.lines.map(({ item, size, net, waste, order, note }) => [item, size, net, waste, order, note]) };
  }
}

const words = (name: string, description: string): ColumnDef => ({ name, type: "string", description });
const number = (name: string, description: string): ColumnDef => ({ name, type: "number", description, nullable: true });
const count = (name: string, description: string): ColumnDef => ({ name, type: "integer", description, nullable: true });

const PILE_COLUMNS: ColumnDef[] = [
  words("mark", "Mark of the pile"), words("bent", "Bent"), words("type", "Pile type"), words("revision", "Requirement revision that its jacket is cut under"), words("done", "How far it has come"),
  number("length_in", "Length of the strip, in"), number("length_mm", "Length of the strip, mm"), number("height_in", "Height of the strip, in"), number("contact_in", "Length of the faces that touch a layer, in"),
  number("contact_pct", "Share of the strip that is coated, per cent"), number("resin_kg", "Mixed resin with waste, kg"), number("resin_a_kg", "Part A, kg"), number("resin_b_kg", "Part B, kg"),
  number("one_batch_to_c", "Temperature up to which one batch does, °C"), count("batches", "Batches at the temperature given"), number("annulus_in2", "Area between jacket and pile, in²"),
  number("grout_ft3", "Grout without waste, ft³"), number("grout_l", "Grout without waste, L"), count("bags", "Bags, rounded up"), words("lifts_in", "Heights of the lifts from the bottom, in"),
  number("spacer_clearance_in", "Clearance at the corner, in"), number("seal_lbf", "Force on the seal if all is poured at once, lbf"), number("tie_head_in", "Highest unset grout that the ties carry before the jacket is cured, in"),
  words("cannot_tell", "Parts that are not worked out, with why"),
];

function pileRow({ mark, bent, type, letter, done, estimate }: EstimatePile, celsius: number | null): CellValue[] {
  const { cut, coat, resin, grout, spacer, head, ties } = estimate;
  const plan = resin.known && celsius !== null ? batchPlan(resin.mass.si, celsius, resin.spreading) : null;
  const missing = notWorkedOut(estimate).map(({ parts, because }) => `${parts.join(", ")}: ${because}`);
  return [
    mark, bent, type, letter, done,
    cut.known ? rounded(cut.length, "in") : null, cut.known ? rounded(cut.length, "mm") : null, cut.known ? rounded(cut.height, "in") : null, coat.known ? rounded(coat.contact, "in") : null,
    coat.known ? round(coat.share * 100) : null, resin.known ? round(resin.mass.si, 4) : null, resin.known ? round(resin.a.si, 4) : null, resin.known ? round(resin.b.si, 4) : null,
    resin.known && resin.oneBatchUpToC !== null ? round(resin.oneBatchUpToC, 1) : null, plan?.batches ?? null, grout.known ? rounded(grout.annulus, "in²") : null,
    grout.known ? rounded(grout.volume, "ft³") : null, grout.known ? rounded(grout.volume, "L") : null, grout.known ? grout.bags : null, grout.known ? grout.lifts.map(({ height }) => rounded(height, "in")).join(" + ") : "",
    spacer.known ? rounded(spacer.clearance, "in") : null, head.known ? rounded(head.atOnce.sealForce, "lbf") : null, ties.known ? rounded(ties.headLimit, "in") : null, missing.join("; "),
  ];
}

const CUT_COLUMNS: ColumnDef[] = [
  { name: "roll", type: "integer", description: "Number of the roll" }, words("lot", "Jacket lot in hand; empty: any one lot"), words("mark", "Mark of the pile"), words("type", "Pile type"),
  { name: "from_in", type: "number", description: "Where the cut begins on the roll, in" }, { name: "length_in", type: "number", description: "Length, in" }, { name: "length_mm", type: "number", description: "Length, mm" },
  { name: "height_in", type: "number", description: "Height, in" }, { name: "roll_length_in", type: "number", description: "Length of the roll, in" }, { name: "left_in", type: "number", description: "Left of the roll, in" },
];

function cutRows({ order }: EstimateView): CellValue[][] {
  return order.sheets.flatMap(({ rolls, rollLength }) =>
    rolls.flatMap(({ number: roll, lot, pieces, left }) =>
      pieces.map(({ mark, type, from, length, height }) => [
        roll, lot ?? "", mark, type, rounded({ si: from, unit: "in" }, "in"), rounded(length, "in"), rounded(length, "mm"), rounded(height, "in"), rounded(rollLength, "in"), rounded(left, "in"),
      ]),
    ),
  );
}

const ORDER_COLUMNS: ColumnDef[] = [
  words("material", "Material"), words("size", "Size"), words("net", "What the drawings need"), words("waste", "What is added"), words("order", "What to order"), words("note", "Note"),
];

/** Places that a table keeps: a hundredth of a millimetre is more than anybody cuts. */
const round = (value: number, places = 3): number => Number(value.toFixed(places));
const rounded = (figure: Figure, unit: Figure["unit"]): number => round(inUnit({ ...figure, unit }));
