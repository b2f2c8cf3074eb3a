import type { FileVerdict, OrderVerdict, PlaceVerdict, StreakVerdict, TagVerdict } from "#lib/domain/photo/verdict";
import type { PileState, PointKind, PointState } from "#lib/domain/point/state";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";

/** Which hand writes the word: ink for what is settled, blue for what waits, red for what fails, sepia for what is in doubt. */
export type Hand = "ink" | "held" | "bad" | "doubt" | "soft";

interface Mark {
  symbol: string;
  hand: Hand;
}

const STATE_MARKS: Record<PointState | PileState, Mark> = {
  "not open": { symbol: "st-not-open", hand: "soft" },
  open: { symbol: "st-open", hand: "held" },
  draft: { symbol: "st-draft", hand: "ink" },
  submitted: { symbol: "st-submitted", hand: "ink" },
  "QC checked": { symbol: "st-qc-checked", hand: "ink" },
  released: { symbol: "st-released", hand: "ink" },
  "released under concession": { symbol: "st-concession", hand: "ink" },
  rejected: { symbol: "st-rejected", hand: "bad" },
  expired: { symbol: "st-expired", hand: "doubt" },
  "in doubt": { symbol: "st-in-doubt", hand: "doubt" },
  "not applicable": { symbol: "st-na", hand: "soft" },
  "notice lapsed": { symbol: "st-lapsed", hand: "ink" },
  "out of scope": { symbol: "st-out-of-scope", hand: "soft" },
  conflict: { symbol: "st-conflict", hand: "bad" },
  "not started": { symbol: "st-not-open", hand: "soft" },
  "in work": { symbol: "st-open", hand: "held" },
  "awaiting results": { symbol: "st-clock", hand: "held" },
  accepted: { symbol: "st-released", hand: "ink" },
  "accepted under concession": { symbol: "st-concession", hand: "ink" },
  "conditionally accepted": { symbol: "st-conditional", hand: "ink" },
};

const VALUE_MARKS: Record<ValueVerdict, Mark> = {
  meets: { symbol: "v-meets", hand: "ink" },
  "meets, inside uncertainty": { symbol: "v-inside", hand: "doubt" },
  fails: { symbol: "v-fails", hand: "bad" },
  "cannot tell": { symbol: "v-tell", hand: "doubt" },
  "not measured": { symbol: "v-none", hand: "soft" },
};

const ORDER_MARKS: Record<OrderVerdict, Mark> = {
  "in order": { symbol: "v-order", hand: "ink" },
  "too early": { symbol: "v-early", hand: "bad" },
  "too late": { symbol: "v-late", hand: "bad" },
  "cannot tell": { symbol: "v-tell", hand: "doubt" },
  "no time": { symbol: "v-no-time", hand: "doubt" },
  "clock in doubt": { symbol: "v-clock-doubt", hand: "doubt" },
};

const PLACE_MARKS: Record<PlaceVerdict, Mark> = {
  "at site": { symbol: "v-site", hand: "ink" },
  elsewhere: { symbol: "v-elsewhere", hand: "bad" },
  "place cannot tell": { symbol: "v-tell", hand: "doubt" },
  "no place": { symbol: "v-no-place", hand: "soft" },
};

const FILE_MARKS: Record<FileVerdict, Mark> = {
  original: { symbol: "v-file", hand: "ink" },
  edited: { symbol: "v-edited", hand: "doubt" },
  repeat: { symbol: "v-repeat", hand: "bad" },
  "look-alike": { symbol: "v-look-alike", hand: "doubt" },
};

const TAG_MARKS: Record<TagVerdict, Mark> = {
  "this pile's tag read": { symbol: "v-tag", hand: "ink" },
  "another pile's tag": { symbol: "v-tag-other", hand: "bad" },
  "no tag read": { symbol: "v-tag-none", hand: "soft" },
};

const STREAK_MARKS: Record<StreakVerdict, Mark> = {
  uniform: { symbol: "v-uniform", hand: "ink" },
  streaks: { symbol: "v-streaks", hand: "bad" },
  "cannot tell": { symbol: "v-tell", hand: "doubt" },
};

export const KIND_WORDS: Record<PointKind, string> = { H: "hold point", W: "witness point", R: "record point" };

