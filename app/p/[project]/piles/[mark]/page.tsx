import { randomUUID } from "node:crypto";
import type { ReactNode } from "react";
import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { getPile } from "#lib/db/pile";
import { found, openPage } from "#lib/edge/page";
import type { OverrideView } from "#lib/services/pile-override";
import type { NextActionView } from "#lib/services/next-action-view";
import { batchView } from "#lib/services/batch-view";
import { pileView, type PointRowView } from "#lib/services/pile-view";
import { loadSheet } from "#lib/services/sheet";
import { Block } from "../../../../_ui/block";
import { KindMark, State } from "../../../../_ui/mark";
import { PileElevation } from "../../../../_ui/pile-elevation";
import { SequenceChart } from "../../../../_ui/sequence-chart";
import { SheetHead } from "../../../../_ui/sheet";
import { Stamp } from "../../../../_ui/stamp";
import { TableFrame } from "../../../../_ui/table";
import { ClockDrawing } from "../../point/entry/head";
import { TemperatureForm } from "../../point/entry/temperature-form";
import { BatchBlock } from "../../batch-block";
import { ProjectFrame } from "../../project-frame";
import { accept } from "../../accept-action";
import { AcceptForm } from "./accept-form";
import { add, end } from "./override-actions";
import { EndOverrideForm, OverrideForm } from "./override-form";
import "./override.css";
import "../../crew.css";

interface Props {
  params: Promise<{ project: string; mark: string }>;
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `Pile ${decodeURIComponent((await params).mark)}` };
}

export default async function PilePage({ params }: Props) {
  const context = await openPage(params);
  const { project, member, house, at } = context;
  const { mark } = await params;
  const pile = await found(() => getPile(house.db.read, project.id, { mark: decodeURIComponent(mark) }));
  const sheet = await found(() => loadSheet(house.db.read, project, pile.id, at));
  const view = await pileView(house.db.read, sheet, member);
  const base = `/p/${project.code}/piles/${encodeURIComponent(view.mark)}`;
  const batch = batchView(sheet);
  const logs = can(member, "read temperature", project.id);
  const running = view.clocks.filter(({ progress, required }) => progress < required);
  // What cannot be met any more is said once.
  const waits = view.waits.filter(({ line, over }) => !over || !view.nextActions.deadEnds.some(({ redo }) => redo === line));
  const [go] = view.points.filter(({ workable }) => workable);
  return (
    <ProjectFrame
      context={context} sheet="Pile sheet" pile={view.mark} revision={sheet.revision} current="Bents" back={{ href: `/p/${project.code}`, label: "Bents" }}
      actions={(
        <>
          <a className="button thumb-only" href="#points">All {view.points.length} points</a>
          {logs && running[0] ? <a className="button button-go thumb-only" href={`#temperature-${running[0].line}`}>Log temperature</a> : go && <a className="button button-go thumb-only" href={`${base}/${go.line}`}>Open {go.line} {go.name}</a>}
        </>
      )}
    >
      <SheetHead mark={view.mark} title={view.typeName} lead={<State state={view.state} word={view.stateWords} />} note={`${view.place}, requirement revision ${sheet.revision.letter}`} />
      <div className="pile-columns">
        <div className="pile-drawing"><PileElevation {...view.elevation} /></div>
        {view.sequence && (
          <div className="pile-sequence">
            <SequenceChart {...view.sequence} now={at} zone={project.zone} pointHref={(line) => `${base}/sequence?point=${line}`} />
            <p className="sequence-more"><a href={`${base}/sequence`}>The sequence on a sheet of its own, to be looked at closer and printed</a></p>
          </div>
        )}
        <div className="pile-now">
          <div className="stack">
            {view.nextActions.deadEnds.length > 0 && (
              <Block title="Cannot be met" hand="bad">
                <ul className="wait-list">{view.nextActions.deadEnds.map(({ words }) => <li key={words} className="bad">{words}</li>)}</ul>
              </Block>
            )}
            {view.clocks.map((clock) => <ClockDrawing key={clock.line} clock={clock} context={context} />)}
            {batch && <BatchBlock batch={batch} />}
            {logs && running.map(({ line }) => <TemperatureForm key={line} point={{ project: project.code, sheet: sheet.id, line }} />)}
            {view.acceptance.stamps.map(({ by, organisation, when, words }) => <Stamp key={when} kind="accepted" serverAttested lines={[`${by}, ${organisation}`, when, ...(words ? [words] : [])]} />)}
            {view.acceptance.open && <AcceptForm action={accept.bind(null, project.code, "pile")} mark={view.mark} id={randomUUID()} />}
            {waits.length > 0 && (
              <Block title="Maximum waits" hand="held">
                <ul className="wait-list">{waits.map(({ words, over }) => <li key={words} className={over ? "doubtful" : "required"}>{words}</li>)}</ul>
              </Block>
            )}
            {(view.overrides.length > 0 || view.mayOverride) && (
              <Overrides rows={view.overrides}>
                {view.mayOverride && <OverrideForm action={add.bind(null, project.code, view.mark)} id={randomUUID()} requirements={view.mayOverride.requirements} />}
                {view.mayOverride && view.mayOverride.holding.length > 0 && <EndOverrideForm action={end.bind(null, project.code, view.mark)} id={randomUUID()} holding={view.mayOverride.holding} />}
              </Overrides>
            )}
          </div>
          <div className="stack">
            {view.next.length > 0 && <Block title="Next"><PointRows rows={view.next} base={base} /></Block>}
            {view.nextActions.actions.length > 0 && <NextTimes rows={view.nextActions.actions} />}
          </div>
        </div>
      </div>
      <Block title={`All ${view.points.length} points`} id="points"><PointRows rows={view.points} base={base} all /></Block>
    </ProjectFrame>
  );
}

