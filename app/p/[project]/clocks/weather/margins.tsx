import type { MarginView } from "#lib/services/weather-view";
import { ValueVerdictMark } from "../../../../_ui/mark";

/** The margin over the dew point against each form in which it is asked for. */
export function Margins({ view: { margins } }: { view: MarginView }) {
  if (margins === null) return <p className="letter">The surface was not read.</p>;
  if (margins.length === 0) return <p className="letter">No requirement asks for a margin.</p>;
  return (
    <ul className="margins">
      {margins.map(({ requirement, types, measured, margin, verdict }) => (
        <li key={requirement}>
          <b className="num">{measured}</b>
          {verdict && <ValueVerdictMark verdict={verdict} />}
          <span className="letter"><span className="required">{requirement}</span>{margins.length > 1 && `, ${types}`}{verdict === "cannot tell" && `: ${margin}`}</span>
        </li>
      ))}
    </ul>
  );
}
