import type { PointState } from "#lib/domain/point/state";
import type { CloseoutView } from "#lib/services/closeout-view";
import { State, StateMark, stateHand } from "../../../_ui/mark";
import { TableFrame } from "../../../_ui/table";

/** Every point of every pile at a glance. The row carries the words, each mark its name, the key stands below. */
export function Completeness({ view, project }: { view: CloseoutView; project: string }) {
  const used = [...new Set(view.rows.flatMap(({ cells }) => cells.map(({ state }) => state)))];
  return (
    <div>
      <TableFrame label="Completeness">
        <table className="completeness">
          <caption className="hide">State of every point of every pile</caption>
          <thead>
            <tr>
              <th scope="col"><span className="hide">Pile</span></th>
              {view.lines.map((line) => <th key={line} scope="col">{line}</th>)}
              <th scope="col"><span className="hide">In words</span></th>
            </tr>
          </thead>
          <tbody>
            {view.rows.map((row, index) => (
              <tr key={row.mark} className={index > 0 && bentOf(view.rows[index - 1]!.mark) !== bentOf(row.mark) ? "bent-begins" : undefined}>
                <th scope="row"><a href={row.href}>{row.mark}</a></th>
                {view.lines.map((line) => <Cell key={line} state={row.cells.find((cell) => cell.line === line)?.state} href={`/p/${project}/piles/${row.mark}/${line}`} line={line} />)}
                <td className="completeness-words"><span className={`hand-${handOf(row)}`}>{row.state === "accepted" ? "accepted" : row.words}</span></td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableFrame>
      <ul className="completeness-key" aria-label="Key">
        {KEY.filter((state) => used.includes(state)).map((state) => <li key={state}><State state={state} size={15} /></li>)}
      </ul>
    </div>
  );
}

const KEY: readonly PointState[] = [
  "released", "released under concession", "QC checked", "submitted", "draft", "open", "not open", "notice lapsed", "in doubt", "expired", "rejected", "conflict", "not applicable", "out of scope",
];

function Cell({ state, line, href }: { state: PointState | undefined; line: string; href: string }) {
  if (!state) return <td />;
  // The mark leads to its point, but not with the tab key: six hundred stops would stand between the reader and the rest.
  return <td><a href={href} tabIndex={-1} title={`${line} ${state}`}><StateMark state={state} size={15} /></a></td>;
}

/** The words take the hand of what is worst in the row: red where something was refused, sepia where something is in doubt. */
function handOf({ cells, state }: CloseoutView["rows"][number]): string {
  const hands = [stateHand(state), ...cells.map((cell) => stateHand(cell.state))];
  return hands.find((hand) => hand === "bad") ?? hands.find((hand) => hand === "doubt") ?? (state === "accepted" ? "ink" : "soft");
}

/** "02-A" stands in bent 02. */
function bentOf(mark: string): string {
  return mark.split("-")[0] ?? mark;
}
