import { z } from "zod";
import { UNIT_SYMBOLS } from "#lib/domain/quantity/unit";
import { POINT_KINDS } from "#lib/domain/point/state";
import { DecimalText, itemRule, PotLifeSchema, RuleSchema, type Rule } from "#lib/domain/requirement/rule";

export const ROLES = [
  "crew member",
  "crew lead",
  "QC manager",
  "inspector",
  "delegate",
  "engineer",
  "owner",
  "administrator",
] as const;
export type Role = (typeof ROLES)[number];

const Words = z.string().min(1).max(400);
const Id = z.string().regex(/^[a-z][a-zA-Z0-9-]{0,39}$/);
export const LineIdSchema = z.string().regex(/^P?\d{1,2}[a-z]?$/);

/** Limits that follow from the design of the set. */
export const FOLLOWED = ["jacket length", "overlap", "contact share"] as const;

/** What the tool works out itself from other quantities of the same point, named in `from`. */
const DerivedSchema = z.strictObject({
  formula: z.enum(["embedment", "ratio error", "dew margin", "elapsed", "cure", "maturity", "equivalent age", "pot life"]),
  from: z.array(Id),
});

/** How accurate an instrument has to be: a share of the value, or an amount in the unit of the rule. */
const RequiredAccuracySchema = z.strictObject({ kind: z.enum(["per cent", "absolute"]), value: DecimalText.refine((text) => Number(text) > 0, "An accuracy is more than nothing.") });

export const QuantitySchema = z.strictObject({
  id: Id,
  name: Words,
  rule: RuleSchema,
  /** Class of instrument that has to be named with the value, such as "torque wrench". */
  instrument: Words.nullable(),
  /** What the instrument has to be accurate to; null where nothing is asked. */
  accuracy: RequiredAccuracySchema.nullable().default(null),
  derived: DerivedSchema.nullable(),
  /** A limit that is worked out from the set's design, and changes with it; null where it is the specification's own. */
  follows: z.enum(FOLLOWED).nullable().default(null),
  hint: Words.nullable(),
});
export type Quantity = z.infer<typeof QuantitySchema>;

export const PhotoSubjectSchema = z.strictObject({
  id: Id,
  name: Words,
  count: z.int().min(1).max(60),
  hint: Words.nullable(),
  /** Other bounds than the point's own, where the subject asks for them. */
  window: z.enum(["point", "since lift began", "last look"]),
});
export type PhotoSubject = z.infer<typeof PhotoSubjectSchema>;

const WaitSchema = z.strictObject({
  kind: z.enum(["at least", "at most"]),
  /** The point whose "work ended" starts the wait. */
  from: LineIdSchema,
  hours: DecimalText,
  /** What at this point ends an "at most" wait. */
  until: z.enum(["began", "released"]),
  name: Words,
});
export type Wait = z.infer<typeof WaitSchema>;

const ReleaseSchema = z.strictObject({
  /** Roles that may decide. With `all`, one decision of each is needed. */
  roles: z.array(z.enum(ROLES)).min(1),
  all: z.boolean(),
  /** Recorded as released by the system as soon as it is submitted with every value meeting. */
  automatic: z.boolean(),
  /** Roles that decide when a value fails, with the reason the contract gives them that power. */
  whenFails: z.array(z.enum(ROLES)),
});

export const PlanLineSchema = z.strictObject({
  line: LineIdSchema,
  name: Words,
  kind: z.enum(POINT_KINDS),
  /** Null when the point applies; otherwise the stated reason why it does not. */
  notApplicable: Words.nullable(),
  after: z.array(LineIdSchema),
  waits: z.array(WaitSchema),
  /** Points in one resin batch let each other begin when submitted with no value that fails. */
  batch: Id.nullable(),
  /** The access check is the gate of a shift and bent; work under the gate may begin only while it is current. */
  gate: z.enum(["is the gate", "under the gate", "free"]),
  /** The points whose work hides this one. */
  hiddenBy: z.array(LineIdSchema),
  quantities: z.array(QuantitySchema),
  photos: z.array(PhotoSubjectSchema),
  documents: z.array(z.strictObject({ id: Id, name: Words, required: z.boolean() })),
  lots: z.array(z.strictObject({ id: Id, name: Words, kind: Words })),
  submits: z.array(z.enum(ROLES)),
  release: ReleaseSchema,
  /** Whether a release on evidence alone is allowed, and on how many photos in order; null: never. */
  evidenceOnly: z.strictObject({ photos: z.int().min(0).max(60) }).nullable().default(null),
  /** Where the point is judged from a register and nothing is submitted at it. */
  register: z.enum(["instruments", "lots"]).nullable(),
});
export type PlanLineSpec = z.infer<typeof PlanLineSchema>;

