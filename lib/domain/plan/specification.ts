import type { PotLife } from "#lib/domain/requirement/rule";
import type { PhotoSubject, Quantity, RequirementSet } from "#lib/domain/requirement/set";

/** Every number that the catalogue of points asks for: a specification gives them, and an engineer approves them. */
export interface SpecificationNumbers {
  type: string;
  name: string;
  core: RequirementSet["core"];
  coreWidthIn: string;
  /** Line to the stated reason why it does not apply to the type. */
  notApplicable: Record<string, string>;
  jacket: RequirementSet["jacket"];
  design: RequirementSet["design"];
  tolerances: { heightIn: string; diameterIn: string; cutLengthIn: string; overlapIn: string };
  access: { waterMaxFt: string; windMaxKn: string; waveMaxFt: string };
  cleaning: { zoneMinIn: string; residualMaxPct: string; toCoverUpHours: string };
  preparation: { quantities: Quantity[]; toCoverUpHours: string };
  survey: { quantities: Quantity[]; photos: PhotoSubject[] };
  holes: { diameterMinIn: string; diameterMaxIn: string; depthMinIn: string; cleaningPasses: number; toResinHours: string };
  bars: { size: string; embedmentMinIn: string; baseMinC: string; baseMaxC: string };
  clamps: { boltsEach: number; torqueMin: string; torqueMax: string; retorqueHours: string };
  spacers: { perRing: number; sizeIn: string; toleranceIn: string };
  resin: {
    a: string; b: string; tolerancePct: string; partMinC: string; partMaxC: string; mixMinMin: string; dewMarginK: string; life: PotLife;
  };
  coat: { sharePct: string; filmMinMil: string; filmMaxMil: string };
  wrap: { gapMinIn: string };
  ties: { spacingMaxIn: string; seamGapMaxIn: string; screws: number };
  cure: { hours: string; referenceC: string; minimumC: string; underMinimum: "pause" | "restart" | "void" };
  seal: { kind: string; widthMinIn: string; heldMin: string; dropMaxIn: string; toLiftHours: string };
  firstLift: {
    minIn: string; maxIn: string; waterQt: string; waterToleranceQt: string; flowMinS: string; flowMaxS: string; groutMinC: string; groutMaxC: string;
    setHours: string;
  };
  lifts: { heightMaxIn: string; rateMaxInH: string; shiftMaxIn: string };
  topOff: { levelToleranceIn: string; takeMin: string; takeMax: string; specimens: number };
  strip: { degreeHours: string; datumC: string; hollowMaxIn2: string; voidMaxIn2: string };
  topCoat: { sealWidthMinIn: string; filmMinMil: string; filmMaxMil: string };
  strength: { psi: string; afterHours: string };
}
