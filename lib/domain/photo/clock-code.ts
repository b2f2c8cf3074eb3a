import type { Instant } from "#lib/domain/instant";

const CLOCK_CODE = /^lastlook:clock:(\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z)$/;

/** What the code on the clock page says at an instant, in UTC. */
export function clockCode(at: Instant): string {
  return `lastlook:clock:${new Date(at).toISOString()}`;
}

/** The instant that a code of the clock page names; null for any other code, and for a day that does not exist. */
export function readClockCode(text: string): Instant | null {
  const written = CLOCK_CODE.exec(text)?.[1];
  const at = written === undefined ? Number.NaN : Date.parse(written);
  return Number.isNaN(at) || new Date(at).toISOString() !== written ? null : at;
}
