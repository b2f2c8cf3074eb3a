import { chainsWith, GRADE_CHAINS } from "#lib/domain/requirement/grade";
import type { Values } from "#lib/domain/requirement/draft-quantity";

/** Id of the list that a field of a grade offers. */
export const GRADES_LIST = "published-grades";

/** Published scales to write into a requirement: those that hold the grade that is asked for, or all while there is none. They decide nothing. */
export function GradeScales({ texts, types }: { texts: Values; types: readonly { type: string }[] }) {
  const asked = types.map(({ type }) => (texts[`atLeast-${type}`] ?? "").trim()).filter(Boolean);
  const holding = [...new Set(asked.flatMap(chainsWith))];
  return (
    <div className="letter stack">
      <datalist id={GRADES_LIST}>{GRADE_CHAINS.flatMap(({ grades }) => grades).map((grade) => <option key={grade} value={grade} />)}</datalist>
      {asked.length > 0 && holding.length === 0
        ? <p>No published scale that is known here holds this grade: write the specification’s own, least first.</p>
        : (
          <details open={holding.length > 0 || undefined}>
            <summary>Published scales to write from</summary>
            <ul>{(holding.length > 0 ? holding : GRADE_CHAINS).map(({ name, grades, source, note }) => <li key={name}>{name}: <b>{grades.join(", ")}</b>. {note} Source: {source}.</li>)}</ul>
          </details>
        )}
    </div>
  );
}
