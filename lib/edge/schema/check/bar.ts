import { barsApart, basicBondN, bondDesignHolds, bondReachMm, LEAST_BOND_MPA, type Apart } from "#lib/domain/estimate/anchor";
import { embedment } from "#lib/domain/estimate/embedment";
import { holeVolumeMl, injectedAgainstVolume } from "#lib/domain/estimate/hole";
import { BARS, barOf } from "#lib/domain/estimate/section";
import { judge } from "#lib/domain/quantity/compare";
import type { Decimal } from "#lib/domain/quantity/decimal";
import { formatSi } from "#lib/domain/quantity/measured";
import type { Form } from "#lib/edge/schema/check-form";
import { inchesOf, type CheckResult } from "#lib/edge/schema/check/result";

export function embedded(form: Form): CheckResult | null {
  const length = form.si("bar-length", "length", "the length of the bar with its unit, such as 40 in");
  const projection = form.si("projection", "length", "what stands out of the hole with its unit, such as 33.6 in");
  const needed = form.siOrNull("embedment-least", "length");
  const depth = form.siOrNull("hole-depth", "length");
  if (form.failed) return null;
  const found = embedment(length, projection);
  if (found === null) {
    form.fault("projection", "More stands out than the bar is long.");
    return null;
  }
  const bar = barOf(form.text("bar"));
  const held = needed && judge({ valueSi: found, uncertaintySi: 0, min: { si: needed, inclusive: true } });
  const bond = bar && found.gt(0) ? bondDesignHolds({ barMm: bar.diameterMm, embedmentMm: found.times(1_000).toNumber() }) : null;
  return {
    verdict: held?.verdict ?? null,
    words: `${formatSi(found, "in")} (${formatSi(found, "mm", 0)}) in the hole${needed ? `, needs ${formatSi(needed, "in")}${held?.beyond ? `: ${formatSi(held.beyond.si, "in")} short` : ""}` : ""}.`,
    notes: [
      ...(depth === null ? [] : [depth.lt(found.times("0.999999999")) ? `The hole is ${formatSi(depth, "in")} deep: the bar cannot stand ${formatSi(found, "in")} in it. One of the readings is wrong.` : `The hole is ${formatSi(depth, "in")} deep. A deep hole says nothing of the bar.`]),
      ...(bond ? [`${bond.diameters.toFixed(1)} bar diameters: ${bond.holds ? "inside" : "outside"} the 4 to 20 in which the usual bond design holds.`] : []),
    ],
  };
}

const mmOf = (length: Decimal): number => length.times(1_000).toNumber();

/** Resin that fills the gap round a bar, and what was injected against it. */
export function resinHole(form: Form): CheckResult | null {
  const hole = form.positive("resin-hole", "length", "the hole’s diameter with its unit, such as 1 in");
  const bar = form.positive("resin-bar", "length", "the bar’s diameter with its unit, such as 0.75 in");
  const depth = form.positive("resin-depth", "length", "the depth with its unit, such as 7 in");
  const [injected, uncertainty] = [form.siOrNull("resin-injected", "volume"), form.siOrNull("resin-uncertainty", "volume")];
  if (injected?.lt(0)) form.fault("resin-injected", "No less than nothing goes in.");
  if (uncertainty?.lt(0)) form.fault("resin-uncertainty", "An uncertainty is not less than nothing.");
  if (form.failed) return null;
  const volumeMl = holeVolumeMl({ holeDiameterMm: mmOf(hole), barDiameterMm: mmOf(bar), depthMm: mmOf(depth) });
  if (volumeMl === null) {
    form.fault("resin-bar", "The bar does not go into the hole.");
    return null;
  }
  const { verdict, shortMl, because } = injectedAgainstVolume({ injectedMl: injected && injected.times(1e6).toNumber(), uncertaintyMl: uncertainty?.times(1e6).toNumber() ?? 0, volumeMl });
  const short = shortMl === null ? "" : `: ${formatSi(shortMl / 1e6, "mL")} short`;
  return {
    verdict, words: `${formatSi(volumeMl / 1e6, "mL", 2)} (${formatSi(volumeMl / 1e6, "in³")}) round the bar${injected ? `, ${formatSi(injected, "mL")} injected${short}` : ""}.`,
    notes: [...(because ? [because] : []), "π/4 · (hole² − bar²) · depth, without waste and without the end of the hole past the bar."],
  };
}