function PointRows({ rows, base, all = false }: { rows: readonly PointRowView[]; base: string; all?: boolean }) {
  return (
    <ul className={all ? "pad points-all" : "pad"}>
      {rows.map(({ line, kind, name, state, second, workable }) => (
        <li key={line}>
          <a className="point-row" href={`${base}/${line}`}>
            <span className="number">{line}</span>
            <KindMark kind={kind} />
            <span className="point-name"><span className={workable ? "name go" : "name"}>{name}</span>{second && <small>{second}</small>}</span>
            <State state={state} />
          </a>
        </li>
      ))}
    </ul>
  );
}

/** When the next work can begin, and by when it has to. */
function NextTimes({ rows }: { rows: readonly NextActionView[] }) {
  return (
    <Block title="When" note="earliest and latest, not a permission">
      <TableFrame label="Earliest and latest times of the next work">
        <table className="table">
          <thead><tr><th scope="col">Point</th><th scope="col">Earliest</th><th scope="col">Latest</th></tr></thead>
          <tbody>
            {rows.map(({ line, name, earliest, latest, tide }) => (
              <tr key={line}><th scope="row">{line}<small>{name}</small></th><td>{earliest}{tide && <small>{tide}</small>}</td><td className="required">{latest ?? "no limit runs"}</td></tr>
            ))}
          </tbody>
        </table>
      </TableFrame>
    </Block>
  );
}

/** What this pile's drawing changes against its type, beside what it was. */
function Overrides({ rows, children }: { rows: readonly OverrideView[]; children: ReactNode }) {
  return (
    <Block title="This pile only" note="by drawing">
      {rows.length > 0 && (
        <TableFrame label="Requirements of this pile only">
          <table className="table">
            <thead><tr><th scope="col">Point</th><th scope="col">Requirement</th><th scope="col">Type</th><th scope="col">This pile</th><th scope="col">Drawing</th></tr></thead>
            <tbody>
              {rows.map(({ line, what, was, now, drawing, words }) => (
                <tr key={`${line} ${what}`}><th scope="row">{line}</th><td>{what}</td><td className="replaced">{was}</td><td className="required"><b>{now}</b></td><td>{drawing}<small>{words}</small></td></tr>
              ))}
            </tbody>
          </table>
        </TableFrame>
      )}
      <div className="override-forms">{children}</div>
    </Block>
  );
}
