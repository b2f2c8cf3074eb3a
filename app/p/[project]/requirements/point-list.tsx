import type { RequirementsView } from "#lib/services/requirements-view";
import { changedLines, pointIds, quantityCount } from "#lib/services/requirements-view";
import { linesOfPoint } from "#lib/services/revision-draft";
import type { Revision } from "#lib/domain/requirement/set";
import { FlagTriangle, KindMark } from "../../../_ui/mark";

interface PointListProps {
  view: RequirementsView;
  revision: Revision;
  hrefOf(line: string): string;
  open: string | null;
}

/** Every point of the plan with what changed at it; the one that is open is solid. */
export function PointList({ view, revision, hrefOf, open }: PointListProps) {
  const changed = changedLines(view.difference);
  const ids = pointIds(revision);
  const groups = [
    { title: `${ids.filter((id) => !id.startsWith("P")).length} points of each pile`, ids: ids.filter((id) => !id.startsWith("P")) },
    { title: "Project sheet", ids: ids.filter((id) => id.startsWith("P")) },
  ];
  return (
    <nav className="requirement-list" aria-label="Points of the inspection and test plan">
      {groups.map(({ title, ids: own }) => (
        <div key={title}>
          <p className="letter"><span>{title}</span><span>quantities</span></p>
          <ol>
            {own.map((id) => {
              const line = linesOfPoint(revision, id)[0]?.line;
              if (!line) return null;
              const stops = view.faults.some((one) => one.line === id);
              return (
                <li key={id}>
                  <a href={hrefOf(id)} aria-current={id === open ? "true" : undefined}>
                    <b className="num">{id}</b>
                    <KindMark kind={line.kind} />
                    <span>{line.name}</span>
                    {changed.has(id) || stops ? <FlagTriangle n={stops ? "!" : (view.state?.letter ?? "")} hand={stops ? "bad" : "held"} /> : <span />}
                    <i className="num">{quantityCount(revision, id)}</i>
                  </a>
                </li>
              );
            })}
          </ol>
        </div>
      ))}
    </nav>
  );
}