const { outdoors, indoors } = LEAST_BOND_MPA;
/** Where a bar stands whose adhesive has not been chosen: the least bond stress of a qualified one there, MPa. */
const PLACES = {
  "outdoors, cracked": { bondMpa: outdoors.cracked, uncrackedMpa: outdoors.uncracked },
  "outdoors, uncracked": { bondMpa: outdoors.uncracked, uncrackedMpa: outdoors.uncracked },
  "indoors, cracked": { bondMpa: indoors.cracked, uncrackedMpa: indoors.uncracked },
  "indoors, uncracked": { bondMpa: indoors.uncracked, uncrackedMpa: indoors.uncracked },
} as const;
export const BOND_PLACES = ["outdoors, cracked", "outdoors, uncracked", "indoors, cracked", "indoors, uncracked"] as const satisfies readonly (keyof typeof PLACES)[];

/** Arithmetic on a bar bonded in concrete. It designs nothing. */
export function anchor(form: Form): CheckResult | null {
  const bar = barOf(form.choice("anchor-bar", BARS.map(({ size }) => size), "the size of the bar"));
  const depth = form.positive("anchor-embedment", "length", "the embedment with its unit, such as 10 in");
  const [spacing, edge] = [form.positiveOrNull("anchor-spacing", "length"), form.positiveOrNull("anchor-edge", "length")];
  const bond = bondOf(form);
  if (form.failed || bar === null) return null;
  const [barMm, embedmentMm] = [bar.diameterMm, mmOf(depth)];
  const { diameters, holds } = bondDesignHolds({ barMm, embedmentMm });
  const apart = barsApart({ barMm, spacingMm: spacing && mmOf(spacing), edgeMm: edge && mmOf(edge) });
  const strengthN = basicBondN({ barMm, embedmentMm, bondMpa: bond.bondMpa });
  return {
    verdict: null,
    words: `${formatSi(strengthN, "lbf", 0)} (${formatSi(strengthN, "kN", 2)}) of basic bond strength at ${formatSi(bond.bondMpa * 1e6, "psi", 1)}, for one bar without edges, neighbours or a strength reduction.`,
    notes: [
      "This is arithmetic and no design: a licensed engineer designs anchors.",
      "Nba = τ · π · da · hef, in concrete of normal weight: ACI 318-19, equation 17.6.5.2.1 (read in a design guide that quotes it).",
      ...(bond.assumed ? ["τ is the least of qualified adhesives: ACI 318-19, table 17.6.5.2.5 (read in a design guide that quotes it). Earthquake and sustained tension reduce it."] : []),
      `${diameters.toFixed(1)} bar diameters deep: ${holds ? "inside" : "outside"} the 4 to 20 in which the usual bond design holds: ACI 318-19, 17.3.3 (from memory).`,
      ...apartWords("Spacing", apart.spacing), ...apartWords("Edge distance", apart.edge),
      bond.uncrackedMpa === null
        ? "From where an edge weakens it cannot be told without the bond stress in uncracked concrete."
        : `An edge nearer than ${inchesOf(bondReachMm({ barMm, uncrackedBondMpa: bond.uncrackedMpa }))} weakens it, and a neighbour nearer than twice that: ACI 318-19, equation 17.6.5.1.2b (read in a design guide that quotes it).`,
    ],
  };
}

/** The bond stress of the product, or the least of the place where none is given. */
function bondOf(form: Form): { bondMpa: number; uncrackedMpa: number | null; assumed: boolean } {
  const [bond, uncracked] = [form.positiveOrNull("anchor-bond", "pressure"), form.positiveOrNull("anchor-uncracked", "pressure")];
  const uncrackedMpa = uncracked && uncracked.div(1e6).toNumber();
  if (bond) return { bondMpa: bond.div(1e6).toNumber(), uncrackedMpa, assumed: false };
  const least = PLACES[form.choice("anchor-place", BOND_PLACES, "where it stands, or give a bond stress")];
  return { bondMpa: least.bondMpa, uncrackedMpa: uncrackedMpa ?? least.uncrackedMpa, assumed: true };
}

function apartWords(name: string, apart: Apart | null): string[] {
  if (!apart) return [];
  return [`${name}: ${apart.diameters.toFixed(1)} bar diameters, ${apart.reached ? "not under" : "under"} the least of 6, ${inchesOf(apart.leastMm)}, that holds where the report on the product sets no other: ACI 318-19, tables 17.9.2(a) and (b) (from memory).`];
}
