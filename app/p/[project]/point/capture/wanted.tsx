import type { ReactNode } from "react";

/** Something that the picture has to show: its words, the place in the outline that they mean, and where their number stands. */
export interface WantedPart {
  readonly words: string;
  readonly at: readonly [number, number];
  readonly number: readonly [number, number];
}

/** A picture as it is wanted, drawn 390 × 340. */
export interface Wanted {
  readonly says: string;
  readonly drawing: ReactNode;
  /** Where the pile's tag is best seen. */
  readonly tag: readonly [number, number];
  readonly parts: readonly WantedPart[];
}

const LEFT = 34;
const RIGHT = 356;

function Tape({ y }: { y: number }) {
  return (
    <g>
      <rect className="thick f-sheet dash" x="50" y={y} width="290" height="38" />
      {Array.from({ length: 28 }, (_, i) => <path key={i} className="thin" d={`M${60 + i * 10} ${y}v${i % 5 === 0 ? 18 : 9}`} />)}
    </g>
  );
}

const Edges = () => <path className="thick dash" d="M112 40V316M278 40V316" />;
const Water = () => <path className="s-tide" d="M0 306q12-6 24 0t24 0 24 0 24 0M294 306q12-6 24 0t24 0 24 0 24 0" />;

const FACE: Wanted = {
  says: "The face of the pile from the cap down to the water, both edges in the picture",
  drawing: <><rect className="thick f-sheet" x="60" y="26" width="270" height="16" /><Edges /><Water /></>,
  tag: [195, 126],
  parts: [
    { words: "cap beam at the top edge", at: [92, 34], number: [LEFT, 72] },
    { words: "both edges of the pile", at: [112, 200], number: [LEFT, 214] },
    { words: "down to the water or the lowest ring", at: [278, 290], number: [RIGHT, 256] },
  ],
};

const CLOSE: Wanted = {
  says: "The spot from near by, with a scale lying on it",
  drawing: <><path className="thick dash" d="M96 250Q70 180 120 130T236 96T318 180T250 266T96 250Z" /><path className="thin dash" d="M140 222l44-60 40 26 50-40" /><Tape y={276} /></>,
  tag: [300, 62],
  parts: [
    { words: "the spot and its edge", at: [112, 140], number: [LEFT, 110] },
    { words: "scale on the surface, figures sharp", at: [70, 290], number: [LEFT, 232] },
  ],
};

const HOLE: Wanted = {
  says: "The hole with the gauge in it, read square on",
  drawing: (
    <>
      <circle className="thick dash" cx="170" cy="190" r="66" /><circle className="thin dash" cx="170" cy="190" r="52" />
      <path className="thick" d="M160 196V52h22v144" /><path className="thin" d="M160 80h12M160 100h8M160 120h12M160 140h8M160 160h12" />
    </>
  ),
  tag: [290, 288],
  parts: [
    { words: "gauge to the bottom, figure sharp", at: [172, 80], number: [LEFT, 76] },
    { words: "edge of the hole all round, no dust", at: [234, 200], number: [RIGHT, 168] },
  ],
};

const BAR: Wanted = {
  says: "The bar from face to end, with a tape along it",
  drawing: (
    <>
      <rect className="thick f-sheet dash" x="50" y="134" width="250" height="34" />
      {Array.from({ length: 16 }, (_, i) => <path key={i} className="thin" d={`M${64 + i * 15} 134l-6 34`} />)}
      <Tape y={186} />
    </>
  ),
  tag: [280, 72],
  parts: [
    { words: "end of the bar above the tape", at: [300, 151], number: [RIGHT, 118] },
    { words: "figures of the tape sharp", at: [120, 200], number: [LEFT, 260] },
    { words: "face of the pile at the other end", at: [50, 150], number: [LEFT, 104] },
  ],
};

const LABEL: Wanted = {
  says: "The whole label, square on",
  drawing: (
    <>
      <rect className="thick f-sheet dash" x="72" y="56" width="246" height="222" /><path className="thick" d="M92 92h150" /><path className="thin" d="M92 122h206M92 142h180M92 162h120" />
      {Array.from({ length: 22 }, (_, i) => <path key={i} className={i % 3 === 0 ? "thick" : "thin"} d={`M${96 + i * 9} 204v50`} />)}
    </>
  ),
  tag: [0, 0],
  parts: [
    { words: "all four corners of the label", at: [72, 56], number: [LEFT, 96] },
    { words: "lot number, every figure", at: [242, 92], number: [RIGHT, 110] },
    { words: "date of expiry", at: [212, 162], number: [RIGHT, 190] },
  ],
};

const DIAL: Wanted = {
  says: "The reading of the instrument, square on and without a reflection",
  drawing: (
    <>
      <rect className="thick f-sheet dash" x="70" y="70" width="250" height="176" /><rect className="thick f-sheet" x="100" y="98" width="190" height="76" />
      <text x="195" y="152" className="vb" textAnchor="middle" style={{ fontSize: "44px" }}>0 0.0</text><path className="thin" d="M112 208h90" />
    </>
  ),
  tag: [262, 292],
  parts: [
    { words: "all figures and the unit", at: [276, 120], number: [RIGHT, 78] },
    { words: "mark of the instrument", at: [112, 208], number: [LEFT, 222] },
  ],
};

