import { z } from "zod";
import { parseUnit } from "#lib/domain/quantity/unit";
import type { Fault } from "#lib/domain/refusal";
import { lifeOf, lifeText } from "#lib/domain/requirement/rule-field";
import type { Values } from "#lib/domain/requirement/draft-quantity";
import type { PotLife } from "#lib/domain/requirement/rule";
import { DesignSchema, RequirementSetSchema, type Amount, type Design, type RequirementSet } from "#lib/domain/requirement/set";

type FactKind = "amount" | "number" | "words" | "life" | "basis";
export interface DesignField {
  name: string;
  label: string;
  kind: FactKind;
  optional?: boolean;
}
type Part = Exclude<keyof Design, "section">;

const amount = (name: string, label: string, optional = false): DesignField => ({ name, label, kind: "amount", optional });
const number = (name: string, label: string): DesignField => ({ name, label, kind: "number" });

/** What drawings and data sheets give, part by part. A part with nothing in it is not on file. */
export const DESIGN_PARTS: Record<Part, { title: string; fields: readonly DesignField[] }> = {
  sheet: { title: "Sheet and roll", fields: [amount("thickness", "Thickness of one layer"), amount("overlap", "Overlap"), amount("rollLength", "Length of a roll"), amount("rollWidth", "Width of a roll")] },
  bars: { title: "Bars", fields: [{ name: "size", label: "Size", kind: "words" }, amount("length", "Length", true)] },
  holes: { title: "Anchor holes", fields: [amount("diameter", "Diameter"), amount("depth", "Depth"), number("wastePct", "Waste, %"), amount("cartridge", "In a cartridge")] },
  spacer: { title: "Spacers", fields: [amount("size", "Size"), amount("coverMin", "Least cover", true)] },
  resin: {
    title: "Resin, by its data sheet",
    fields: [
      number("a", "Parts A"), number("b", "Parts B"), { name: "basis", label: "By", kind: "basis" }, amount("density", "Density, mixed"), amount("densityA", "Density of A", true), amount("densityB", "Density of B", true),
      amount("film", "Wet film"), number("wastePct", "Waste, %"), amount("batchCap", "Most in one batch"), amount("spreadRate", "Spread in a minute"), number("usableShare", "Usable share of the pot life"),
      { name: "potLife", label: "Pot life, each line °C: min", kind: "life" },
    ],
  },
  grout: {
    title: "Grout, by its data sheet",
    fields: [amount("density", "Density, wet"), amount("bagYield", "Yield of a bag"), number("wastePct", "Waste, %"), amount("firstLift", "First lift"), amount("liftMax", "Highest lift"), number("setHours", "Set, h"), number("takeMin", "Take, from"), number("takeMax", "Take, to")],
  },
  ties: { title: "Ties", fields: [amount("spacing", "Spacing"), amount("rating", "Rating"), number("factor", "Factor on the rating")] },
};
const PARTS = Object.entries(DESIGN_PARTS) as [Part, (typeof DESIGN_PARTS)[Part]][];

export const JACKET_FACTS = [
  ["insideDiameterIn", "Inside diameter, in"], ["heightIn", "Height, in"], ["layers", "Layers"], ["spacerRings", "Spacer rings"], ["tieSets", "Tie sets"], ["clamps", "Clamps or connectors"], ["bars", "Bars"],
] as const;

/** Text to the facts of a section: the shape, or the measures of the core. */
export const SECTION_FIELDS: Record<RequirementSet["core"], readonly DesignField[]> = {
  H: [{ name: "shape", label: "Shape, as rolled", kind: "words" }],
  square: [amount("side", "Side"), amount("chamfer", "Chamfer")],
  round: [amount("diameter", "Diameter")],
};
const OwnFacts = z.strictObject({ name: RequirementSetSchema.shape.name, coreWidthIn: RequirementSetSchema.shape.coreWidthIn, jacket: RequirementSetSchema.shape.jacket });
const SECTION_KIND = { H: "HP", square: "square", round: "round" } as const;

const amountText = ({ value, unit }: Amount): string => `${value} ${unit}`;

