import type { Unit } from "#lib/domain/quantity/unit";
import type { ItemRule, PotLife, Rule } from "#lib/domain/requirement/rule";
import type { PhotoSubject, PlanLineSpec, Quantity, Role, Wait } from "#lib/domain/requirement/set";

type QuantityOptions = { instrument?: string; accuracy?: Quantity["accuracy"]; derived?: Quantity["derived"]; follows?: Quantity["follows"]; hint?: string };

export function quantity(id: string, name: string, rule: Rule, { instrument, accuracy, derived, follows, hint }: QuantityOptions = {}): Quantity {
  return { id, name, rule, instrument: instrument ?? null, accuracy: accuracy ?? null, derived: derived ?? null, follows: follows ?? null, hint: hint ?? null };
}

export const atLeast = (limit: string, unit: Unit): ItemRule => ({ form: "min", limit, unit, inclusive: true });
export const atMost = (limit: string, unit: Unit): ItemRule => ({ form: "max", limit, unit, inclusive: true });
export const between = (min: string, max: string, unit: Unit): ItemRule => ({ form: "range", min, max, unit, inclusiveMin: true, inclusiveMax: true });
export const about = (nominal: string, tolerance: string, unit: Unit): ItemRule => ({ form: "nominal", nominal, plus: tolerance, minus: tolerance, unit });
export const exactly = (count: number): ItemRule => ({ form: "count", exactly: count, atLeast: null });
export const noFewerThan = (count: number): ItemRule => ({ form: "count", exactly: null, atLeast: count });
export const stated = (photo: string | null = null): ItemRule => ({ form: "statement", photo });
export const recorded = (unit: Unit | null): ItemRule => ({ form: "recorded", unit });
export const each = (of: string, count: number | null, rule: ItemRule): Rule => ({ form: "each", of, count, sample: null, rule });

export function photo(id: string, name: string, count: number, options: { hint?: string; window?: PhotoSubject["window"] } = {}): PhotoSubject {
  return { id, name, count, hint: options.hint ?? null, window: options.window ?? "point" };
}

export const releasedBy = (roles: Role[], options: Partial<PlanLineSpec["release"]> = {}): PlanLineSpec["release"] => ({
  roles,
  all: false,
  automatic: false,
  whenFails: [],
  ...options,
});

export const INSPECTOR = releasedBy(["inspector"]);
export const INSPECTOR_OR_DELEGATE = releasedBy(["inspector", "delegate"]);
export const QC = releasedBy(["QC manager"]);
const CREW: Role[] = ["crew lead", "QC manager"];

export type LineParts = Partial<PlanLineSpec> & Pick<PlanLineSpec, "line" | "name" | "kind" | "after" | "release">;

export function line(parts: LineParts): PlanLineSpec {
  return {
    notApplicable: null,
    waits: [],
    batch: null,
    gate: "under the gate",
    hiddenBy: [],
    quantities: [],
    photos: [],
    documents: [],
    lots: [],
    submits: CREW,
    register: null,
    // A hold point is looked at in person unless its line says otherwise; whoever keeps the record releases its points from it.
    evidenceOnly: parts.kind === "H" || parts.photos === undefined ? null : { photos: 1 },
    ...parts,
  };
}

export const wait = (kind: Wait["kind"], from: string, hours: string, until: Wait["until"], name: string): Wait => ({ kind, from, hours, until, name });

export const RESIN_LOTS = [
  { id: "resin-a", name: "Resin part A", kind: "resin A" },
  { id: "resin-b", name: "Resin part B", kind: "resin B" },
];
export const GROUT_LOT = [{ id: "grout", name: "Grout", kind: "grout" }];

/** What is left of the batch's pot life when the work here ended, at the warmest of its parts and the air. */
export function potLife(name: string, life: PotLife): Quantity {
  return quantity("pot-life", name, { form: "pot life", from: "13", temperatures: ["part-a", "part-b", "air"], life }, { derived: { formula: "pot life", from: [] } });
}

/** Air, humidity and surface, and the margin of the surface over the dew point. */
export function dewQuantities(marginK: string): Quantity[] {
  return [
    quantity("air", "Air temperature", recorded("°C"), { instrument: "thermometer" }),
    quantity("humidity", "Relative humidity", recorded("%"), { instrument: "hygrometer" }),
    quantity("surface", "Surface temperature", recorded("°C"), { instrument: "thermometer", hint: "The pile's own, under the deck, not the air's." }),
    quantity("dew-margin", "Surface above dew point", atLeast(marginK, "K"), { derived: { formula: "dew margin", from: ["air", "humidity", "surface"] } }),
  ];
}