export function stateHand(state: PointState | PileState): Hand {
  return STATE_MARKS[state].hand;
}

export function orderMark(verdict: OrderVerdict): Mark {
  return ORDER_MARKS[verdict];
}

function Glyph({ symbol, size }: { symbol: string; size: number }) {
  return (
    <svg width={size} height={size} aria-hidden="true" focusable="false">
      <use href={`#${symbol}`} />
    </svg>
  );
}

/** The shape of a state alone, named for a reader who cannot see it: for matrices, where the word stands in the row. */
export function StateMark({ state, size = 18 }: { state: PointState | PileState; size?: number }) {
  const { symbol, hand } = STATE_MARKS[state];
  return (
    <span className={`glyph hand-${hand}`} role="img" aria-label={state}>
      <Glyph symbol={symbol} size={size} />
    </span>
  );
}

/** Shape and word. `word` replaces the state's own word where more is known: "in work, 21 of 26 released". */
export function State({ state, word = state, size = 18 }: { state: PointState | PileState; word?: string; size?: number }) {
  const { symbol, hand } = STATE_MARKS[state];
  return (
    <span className={`state hand-${hand}`}>
      <Glyph symbol={symbol} size={size} />
      <span>{word}</span>
    </span>
  );
}

/** The letter carries the weight of the stop: H solid block, W ring, R underlined. */
export function KindMark({ kind }: { kind: PointKind }) {
  return (
    <span className={`kind kind-${kind}`} role="img" aria-label={KIND_WORDS[kind]} title={KIND_WORDS[kind]}>
      {kind}
    </span>
  );
}

function VerdictMark({ mark, word }: { mark: Mark; word: string }) {
  return (
    <span className={`verdict hand-${mark.hand}`}>
      <Glyph symbol={mark.symbol} size={19} />
      <span>{word}</span>
    </span>
  );
}

/** `word` may carry the amount: "fails by 0.095". */
export function ValueVerdictMark({ verdict, word = verdict }: { verdict: ValueVerdict; word?: string }) {
  return <VerdictMark mark={VALUE_MARKS[verdict]} word={word} />;
}

/** The shape of a verdict alone, named for a reader who cannot see it: where the word stands below it. */
export function ValueVerdictShape({ verdict }: { verdict: ValueVerdict }) {
  const { symbol, hand } = VALUE_MARKS[verdict];
  return (
    <span className={`glyph hand-${hand}`} role="img" aria-label={verdict}>
      <Glyph symbol={symbol} size={19} />
    </span>
  );
}

export function OrderVerdictMark({ verdict, word = verdict }: { verdict: OrderVerdict; word?: string }) {
  return <VerdictMark mark={ORDER_MARKS[verdict]} word={word} />;
}

export function PlaceVerdictMark({ verdict, word = verdict }: { verdict: PlaceVerdict; word?: string }) {
  return <VerdictMark mark={PLACE_MARKS[verdict]} word={word} />;
}

export function FileVerdictMark({ verdict }: { verdict: FileVerdict }) {
  return <VerdictMark mark={FILE_MARKS[verdict]} word={verdict} />;
}

export function TagVerdictMark({ verdict }: { verdict: TagVerdict }) {
  return <VerdictMark mark={TAG_MARKS[verdict]} word={verdict} />;
}

export function StreakVerdictMark({ verdict }: { verdict: StreakVerdict }) {
  return <VerdictMark mark={STREAK_MARKS[verdict]} word={verdict} />;
}

/**
 * One triangle, three hands: sepia is a flag to answer, red a row or value that stops, blue a change by a revision
 * (which carries the revision's letter). The same number stands in the drawing, by the value and in the list.
 */
export function FlagTriangle({ n, hand = "doubt" }: { n: number | string; hand?: "doubt" | "bad" | "held" }) {
  const meaning = { doubt: `flag ${n}`, bad: `stop ${n}`, held: `changed by revision ${n}` }[hand];
  return (
    <svg className={`flag-triangle hand-${hand}`} viewBox="0 0 26 24" width="26" height="24" role="img" aria-label={meaning}>
      <path d="M13 2L24.5 22H1.5z" />
      <text x="13" y="19.5" textAnchor="middle">{n}</text>
    </svg>
  );
}
