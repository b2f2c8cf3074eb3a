import type { PageContext } from "#lib/edge/page";
import { changedLines, pointIds, pointRequirements, type RequirementsView } from "#lib/services/requirements-view";
import { Empty } from "../../../_ui/empty";
import { PointList } from "./point-list";
import { PointSheet, type Opened } from "./point-sheet";
import { RequirementsFrame } from "./requirements-frame";
import { RevisionAside } from "./revision-aside";

interface PointsPageProps extends Opened {
  context: PageContext;
  view: RequirementsView;
  /** The point asked for; null: none, and a desk shows the first that changed. */
  line: string | null;
}

/** The points in their list, the open one beside it, and how far the revision has come. */
export function PointsPage({ context, view, line, open, kept }: PointsPageProps) {
  const { revision } = view;
  const base = `/p/${context.project.code}/requirements`;
  const query = view.asked === null ? "" : `?revision=${view.asked}`;
  if (!revision) {
    return (
      <RequirementsFrame context={context} view={view} current="Points">
        <div className="requirements"><Empty thing="list" title="No requirement is written yet.">{view.may.draft ? "Begin the first revision here, or read it from a file." : "The administrator writes the first revision; the engineer approves it."}</Empty><RevisionAside context={context} view={view} /></div>
      </RequirementsFrame>
    );
  }
  const ids = pointIds(revision);
  const changed = changedLines(view.difference);
  const shown = line ?? ids.find((id) => changed.has(id)) ?? ids[0] ?? null;
  const point = shown === null ? null : pointRequirements(view, shown);
  return (
    <RequirementsFrame context={context} view={view} current="Points" line={line ?? undefined}>
      <div className={line === null ? "requirements requirements-list-only" : "requirements"}>
        <PointList view={view} revision={revision} hrefOf={(id) => `${base}/${id}${query}`} open={shown} />
        {point && <PointSheet context={context} view={view} revision={revision} point={point} href={`${base}/${point.id}`} open={open} kept={kept} />}
        <RevisionAside context={context} view={view} />
      </div>
    </RequirementsFrame>
  );
}
