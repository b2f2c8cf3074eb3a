import { randomUUID } from "node:crypto";
import type { PageContext } from "#lib/edge/page";
import { batchView } from "#lib/services/batch-view";
import { entryView } from "#lib/services/entry-view";
import { clockHolds } from "#lib/services/point-view";
import { getLine, type Sheet } from "#lib/services/sheet";
import { BatchBlock } from "../../batch-block";
import { EntryActions } from "./entry-actions";
import { EntryForm } from "./entry-form";
import { EntryRoom } from "./entry-state";
import { ClockDrawing, PointSheet } from "./head";
import { LoggerForm } from "./logger-form";
import { TemperatureForm } from "./temperature-form";

/** A point to be written: values, photos, times, then sent. */
export async function PointEntry({ context, sheet, line }: { context: PageContext; sheet: Sheet; line: string }) {
  const view = await entryView(context.house.db.read, context, sheet, line, context.member);
  const { clock } = view.head;
  const batch = batchView(sheet);
  const point = { project: context.project.code, sheet: sheet.id, line };
  const held = clock !== null && clockHolds(sheet, getLine(sheet, line).line);
  return (
    <EntryRoom view={view} point={point} person={context.personId}>
      <PointSheet context={context} sheet={sheet} head={view.head} actions={<EntryActions />}>
        {clock && (
          <>
            <ClockDrawing clock={clock} context={context} />
            <TemperatureForm point={point} />
            <LoggerForm point={point} />
            {held && <p className="wait required">It can be written now and sent when the clock has been reached.</p>}
          </>
        )}
        {batch && batch.from !== line && batch.lines.includes(line) && <BatchBlock batch={batch} />}
        <EntryForm submissionId={randomUUID()} />
      </PointSheet>
    </EntryRoom>
  );
}
