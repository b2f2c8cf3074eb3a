import { inUnit, oneBatchWords, shown, shownBeside, shownDigits, written, writtenDigits, type Figure } from "#lib/domain/estimate/figure";
import type { PileEstimate } from "#lib/domain/estimate/pile-estimate";
import { shownNumber } from "#lib/domain/quantity/measured";

/** One line of the working: the formula with its numbers in it, what comes out in both systems, and where the formula is from. */
export interface WorkingLine {
  part: string;
  formula: string;
  result: string;
  beside: string;
  source: string;
}

const GEOMETRY = "geometry";
const STATICS = "statics of a fluid";

/** The arithmetic of a pile line by line, for somebody who does it again by hand. Parts that are not known have no line. */
export function workingOf(estimate: PileEstimate): WorkingLine[] {
  return [...spaceLines(estimate), ...jacketLines(estimate), ...groutLines(estimate), ...headLines(estimate)];
}

const line = (part: string, formula: string, figure: Figure, source: string, note = ""): WorkingLine => ({ part, formula, result: note ? `${shown(figure)}, ${note}` : shown(figure), beside: shownBeside(figure), source });

function spaceLines({ section, spacer, bars, holes, cut }: PileEstimate): WorkingLine[] {
  const lines: WorkingLine[] = [];
  if (section.known) {
    lines.push({ part: "Section", formula: `${section.words}; widest ${shown(section.widest)} from corner to corner`, result: shown(section.area), beside: shownBeside(section.area), source: section.section.kind === "HP" ? "AISC Manual, Table 1-4" : GEOMETRY });
  }
  if (section.known && spacer.known && cut.known) {
    const fit = spacer.fits ? `${written(spacer.size)} goes in, ${shown(spacer.play)} play` : `${written(spacer.size)} does not go in`;
    lines.push(line("Clearance at the corner", `(D − widest) / 2 = (${shownDigits(cut.insideDiameter)} − ${shownDigits(section.widest)}) / 2`, spacer.clearance, GEOMETRY, fit));
    if (spacer.cover) lines.push({ part: "Cover at the corner", formula: `at least ${written(spacer.cover.min)}, held against the corner`, result: spacer.cover.verdict, beside: "", source: GEOMETRY });
  }
  if (bars.known && holes.known) {
    const bar: Figure = { si: bars.bar.diameterMm / 1_000, unit: "in" };
    const formula = `π/4 · (${shownDigits(holes.diameter, 3)}² − ${shownDigits(bar, 3)}²) · ${shownDigits(holes.depth)} · ${holes.count} · ${factor(holes.wastePct)}`;
    lines.push(line("Resin for the bars", formula, holes.all, GEOMETRY, `${shown(holes.each, 1)} a hole, ${holes.cartridges} × ${written(holes.cartridge)}`));
  }
  return lines;
}

function jacketLines({ cut, coat, resin }: PileEstimate): WorkingLine[] {
  const lines: WorkingLine[] = [];
  if (cut.known) {
    const { layers: n, insideDiameter, thickness, overlap } = cut;
    lines.push(line("Jacket length", `nπ(D + nt) + overlap = ${n}π(${shownDigits(insideDiameter)} + ${n} · ${shownDigits(thickness, 3)}) + ${shownDigits(overlap)}`, cut.length, GEOMETRY, `${shown(cut.thicknessAdds)} short without the thickness`));
    if (coat.known) {
      const between = n < 2 ? "" : n === 2 ? `π(${shownDigits(insideDiameter)} + 2 · ${shownDigits(thickness, 3)}) + ` : `π Σ(D + 2kt), k = 1 to ${n - 1}, + `;
      lines.push(line("Faces in contact", `${between}${shownDigits(overlap)}`, coat.contact, GEOMETRY, `${(coat.share * 100).toFixed(1)} % of the strip`));
      lines.push(line("Coated area", `${shownDigits(coat.contact)} · ${shownDigits(cut.height, 1)} in`, coat.area, GEOMETRY));
    }
  }
  if (resin.known) {
    const formula = `area · ${written(resin.film)} · ${written(resin.density)} · ${factor(resin.wastePct)}`;
    lines.push(line("Jacket resin", formula, resin.mass, "common practice for the waste", `A ${shown(resin.a)}, B ${shown(resin.b)}`));
    const { rateKgPerMin, usableShare, capKg } = resin.spreading;
    lines.push({
      part: "One batch", formula: `${rateKgPerMin} kg/min · ${usableShare} · pot life, at most ${capKg} kg`, result: resin.oneBatchUpToC === null ? oneBatchWords(resin) : `up to ${oneBatchWords(resin)}`,
      beside: resin.oneBatchUpToC === null ? "" : shown({ si: resin.oneBatchUpToC + 273.15, unit: "°F" }), source: resin.spreading.life.kind === "table" ? "data sheet, between its rows" : `common practice: × 1/${resin.spreading.life.factor} for each 10 °C`,
    });
  }
  return lines;
}

