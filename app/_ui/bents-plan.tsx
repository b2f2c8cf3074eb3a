import type { PileState, PointKind, PointState } from "#lib/domain/point/state";
import { KIND_WORDS, stateHand } from "./mark";
import { PileRing, type Core } from "./pile-ring";

export interface PlanPile {
  mark: string;
  row: string;
  href: string;
  core: Core;
  state: PileState | PointState;
  pointLine?: number | string;
  pointKind?: PointKind;
  /** The state in the plan's words: "QC checked", "to 23:20". */
  word: string;
  covered: boolean;
  /** Work may be done there now. */
  workable: boolean;
  /** A cure clock runs. */
  clock?: boolean;
}

export interface PlanBent {
  code: string;
  /** What stands in it: "16 in sq." */
  note?: string;
  piles: PlanPile[];
}

export type Compass = "north" | "east" | "south" | "west";

/** Which way the bent numbers and the row letters grow on site. */
export interface PlanNorth {
  bents: Compass;
  rows: Compass;
}

/** More bents than this are drawn as rings alone, so that the whole structure stays in one picture. */
const MOST_BENTS_WITH_WORDS = 10;

/**
 * The plan of the structure, and the way in: every pile is a link. On a desk bents run along and rows down, on a phone the
 * same plan stands upright; either way it is turned as a sheet is turned, never mirrored, and the arrow shows north. Where
 * nobody has said how the structure lies (`north` null), none is drawn.
 */
export function BentsPlan({ bents, north }: { bents: PlanBent[]; north: PlanNorth | null }) {
  const rows = [...new Set(bents.flatMap((bent) => bent.piles.map((pile) => pile.row)))].sort();
  // On the desk, along is east (or north on a sheet that had to be turned) and down is south (or east).
  const upright = north?.bents === "north" || north?.bents === "south";
  const along = north?.bents === "west" || north?.bents === "south" ? [...bents].reverse() : bents;
  const down = north?.rows === "north" || north?.rows === "west" ? [...rows].reverse() : rows;
  const dense = bents.length > MOST_BENTS_WITH_WORDS;
  return (
    <div className={`plan${dense ? " plan-dense" : ""}`}>
      <div className="plan-rows" aria-hidden="true">
        {down.map((row) => <span className="bubble" key={row}>{row}</span>)}
      </div>
      <ul className="plan-bents">
        {along.map((bent) => <Bent key={bent.code} bent={bent} rows={down} dense={dense} />)}
      </ul>
      {north && <NorthArrow turned={upright} />}
    </div>
  );
}

function Bent({ bent, rows, dense }: { bent: PlanBent; rows: string[]; dense: boolean }) {
  return (
    <li className="plan-bent">
      <span className="plan-code">
        <span className="hide">Bent </span>
        <span className="bubble">{bent.code}</span>
        {bent.note && !dense && <span className="plan-note">{bent.note}</span>}
      </span>
      <ul className="plan-piles">
        {rows.map((row) => {
          const pile = bent.piles.find((candidate) => candidate.row === row);
          return pile ? <li className="plan-cell" key={row}><Pile pile={pile} /></li> : <li className="plan-cell plan-cell-none" key={row} aria-hidden="true" />;
        })}
      </ul>
    </li>
  );
}

/** Read as "05-C, point 11 hold point, QC checked"; what the eye sees of it is the ring, "11 H" and the word. */
function Pile({ pile }: { pile: PlanPile }) {
  const { mark, href, core, state, pointLine, pointKind, word, covered, workable, clock = false } = pile;
  return (
    <a className="pile" href={href}>
      <PileRing core={core} state={state} covered={covered} clock={clock} />
      <span className="pile-words">
        <span className="hide">{mark}, {pointLine !== undefined && "point "}</span>
        {pointLine !== undefined && (
          <span className={workable ? "pile-point pile-workable" : "pile-point"}>
            {pointLine}
            {pointKind && <><span className="hide"> {KIND_WORDS[pointKind]}</span><span aria-hidden="true"> {pointKind}</span></>}
            <span className="hide">, </span>
          </span>
        )}
        <span className={`pile-word hand-${clock ? "held" : stateHand(state)}`}>{word}</span>
        {workable && <span className="hide">, work may be done here now</span>}
      </span>
    </a>
  );
}

function NorthArrow({ turned }: { turned: boolean }) {
  return (
    <svg className={turned ? "north north-turned" : "north"} viewBox="-32 -32 64 64" width="56" height="56" role="img" aria-label="North arrow">
      <g className="north-needle"><path className="thin" d="M0 22V-18" /><path className="f-ink" d="M0 -24L5 -10H-5z" /></g>
      <text className="vb north-letter" textAnchor="middle">N</text>
    </svg>
  );
}
