import type { ReactNode } from "react";
import type { PageContext } from "#lib/edge/page";
import { formatWhen } from "#lib/domain/clock/site-time";
import { whenNear, type ClockView } from "#lib/services/clock-view";
import type { PointHeadView } from "#lib/services/point-view";
import { revisionOf, type Sheet } from "#lib/services/sheet";
import { KindMark, State } from "../../../../_ui/mark";
import { SheetHead } from "../../../../_ui/sheet";
import { Stamp } from "../../../../_ui/stamp";
import { Clock, CureChart } from "../../../../_ui/clock-chart";
import { ProjectFrame } from "../../project-frame";
import "./entry.css";

interface PointFrameProps {
  context: PageContext;
  sheet: Sheet;
  point: { line: string; kind: string; name: string };
  actions?: ReactNode;
  children: ReactNode;
}

/** The frame around one point, whichever side of it is shown. */
export function PointFrame({ context, sheet, point, actions, children }: PointFrameProps) {
  const base = `/p/${context.project.code}`;
  const mark = sheet.pile?.mark ?? null;
  const title = `${point.line} ${point.kind} ${point.name}`;
  return (
    <ProjectFrame
      context={context} sheet={mark === null ? `Point ${title}` : title} revision={revisionOf(sheet, point.line)} actions={actions} current={mark === null ? "Project" : "Bents"}
      back={mark === null ? { href: `${base}/sheet`, label: "the project sheet" } : { href: `${base}/piles/${encodeURIComponent(mark)}`, label: `pile ${mark}` }}
      {...(mark === null ? {} : { pile: mark })}
    >
      {children}
    </ProjectFrame>
  );
}

/** The sheet of one point: whose it is, where it stands, what was last said about it. */
export function PointSheet({ context, sheet, head, actions, children }: { context: PageContext; sheet: Sheet; head: PointHeadView; actions?: ReactNode; children: ReactNode }) {
  return (
    <PointFrame context={context} sheet={sheet} point={head} actions={actions}>
      <SheetHead
        {...(head.mark === null ? {} : { mark: head.mark })}
        title={<><span>{head.line}</span><KindMark kind={head.kind} /><span>{head.name}</span></>}
        lead={<State state={head.state} word={head.attempt > 1 ? `${head.state}, attempt ${head.attempt}` : head.state} />}
        note={<span className="point-hands">{head.otherRevision && <b>Stands under revision {head.otherRevision}. </b>}{head.hands}</span>}
      />
      {head.cautions.length > 0 && <ul className="cautions" aria-label="Mind">{head.cautions.map((words) => <li key={words}>{words}</li>)}</ul>}
      {head.stamps.length > 0 && (
        <div className="stamps">
          {head.stamps.map(({ kind, lines, attested }, position) =>
            kind === "sent back" ? <p className="sent-back" key={position}><b>Sent back by the QC manager.</b> {lines.join(" · ")}</p> : <Stamp key={position} kind={kind} lines={lines} serverAttested={attested} />,
          )}
        </div>
      )}
      {head.waits.map((words) => <p className="wait required" key={words}>{words}</p>)}
      {children}
    </PointFrame>
  );
}

/** A cure or maturity clock with its drawing. */
export function ClockDrawing({ clock, context }: { clock: ClockView; context: PageContext }) {
  const { at, project } = context;
  return (
    <Clock title={clock.title} amount={clock.amount} headline={clock.headline} note={clock.note} paused={clock.paused}>
      {clock.readings.length > 0 && (
        <CureChart
          startedAt={clock.startedAt} now={at} earliest={clock.earliest} readings={clock.readings} temperatureUnit="°C"
          {...(clock.minimum === null ? {} : { minimum: clock.minimum })}
          progress={clock.progress} required={clock.required} unit={clock.unit} stopped={clock.stopped}
          formatTime={(instant) => formatWhen(instant, project.zone)} formatShort={(instant) => whenNear(instant, project.zone, at)}
        />
      )}
    </Clock>
  );
}