/** The facts of one type as the texts of its form. */
export function valuesOfSet({ name, core, coreWidthIn, jacket, design }: RequirementSet): Values {
  const values: Values = { name, coreWidthIn };
  for (const [field] of JACKET_FACTS) values[`jacket-${field}`] = String(jacket[field]);
  if (!design) return values;
  const put = (part: string, fields: readonly DesignField[], from: object): void => {
    for (const { name: field, kind } of fields) {
      const value = (from as Record<string, unknown>)[field];
      values[`${part}-${field}`] = value === null || value === undefined ? "" : kind === "amount" ? amountText(value as Amount) : kind === "life" ? lifeText(value as PotLife) : String(value);
    }
  };
  put("section", SECTION_FIELDS[core], design.section);
  for (const [part, { fields }] of PARTS) {
    const from = design[part];
    if (from) put(part, fields, from);
  }
  return values;
}

/**
 * Reads the facts of a type from the texts of its form. A part that is left empty is null, and what needs it says so; a part that is
 * begun is given whole. What is wrong names its field.
 */
export function readSet(values: Values, set: RequirementSet): { set: RequirementSet } | { faults: Fault[] } {
  const text = (name: string): string => (values[name] ?? "").trim();
  const faults: Fault[] = [];
  const part = (name: string, fields: readonly DesignField[]): Record<string, unknown> | null => {
    if (fields.every((field) => text(`${name}-${field.name}`) === "" || field.kind === "basis")) return null;
    return Object.fromEntries(fields.map((field) => [field.name, valueOf(field, text(`${name}-${field.name}`))]));
  };
  const section = part("section", SECTION_FIELDS[set.core]);
  const parts = Object.fromEntries(PARTS.map(([name, { fields }]) => [name, part(name, fields)]));
  const begun = Object.values(parts).some((one) => one !== null);
  if (begun && !section) faults.push({ field: `section-${SECTION_FIELDS[set.core][0]?.name ?? ""}`, message: "Give the section of the pile: quantities are worked out around it." });
  const design = section ? DesignSchema.safeParse({ section: { kind: SECTION_KIND[set.core], ...section }, ...parts }) : null;
  if (design && !design.success) faults.push(...design.error.issues.map(({ path, message }) => designFault(path.map(String), message)));
  const jacket = Object.fromEntries(JACKET_FACTS.map(([field]) => [field, field.endsWith("In") ? text(`jacket-${field}`) : wholeOf(text(`jacket-${field}`))]));
  const own = OwnFacts.safeParse({ name: text("name"), coreWidthIn: text("coreWidthIn"), jacket });
  if (!own.success) faults.push(...own.error.issues.map(({ path }) => ({ field: path.join("-"), message: path[0] === "name" ? "Give the type a name." : `${labelOf(path.map(String))}: give ${path.at(-1)?.toString().endsWith("In") ? "a plain number, such as 24.0" : "a whole number in its bounds"}.` })));
  if (faults.length > 0 || !own.success) return { faults };
  return { set: { ...set, ...own.data, design: design?.success ? design.data : null } };
}

function labelOf([first, second]: readonly string[]): string {
  return first === "jacket" ? (JACKET_FACTS.find(([field]) => field === second)?.[1] ?? "Jacket") : "Width of the core";
}

function valueOf({ kind, optional }: DesignField, text: string): unknown {
  if (text === "" && optional) return null;
  if (kind === "life") return lifeOf(text);
  if (kind !== "amount") return text;
  const [, value = "", unit = ""] = /^([-\d.]+)\s*(.*)$/.exec(text) ?? [];
  return { value, unit: parseUnit(unit) ?? unit };
}

function wholeOf(text: string): number | string {
  return /^\d{1,3}$/.test(text) ? Number(text) : text;
}

function designFault([part = "", field = ""]: readonly string[], message: string): Fault {
  const fields = part === "section" ? Object.values(SECTION_FIELDS).flat() : (DESIGN_PARTS[part as Part]?.fields ?? []);
  const found = fields.find(({ name }) => name === field);
  const says = { amount: "give a number and its unit, such as 0.085 in", number: "give a plain number, such as 1.10", words: "say it in words", life: `${/^(Invalid|Too)/.test(message) ? "give at least two lines such as 25: 40, or one line such as 40 min at 25, factor 2" : message.replace(/\.$/, "")}`, basis: "choose mass or volume" };
  return { field: `${part}-${field}`, message: `${found?.label ?? part}: ${found ? says[found.kind] : message}.` };
}