function groutLines({ grout, section, bars, strength }: PileEstimate): WorkingLine[] {
  if (!grout.known || !section.known) return [];
  const barWords = bars.known ? ` − ${bars.count} · ${shownDigits({ si: bars.bar.areaMm2 / 1e6, unit: "in²" }, 2)}` : "";
  const lossWords = grout.lossAdds ? `, ${shown(grout.lossAdds)} of it where section is lost` : "";
  const low = (grout.takeMin * grout.volume.si) / grout.bagYield.si;
  const high = (grout.takeMax * grout.volume.si) / grout.bagYield.si;
  return [
    line("Annulus", `π/4 · D² − pile − bars = π/4 · ${shownDigits(grout.insideDiameter)}² − ${shownDigits(section.area)}${barWords}`, grout.annulus, GEOMETRY),
    line("Grout", `annulus · ${written(grout.height)}`, grout.volume, GEOMETRY, `${shown(grout.withWaste)} with ${grout.wastePct} %${lossWords}`),
    { part: "Bags", formula: `${shownDigits(grout.withWaste, 3)} / ${written(grout.bagYield)} = ${grout.bagsExact.toFixed(4)}`, result: `${grout.bags} bags`, beside: strength ?? "", source: "rounded up for each pile" },
    { part: "Take", formula: `placed / worked out from ${grout.takeMin} to ${grout.takeMax}`, result: `${low.toFixed(1)} to ${high.toFixed(1)} bags placed`, beside: "", source: "the project’s band" },
    { part: "Lifts", formula: `first ${written(grout.lifts[0]?.height ?? grout.height)}, the rest equal`, result: `${grout.lifts.map(({ height }) => writtenDigits(height)).join(" + ")} in`, beside: grout.lifts.map(({ volume, bags }) => `${shown(volume)}, ${bags.toFixed(1)} bags`).join("; "), source: "common practice" },
  ];
}

function headLines({ head, ties, grout }: PileEstimate): WorkingLine[] {
  if (!head.known || !grout.known) return [];
  const { atOnce, most, density } = head;
  const lines = [
    line("All at once, on the seal", `γ · h = ${written(density)} · ${written(atOnce.head)}`, atOnce.pressure, STATICS, `${shown(atOnce.sealForce, 0)} on ${shown(grout.annulus)}; ${shown(atOnce.pressureUnderWater)} with sea water as high outside`),
    line(`Hoop at ${written(most.head)}`, `p · r = ${shown(most.pressure)} · ${shownDigits({ ...grout.insideDiameter, si: grout.insideDiameter.si / 2 })}`, most.hoopPerInch, STATICS, most.hoopStress ? `for each inch of height; ${shown(most.hoopStress, 0)} in a cured jacket` : "for each inch of height"),
  ];
  const last = ties.known ? ties.rows.at(-1) : undefined;
  if (ties.known && last) {
    const mean = inUnit(last.head) - Math.min(inUnit(ties.spacing), inUnit(last.head)) / 2;
    const formula = `γ · z · r · s = ${written(density)} · ${shownNumber(mean, 2)} · ${shownDigits({ ...grout.insideDiameter, si: grout.insideDiameter.si / 2 })} · ${shownDigits(ties.spacing)}`;
    lines.push(line(`Bottom tie at ${written(last.head)}`, `${formula}, z halfway up its spacing`, last.load, STATICS, `may carry ${written(ties.rating)} / ${ties.factor} = ${written(ties.allowed)}: ${last.carries ? "carries" : "does not carry"}; up to ${shown(ties.headLimit, 1)} of unset grout`));
  }
  return lines;
}

const factor = (wastePct: number): string => (1 + wastePct / 100).toFixed(2);
