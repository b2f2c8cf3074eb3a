import type { PageContext } from "#lib/edge/page";
import { found } from "#lib/edge/page";
import { pointFace } from "#lib/services/point-view";
import { getLine, loadSheet } from "#lib/services/sheet";
import PointDecision from "./decision/point-decision";
import { PointFrame } from "./entry/head";
import { PointEntry } from "./entry/point-entry";
import { PointPlanned } from "./entry/point-planned";
import { PointReceived } from "./entry/point-received";

/** One point, from the side of who looks at it: to be written, received, to be decided, or planned. */
export async function PointPage({ context, sheetId, line, justSent }: { context: PageContext; sheetId: string; line: string; justSent: boolean }) {
  const sheet = await found(() => loadSheet(context.house.db.read, context.project, sheetId, context.at));
  const face = await found(async () => pointFace(sheet, line, context.member));
  switch (face) {
    case "entry":
      return <PointEntry context={context} sheet={sheet} line={line} />;
    case "received":
      return <PointReceived context={context} sheet={sheet} line={line} justSent={justSent} />;
    case "decision":
      return (
        <PointFrame context={context} sheet={sheet} point={getLine(sheet, line).line}>
          <PointDecision context={context} sheet={sheet} line={line} />
        </PointFrame>
      );
    case "planned":
      return <PointPlanned context={context} sheet={sheet} line={line} />;
  }
}
