import type { Instant } from "#lib/domain/instant";
import { SECOND } from "#lib/domain/instant";
import type { CameraClock, CameraReference, CameraSource } from "#lib/domain/photo/camera-clock";
import { zoneAndRest } from "#lib/domain/photo/clock-run";
import { isOnSiteTime, zoneText } from "#lib/services/camera-words";

/** A reference on the strip: how fast the clock was against the zone that it was set to. */
export interface StripMark {
  at: Instant;
  restSeconds: number;
  goodToSeconds: number;
  source: CameraSource;
}

export interface StripRun {
  from: Instant;
  to: Instant;
  zone: string;
  onSiteTime: boolean;
  firm: boolean;
  /** The median, and where the drift line stands at either end; null where references lie too close together to tell a drift. */
  medianSeconds: number;
  drift: { fromSeconds: number; toSeconds: number } | null;
  marks: StripMark[];
}

export interface CameraStrip {
  from: Instant;
  to: Instant;
  runs: StripRun[];
  dropped: (StripMark & { why: string })[];
  confirmedAt: Instant | null;
}

const DAY = 86_400 * SECOND;

interface StripFacts {
  references: readonly CameraReference[];
  taken: readonly { receivedAt: Instant }[];
  confirmedAt: Instant | null;
  at: Instant;
}

/** The references of a camera along time, with the lines that the clock works out from them; null where there are none. */
export function stripOf({ references, taken, confirmedAt, at }: StripFacts, clock: CameraClock | null, siteZone: string): CameraStrip | null {
  if (references.length === 0) return null;
  const runs = clock ? runsOf(clock, siteZone) : [loneRun(references, siteZone)];
  const instants = [...references.map((one) => one.at), ...taken.map(({ receivedAt }) => receivedAt)].filter((one) => one <= at + SECOND);
  const zoneMs = (clock?.zoneSeconds ?? 0) * SECOND;
  return {
    from: Math.min(...instants, at),
    to: at,
    runs,
    dropped: (clock?.dropped ?? []).map(({ reference, why }) => ({ ...markOf(reference, zoneMs, 0), why })),
    confirmedAt,
  };
}

function runsOf({ runs }: CameraClock, siteZone: string): StripRun[] {
  return runs.flatMap((run): StripRun[] => {
    const [first, last] = [run.references[0], run.references.at(-1)];
    if (first === undefined || last === undefined) return [];
    const marks = run.references.map((reference, i) => markOf(reference, run.zoneSeconds * SECOND, run.goodToSeconds[i] ?? 0));
    const [start, end] = [marks[0]?.restSeconds ?? 0, marks.at(-1)?.restSeconds ?? 0];
    const span = (last.at - first.at) / DAY;
    const gain = run.gainPerDaySeconds;
    const middle = (start + end) / 2;
    return [{
      from: first.at, to: last.at, zone: zoneText(run.zoneSeconds), onSiteTime: isOnSiteTime(run, siteZone), firm: run.firm, medianSeconds: run.restSeconds, marks,
      drift: gain === null || span < 1 ? null : { fromSeconds: middle - (gain * span) / 2, toSeconds: middle + (gain * span) / 2 },
    }];
  });
}

/** Too few references to be a clock, drawn each against its own quarter hour. */
function loneRun(references: readonly CameraReference[], siteZone: string): StripRun {
  const aheadMs = (one: CameraReference): number => Date.parse(`${one.wall}Z`) - one.at;
  const { zoneMs } = zoneAndRest(aheadMs(references[0]!));
  const marks = references.map((one) => markOf(one, zoneAndRest(aheadMs(one)).zoneMs, 0));
  const [from, to] = [Math.min(...references.map(({ at }) => at)), Math.max(...references.map(({ at }) => at))];
  const zoneSeconds = zoneMs / SECOND;
  return { from, to, zone: zoneText(zoneSeconds), onSiteTime: isOnSiteTime({ references, zoneSeconds }, siteZone), firm: false, medianSeconds: marks[0]?.restSeconds ?? 0, drift: null, marks };
}

function markOf({ wall, at, source }: CameraReference, zoneMs: number, goodToSeconds: number): StripMark {
  return { at, source, goodToSeconds, restSeconds: (Date.parse(`${wall}Z`) - at - zoneMs) / SECOND };
}
