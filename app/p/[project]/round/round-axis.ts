import { HOUR, type Instant } from "#lib/domain/instant";
import { hourLabels, siteHours, timeScale, type AxisLabel } from "../../../_ui/sequence-layout";

export interface RoundAxis {
  from: Instant;
  to: Instant;
  hours: AxisLabel[];
  place(at: Instant): number;
}

/** No shorter and no longer than this, so that the next hours are always to be read off. */
const LEAST_SPAN = 7 * HOUR;
const MOST_SPAN = 24 * HOUR;
const NOMINAL_WIDTH = 420; // px

/** A time axis from now to a little past the last limit of this day; limits beyond it are written. */
export function roundAxis(now: Instant, limits: readonly Instant[], zone: string): RoundAxis {
  const near = limits.filter((until) => until > now && until <= now + MOST_SPAN);
  const last = Math.max(now + LEAST_SPAN, ...near);
  const to = Math.min(now + MOST_SPAN + HOUR, last + (last - now) / 6);
  const scale = timeScale([{ from: now, to }]);
  return { from: now, to, hours: hourLabels(siteHours(scale, zone), scale, NOMINAL_WIDTH, 40), place: scale.place };
}