/** A quantity as the specification writes it. */
export const AmountSchema = z.strictObject({ value: DecimalText, unit: z.enum(UNIT_SYMBOLS) });
export type Amount = z.infer<typeof AmountSchema>;

/** What drawings and data sheets say that quantities are worked out from. A part that is null cannot be worked out, and the tool says so. */
export const DesignSchema = z.strictObject({
  section: z.discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("HP"), shape: Words }),
    z.strictObject({ kind: z.literal("square"), side: AmountSchema, chamfer: AmountSchema }),
    z.strictObject({ kind: z.literal("round"), diameter: AmountSchema }),
  ]),
  sheet: z.strictObject({ thickness: AmountSchema, overlap: AmountSchema, rollLength: AmountSchema, rollWidth: AmountSchema }).nullable(),
  bars: z.strictObject({ size: Words, length: AmountSchema.nullable() }).nullable(),
  holes: z.strictObject({ diameter: AmountSchema, depth: AmountSchema, wastePct: DecimalText, cartridge: AmountSchema }).nullable(),
  spacer: z.strictObject({ size: AmountSchema, coverMin: AmountSchema.nullable() }).nullable(),
  resin: z
    .strictObject({
      a: DecimalText, b: DecimalText, basis: z.enum(["mass", "volume"]), density: AmountSchema, densityA: AmountSchema.nullable(), densityB: AmountSchema.nullable(),
      film: AmountSchema, wastePct: DecimalText, potLife: PotLifeSchema, batchCap: AmountSchema, spreadRate: AmountSchema, usableShare: DecimalText,
    })
    .nullable(),
  grout: z
    .strictObject({
      density: AmountSchema, bagYield: AmountSchema, wastePct: DecimalText, firstLift: AmountSchema, liftMax: AmountSchema, setHours: DecimalText,
      takeMin: DecimalText, takeMax: DecimalText,
    })
    .nullable(),
  ties: z.strictObject({ spacing: AmountSchema, rating: AmountSchema, factor: DecimalText }).nullable(),
});
export type Design = z.infer<typeof DesignSchema>;

export const CORES = ["H", "square", "round"] as const;

export const RequirementSetSchema = z
  .strictObject({
    type: z.string().regex(/^[A-Z]$/),
    name: Words,
    core: z.enum(CORES),
    /** Width across the pile, inches, as drawn. */
    coreWidthIn: DecimalText,
    /** Facts that the drawings of a pile need, in the unit of the specification. */
    jacket: z.strictObject({
      insideDiameterIn: DecimalText,
      heightIn: DecimalText,
      layers: z.int().min(1).max(6),
      spacerRings: z.int().min(0).max(20),
      tieSets: z.int().min(0).max(40),
      clamps: z.int().min(0).max(40),
      bars: z.int().min(0).max(60),
    }),
    /** Null: nothing is estimated for this type. */
    design: DesignSchema.nullable().default(null),
    lines: z.array(PlanLineSchema).min(1),
  })
  .superRefine(({ lines }, context) => reportLineFaults(lines, ["lines"], context));
export type RequirementSet = z.infer<typeof RequirementSetSchema>;