const MIX: Wanted = {
  says: "The bucket from above with all of the mix and the wall around it",
  drawing: <><circle className="thick dash" cx="195" cy="182" r="138" /><circle className="thick dash" cx="195" cy="182" r="116" /><path className="thin dash" d="M130 190q30-40 66-10t64-14" /></>,
  tag: [296, 296],
  parts: [
    { words: "wall of the bucket all round", at: [66, 132], number: [LEFT, 60] },
    { words: "the whole surface, stirrer taken out", at: [232, 172], number: [RIGHT, 108] },
    { words: "no lamp or sun mirrored in it", at: [150, 240], number: [LEFT, 292] },
  ],
};

const RINGS: Wanted = {
  says: "The face with every ring, clamp or connector on it",
  drawing: (
    <>
      <Edges /><Water />
      {[78, 176, 262].map((y) => <g key={y}><path className="thin dash" d={`M102 ${y}H288`} />{[98, 155, 213, 270].map((x) => <rect key={x} className="thick f-sheet dash" x={x} y={y - 12} width="22" height="24" />)}</g>)}
    </>
  ),
  tag: [195, 126],
  parts: [
    { words: "every one of them, the lowest too", at: [292, 262], number: [RIGHT, 236] },
    { words: "both edges of the pile", at: [112, 216], number: [LEFT, 226] },
  ],
};

const SEAM: Wanted = {
  says: "The seam from one end to the other",
  drawing: <><Edges /><path className="thick" d="M196 40V316" /><path className="thin dash" d="M226 40V316" /><path className="thin" d="M196 300h30M196 294v12M226 294v12" /></>,
  tag: [150, 118],
  parts: [
    { words: "from its top end to its bottom end", at: [196, 66], number: [LEFT, 58] },
    { words: "the overlap, edge to edge", at: [226, 300], number: [RIGHT, 262] },
  ],
};

const TOP: Wanted = {
  says: "The opening from above, pile and jacket all round",
  drawing: <><circle className="thick dash" cx="195" cy="184" r="126" /><circle className="thin dash" cx="195" cy="184" r="118" /><rect className="thick f-sheet dash" x="129" y="118" width="132" height="132" /><path className="thick" d="M284 184v-80" /></>,
  tag: [195, 184],
  parts: [
    { words: "the gap all round the pile", at: [104, 226], number: [LEFT, 272] },
    { words: "rim of the jacket", at: [96, 106], number: [LEFT, 66] },
    { words: "stick or tape in the gap", at: [284, 130], number: [RIGHT, 100] },
  ],
};

const PIECE: Wanted = {
  says: "The whole piece laid out, with a tape along it",
  drawing: <><path className="thick f-sheet dash" d="M60 80H330V206H60Z" /><path className="thin dash" d="M60 100H330M60 186H330" /><Tape y={226} /></>,
  tag: [276, 142],
  parts: [
    { words: "both ends of the piece", at: [60, 112], number: [LEFT, 60] },
    { words: "tape from end to end, figures sharp", at: [300, 240], number: [RIGHT, 206] },
  ],
};

const SPECIMENS: Wanted = {
  says: "The specimens side by side, each with its number",
  drawing: <>{[84, 164, 244].map((x) => <g key={x}><path className="thick f-sheet dash" d={`M${x} 96v170h58v-170z`} /><path className="thin" d={`M${x + 12} 180h34v28h-34z`} /></g>)}</>,
  tag: [195, 56],
  parts: [
    { words: "every specimen", at: [302, 130], number: [RIGHT, 108] },
    { words: "its number, readable", at: [96, 194], number: [LEFT, 230] },
  ],
};

const SEAL: Wanted = {
  says: "The bottom of the jacket and the seal all round",
  drawing: <><path className="thick dash" d="M112 30V236M278 30V236" /><path className="thick" d="M92 236H298v26H92z" /><path className="thick dash" d="M130 262V316M260 262V316" /><Water /></>,
  tag: [195, 108],
  parts: [
    { words: "the seal from side to side", at: [298, 248], number: [RIGHT, 214] },
    { words: "below it: dry, or where it leaks", at: [130, 288], number: [LEFT, 258] },
  ],
};

const TAG: Wanted = {
  says: "The tag on the pile, square on, with the pile behind it",
  drawing: <Edges />,
  tag: [195, 150],
  parts: [{ words: "the pile behind it, no other tag", at: [278, 216], number: [RIGHT, 236] }],
};

const AREA: Wanted = {
  says: "What is named, whole, with what stands around it",
  drawing: <><path className="thick dash" d="M40 250H350M70 250V120H320V250" /><Water /></>,
  tag: [195, 190],
  parts: [{ words: "all of it, with an edge around", at: [70, 150], number: [LEFT, 108] }],
};

/** By what a point calls the subject. Common practice, no source. */
const BY_SUBJECT: Readonly<Record<string, Wanted>> = {
  faces: FACE, overview: FACE, round: FACE, paint: FACE, before: FACE, after: FACE,
  "close-up": CLOSE, depth: HOLE, clean: HOLE, return: HOLE, bar: BAR, label: LABEL,
  wrench: DIAL, scale: DIAL, logger: DIAL, mix: MIX, ring: RINGS, clamp: RINGS,
  seam: SEAM, side: SEAM, overlap: SEAM, edge: SEAM, annulus: TOP, top: TOP,
  cut: PIECE, coated: PIECE, open: PIECE, specimens: SPECIMENS, bottom: SEAL, test: SEAL, tag: TAG,
};

/** The outline for a subject; a plain one for a subject that nobody has drawn. */
export function wantedOf(subject: string): Wanted {
  return BY_SUBJECT[subject] ?? AREA;
}
