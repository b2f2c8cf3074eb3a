import { workingOf } from "#lib/domain/estimate/working";
import type { EstimateGroup } from "#lib/services/estimate-view";
import { TableFrame } from "../../../_ui/table";
import { JacketPlan } from "./jacket-plan";

/** How each number is worked out, with the numbers in the formulas, for somebody who does it again by hand. */
export function Working({ groups }: { groups: readonly EstimateGroup[] }) {
  return (
    <>
      {groups.map((group, i) => {
        const { type, name, letter, markWords, estimate } = group;
        const { section, cut, spacer, bars } = estimate;
        const lines = workingOf(estimate);
        return (
          <details className="working" key={`${type} ${markWords}`} open={i === 0 || undefined}>
            <summary><b>{type}, {name}</b> under revision {letter}: {markWords}</summary>
            <div className="working-body">
              {section.known && cut.known && <JacketPlan section={section} cut={cut} spacer={spacer.known ? spacer : null} bars={bars.known ? bars.count : 0} />}
              <TableFrame label={`Working of type ${type}`}>
                <table className="table working-table stacked">
                  <caption className="hide">Working of type {type}</caption>
                  <thead><tr><th scope="col">What</th><th scope="col">Formula</th><th scope="col">Comes to</th><th scope="col">Beside</th><th scope="col">From</th></tr></thead>
                  <tbody>
                    {lines.map(({ part, formula, result, beside, source }) => (
                      <tr key={part}><th scope="row">{part}</th><td className="num">{formula}</td><td className="num">{result}</td><td className="num">{beside}</td><td className="letter" data-head="From">{source}</td></tr>
                    ))}
                  </tbody>
                </table>
              </TableFrame>
            </div>
          </details>
        );
      })}
    </>
  );
}
