import type { Counts } from "#lib/services/change-view";

/** How the signed points at changed lines stand, and how many have no value yet. */
export function ChangeCounts({ counts: { wouldFail, needsValue, stillMeets, noValue } }: { counts: Counts }) {
  const rows: [number, string, string][] = [
    [wouldFail, "would fail", "bad"],
    [needsValue, needsValue === 1 ? "needs a value" : "need a value", "doubtful"],
    [stillMeets, stillMeets === 1 ? "still meets" : "still meet", ""],
    ...(noValue === null ? [] : [[noValue, "no value yet", "required"] satisfies [number, string, string]]),
  ];
  return <ul className="change-counts" aria-label="Points at what changes">{rows.map(([count, words, hand]) => <li key={words} className={hand}><b>{count}</b> {words}</li>)}</ul>;
}