/** A requirement set for the project sheet and one for each pile type, issued together under one revision letter. */
export const RevisionSchema = z
  .strictObject({
    format: z.literal(1),
    letter: z.string().regex(/^[A-Z]$/),
    title: Words,
    projectLines: z.array(PlanLineSchema).min(1),
    sets: z.array(RequirementSetSchema).min(1),
  })
  .superRefine(({ projectLines, sets }, context) => {
    reportLineFaults(projectLines, ["projectLines"], context);
    const known = new Set(projectLines.map(({ line }) => line));
    const types = new Set(sets.map(({ type }) => type));
    if (types.size !== sets.length) context.addIssue({ code: "custom", path: ["sets"], message: "One pile type has two requirement sets." });
    sets.forEach(({ lines }, index) => {
      for (const { line, after } of lines) {
        const stray = after.find((before) => before.startsWith("P") && !known.has(before));
        if (stray) context.addIssue({ code: "custom", path: ["sets", index, "lines"], message: `Point ${line} stands on ${stray}, which is no point of the project sheet.` });
      }
    });
  });
export type Revision = z.infer<typeof RevisionSchema>;

type Reporter = { addIssue(issue: { code: "custom"; path: (string | number)[]; message: string }): void };

/** A line may only stand on lines before it and be hidden by lines after it, so the plan can be walked once from top to bottom. */
function reportLineFaults(lines: readonly PlanLineSpec[], path: (string | number)[], context: Reporter): void {
  const seen = new Set<string>();
  lines.forEach((line, index) => {
    const fault = (message: string) => context.addIssue({ code: "custom", path: [...path, index], message });
    if (seen.has(line.line)) fault(`Point ${line.line} is written twice.`);
    seen.add(line.line);
    const isBefore = (other: string): boolean => other !== line.line && seen.has(other);
    for (const before of line.after) {
      if (!isBefore(before) && !(before.startsWith("P") && !line.line.startsWith("P"))) fault(`Point ${line.line} stands on ${before}, which is not a point before it.`);
    }
    for (const { from } of line.waits) {
      if (!isBefore(from)) fault(`Point ${line.line} waits for ${from}, which is not a point before it.`);
    }
    for (const hider of line.hiddenBy) {
      if (seen.has(hider) || !lines.some((one) => one.line === hider)) fault(`Point ${line.line} is hidden by ${hider}, which is not a point after it.`);
    }
    if (line.kind === "H" && line.release.roles.every((role) => CONTRACTOR_ROLES.has(role))) fault(`Point ${line.line} is a hold point, and nobody independent of the contractor releases it.`);
    const ids = new Set(line.quantities.map((quantity) => quantity.id));
    if (ids.size !== line.quantities.length) fault(`Point ${line.line} names one quantity twice.`);
    for (const quantity of line.quantities) {
      for (const message of quantityFaults(quantity, ids, isBefore)) fault(message);
    }
  });
}

/** Roles that a contractor's people hold. */
const CONTRACTOR_ROLES: ReadonlySet<Role> = new Set(["crew member", "crew lead", "QC manager", "administrator"]);

/** Rules that judge what the tool works out, with the formula that gives it. */
export const WORKED_OUT_BY: Partial<Record<Rule["form"], NonNullable<Quantity["derived"]>["formula"]>> = {
  ratio: "ratio error", elapsed: "elapsed", cure: "cure", maturity: "maturity", "equivalent age": "equivalent age", "pot life": "pot life",
};

function quantityFaults({ name, rule, derived }: Quantity, ids: ReadonlySet<string>, isBefore: (line: string) => boolean): string[] {
  const item = itemRule(rule);
  const wanted = WORKED_OUT_BY[item.form];
  const from = item.form === "elapsed" ? item.from.line : "from" in item ? item.from : null;
  const fits = wanted ? derived?.formula === wanted : !derived || !Object.values(WORKED_OUT_BY).includes(derived.formula);
  return [
    ...(derived?.from ?? []).filter((source) => !ids.has(source)).map((source) => `${name} is worked out from ${source}, which the point does not measure.`),
    ...(fits ? [] : [`${name} is judged by a rule of form ${item.form}, and is worked out by ${derived?.formula ?? "nobody"}.`]),
    ...(from === null || isBefore(from) ? [] : [`${name} runs from point ${from}, which is not a point before it.`]),
  ];
}
