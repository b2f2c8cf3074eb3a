import { notFound, redirect } from "next/navigation";
import { found, type PageContext } from "#lib/edge/page";
import { entryView } from "#lib/services/entry-view";
import { pointFace } from "#lib/services/point-view";
import { loadSheet, revisionOf } from "#lib/services/sheet";
import { ProjectFrame } from "../../project-frame";
import { EntryRoom } from "../entry/entry-state";
import { pointHref } from "../point-href";
import { CaptureRoom } from "./capture-room";
import { CaptureActions, CaptureSheet } from "./capture-sheet";
import "../entry/entry.css";
import "./capture.css";

/** Taking the photos of one subject of a point that is being written; a point that is not leads to its own sheet. */
export async function CapturePage({ context, sheetId, line, subject: id }: { context: PageContext; sheetId: string; line: string; subject: string }) {
  const { project, house } = context;
  const sheet = await found(() => loadSheet(house.db.read, project, sheetId, context.at));
  const mark = sheet.pile?.mark ?? null;
  const point = pointHref(project.code, mark, line);
  if ((await found(async () => pointFace(sheet, line, context.member))) !== "entry") redirect(point);
  const view = await entryView(house.db.read, context, sheet, line, context.member);
  const subject = view.subjects.find((one) => one.id === id);
  if (!subject) notFound();
  return (
    <EntryRoom view={view} point={{ project: project.code, sheet: sheet.id, line }} person={context.personId}>
      <CaptureRoom subject={id}>
        <ProjectFrame
          context={context} sheet={`${line} ${view.line.kind} ${view.line.name}`} revision={revisionOf(sheet, line)} current={mark === null ? "Project" : "Bents"}
          back={{ href: point, label: `point ${line}` }} {...(mark === null ? {} : { pile: mark })} actions={<CaptureActions />}
        >
          <CaptureSheet zone={project.zone} site={project.site} />
        </ProjectFrame>
      </CaptureRoom>
    </EntryRoom>
  );
}
