import type { PileState, PointState } from "#lib/domain/point/state";
import { stateHand } from "./mark";

export type Core = "H" | "square" | "round";

const OUTER = 25;
const INNER = 16.5;
const ANNULUS = `M0 -${OUTER}A${OUTER} ${OUTER} 0 1 1 -.01 -${OUTER}ZM0 -${INNER}A${INNER} ${INNER} 0 1 0 .01 -${INNER}Z`;
const OPEN_RING = `M10.2 -22.8A${OUTER} ${OUTER} 0 1 1 -10.2 -22.8`;
const LEFT_HALF = `M0 -${OUTER}A${OUTER} ${OUTER} 0 0 0 0 ${OUTER}V${INNER}A${INNER} ${INNER} 0 0 1 0 -${INNER}Z`;

const ANNULUS_FILL: Partial<Record<PointState | PileState, string>> = {
  draft: "url(#h-draft)",
  submitted: "url(#h-submitted)",
  "QC checked": "url(#h-checked)",
  released: "var(--released)",
  accepted: "var(--released)",
  "released under concession": "var(--released)",
  "accepted under concession": "var(--released)",
  "in doubt": "url(#h-doubt)",
  expired: "url(#h-doubt)",
  "awaiting results": "url(#h-held)",
};

/**
 * A pile in plan: its core by type, the annulus hatched by state, the ring open until the work is covered up.
 * Drawn for the eye only; the word stands beside it. `clock` is a cure that runs: blue hatch.
 */
export function PileRing({ core, state, covered, clock = false, size }: { core: Core; state: PointState | PileState; covered: boolean; clock?: boolean; size?: number }) {
  return (
    <svg className="ring" viewBox="-32 -32 64 64" width={size ?? 64} height={size ?? 64} aria-hidden="true" focusable="false">
      <Ring core={core} state={state} covered={covered} clock={clock} />
    </svg>
  );
}

function Ring({ core, state, covered, clock }: { core: Core; state: PointState | PileState; covered: boolean; clock: boolean }) {
  if (state === "out of scope" || state === "not applicable") {
    return <><circle className="ring-soft ring-dash" r={OUTER} /><path className="ring-soft ring-strike" d="M-30 0H30" /></>;
  }
  if (state === "not started" || state === "not open") {
    return <><circle className="ring-ground" r={OUTER} /><circle className="ring-ink ring-dash" r={OUTER} /><CoreShape core={core} /></>;
  }
  if (state === "rejected") {
    return <><circle className="ring-ground" r={OUTER} /><RingLine covered={covered} hand="bad" /><path className="ring-cross" d="M-15.5 -15.5L15.5 15.5M15.5 -15.5L-15.5 15.5" /></>;
  }
  const hand = stateHand(state);
  const fill = clock ? "url(#h-held)" : ANNULUS_FILL[state] ?? "none";
  const concession = state === "accepted under concession" || state === "released under concession";
  return (
    <>
      <circle className="ring-ground" r={OUTER} />
      <path d={ANNULUS} fill={fill} fillRule="evenodd" />
      {concession && <path className="ring-cut" d="M-18.8 18.8L18.8 -18.8" />}
      {state === "notice lapsed" && <path d={LEFT_HALF} fill="var(--ink)" />}
      {state === "conditionally accepted" && <><circle className="ring-ink ring-dash" r="29.5" /><path d={ANNULUS} fill="var(--released)" fillRule="evenodd" /></>}
      <RingLine covered={covered} hand={clock ? "held" : hand} />
      <circle className={`ring-inner ring-${clock ? "held" : hand}`} r={INNER} />
      <CoreShape core={core} />
      {state === "expired" && <path className="ring-doubt ring-line" d="M-22 22L22 -22" />}
      {state === "conflict" && <circle className="ring-bad ring-second" cx="6" cy="5" r={OUTER} />}
    </>
  );
}

function RingLine({ covered, hand }: { covered: boolean; hand: string }) {
  return covered ? <circle className={`ring-line ring-${hand}`} r={OUTER} /> : <path className={`ring-line ring-${hand}`} d={OPEN_RING} />;
}

function CoreShape({ core }: { core: Core }) {
  if (core === "H") return <path className="core core-h" d="M-9 -9V9M9 -9V9M-9 0H9" />;
  if (core === "square") return <rect className="core" x="-9" y="-9" width="18" height="18" />;
  return <><circle className="core" r="9" /><circle className="core core-pith" r="3.6" /></>;
}
