import type { CameraClock, CameraReference, ClockRun } from "#lib/domain/photo/camera-clock";
import { summerTimeWords } from "#lib/domain/photo/camera-clock";
import { offsetText } from "#lib/domain/photo/capture-time";
import { siteOffsetSeconds } from "#lib/domain/photo/site-zone";

/** Seconds as people read them off: a clock is told to the second, an error below that is none. */
export function restWords(seconds: number): string {
  const whole = Math.round(Math.abs(seconds));
  if (whole === 0) return "on time";
  const text = whole < 120 ? `${whole} s` : `${Math.floor(whole / 60)} min ${whole % 60} s`;
  return `${text} ${seconds > 0 ? "fast" : "slow"}`;
}

/** "−03:00" with a true minus sign. */
export function zoneText(seconds: number): string {
  return offsetText(seconds).replace("-", "−");
}

/**
 * How a camera's clock ran, as a sentence of facts: "50 s fast and is still on summer time, 1 h ahead of the site: 23 of 31
 * references agree".
 *
 * @param siteZone IANA name.
 */
export function clockFinding(clock: CameraClock, siteZone: string): string {
  const total = clock.references.length + clock.dropped.length;
  const gain = clock.gainPerDaySeconds ?? 0;
  const parts = [
    `${restWords(clock.restSeconds)} and ${zoneWords(clock, siteZone)}`,
    ...(Math.abs(gain) >= 0.5 ? [`${gain > 0 ? "gaining" : "losing"} ${Math.abs(gain).toFixed(1)} s a day`] : []),
  ];
  return `${parts.join(", ")}: ${clock.references.length} of ${total} ${total === 1 ? "reference agrees" : "references agree"}`;
}

function zoneWords(clock: CameraClock, siteZone: string): string {
  const firm = clock.runs.filter((run) => run.firm);
  const last = firm.at(-1);
  const at = last?.references.at(-1)?.at;
  if (last === undefined || at === undefined) return "in no zone";
  if (isOnSiteTime(last, siteZone)) {
    if (firm.length === 1) return "on the site's time";
    return firm.every((run) => isOnSiteTime(run, siteZone)) ? "on the site's time, also when the site's clocks changed" : "on the site's time since it was set";
  }
  const left = summerTimeWords(clock, siteZone);
  if (left !== null) return `is ${left.replace(/^camera /, "")}${left.endsWith("ahead") ? " of" : ""} the site`;
  return `is set to ${zoneText(last.zoneSeconds)}, where the site is at ${zoneText(siteOffsetSeconds(at, siteZone))}`;
}

/** Whether the zone of a run was the site's at each of its references. */
export function isOnSiteTime({ references, zoneSeconds }: Pick<ClockRun, "references" | "zoneSeconds">, siteZone: string): boolean {
  return references.every(({ at }) => siteOffsetSeconds(at, siteZone) === zoneSeconds);
}

/** Why too few references say nothing yet, and what to do. */
export function tooFewWords(references: readonly CameraReference[]): string {
  if (references.length === 0) return "Nothing tells how its clock runs: no photo of it carries GPS time, and none shows the clock page";
  const said = references.length === 1 ? "1 reference" : `${references.length} references`;
  return `${said}, and three are needed, or one photo of the clock page`;
}
