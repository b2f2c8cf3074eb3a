import { PILE_MARK } from "#lib/closeout/pile-mark";
import type { PileState, PointState } from "#lib/domain/point/state";

const BOX = "M2 2H18V18H2Z";
const line = (path: string, width: number, color = "var(--ink)", more = ""): string => `<path d="${path}" fill="none" stroke="${color}" stroke-width="${width}"${more}/>`;
const RISING = "M2 12L12 2M2 18L18 2M8 18L18 8";
const FALLING = "M2 8L12 18M2 2L18 18M8 2L18 12";
const WAVES = "M2 7q4-4 8 0t8 0M2 13q4-4 8 0t8 0";
const BROKEN = ' stroke-dasharray="3 2.3"';
const SOLID = '<path d="M1.5 1.5h17v17h-17z" fill="var(--ink)"/>';

const MARK: Record<PointState, string> = {
  "not open": line(BOX, 1.6, "var(--ink)", BROKEN),
  open: line(BOX, 2.4, "var(--held)"),
  draft: line(BOX, 1.8) + line("M5 6h10M5 10h10M5 14h10", 1.8, "var(--ink)", ' stroke-dasharray="1.8 2.3"'),
  submitted: line(BOX, 1.8) + line(RISING, 2),
  "QC checked": line(BOX, 1.8) + line(RISING + FALLING, 1.8),
  released: SOLID,
  "released under concession": SOLID + line("M1.5 18.5L18.5 1.5", 4.4, "var(--sheet)"),
  rejected: line("M2 2L18 18M18 2L2 18", 4, "var(--rejected)"),
  "in doubt": line(BOX, 1.8, "var(--doubt)") + line(WAVES, 2, "var(--doubt)"),
  expired: `<circle cx="10" cy="10" r="8" fill="none" stroke="var(--doubt)" stroke-width="2"/>${line("M10 4.5V10h5M2 18L18 2", 2, "var(--doubt)")}`,
  "notice lapsed": `${line(BOX, 1.8)}<path d="M2 2h8v16H2z" fill="var(--ink)"/>`,
  "not applicable": line("M3 17L17 3", 1.6),
  "out of scope": line("M3.5 3.5h13v13h-13z", 1.3, "var(--ink)", BROKEN) + line("M0 10h20", 1.8),
  conflict: line("M1.5 1.5h12v12h-12z", 2, "var(--rejected)") + '<path d="M6.5 6.5h12v12h-12z" fill="var(--sheet)" stroke="var(--rejected)" stroke-width="2"/>',
};

/** The mark of a state beside its word; the word says the same, so the mark is hidden from readers that speak. */
export function stateMarkSvg(state: PointState | PileState): string {
  const drawn = state in MARK ? MARK[state as PointState] : MARK[PILE_MARK[state as PileState]];
  return `<svg class="mark" viewBox="0 0 20 20" aria-hidden="true">${drawn}</svg>`;
}
