import type { Metadata } from "next";
import { formatWhen } from "#lib/domain/clock/site-time";
import { getPile } from "#lib/db/pile";
import { found, openPage } from "#lib/edge/page";
import { sequenceBands, sequenceView } from "#lib/services/sequence-view";
import { loadSheet } from "#lib/services/sheet";
import { Empty } from "../../../../../_ui/empty";
import { ErrorSummary } from "../../../../../_ui/error-summary";
import { SequenceChart, sequenceScale } from "../../../../../_ui/sequence-chart";
import { SheetHead } from "../../../../../_ui/sheet";
import { ProjectFrame } from "../../../project-frame";
import { askedView, viewQuery, type AskedFor } from "./asked-view";
import { enlargedSpan, PointDetail } from "./point-detail";
import { firstToLookAt, happensIn, leadOf, noteOf, spanOf, wholeOf } from "./shown-rows";
import { ViewTools } from "./view-tools";
import "./sequence.css";

interface Props {
  params: Promise<{ project: string; mark: string }>;
  searchParams: Promise<AskedFor>;
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `Sequence of pile ${decodeURIComponent((await params).mark)}` };
}

export default async function SequencePage({ params, searchParams }: Props) {
  const context = await openPage(params);
  const { project, house, at } = context;
  const { zone } = project;
  const { mark } = await params;
  const pile = await found(() => getPile(house.db.read, project.id, { mark: decodeURIComponent(mark) }));
  const sheet = await found(() => loadSheet(house.db.read, project, pile.id, at));
  const sequence = await sequenceView(house.db.read, sheet);
  const pileHref = `/p/${project.code}/piles/${encodeURIComponent(pile.mark)}`;
  const href = `${pileHref}/sequence`;
  const frame = { context, sheet: "Sequence", pile: pile.mark, revision: sheet.revision, current: "Bents" as const, back: { href: pileHref, label: "the pile sheet" } };
  if (!sequence) {
    return (
      <ProjectFrame {...frame}>
        <SheetHead mark={pile.mark} title="Sequence" lead="No work has been sent yet" />
        <Empty title="Nothing has happened at this pile yet.">When the crew sends the first point, time runs along here and points run down. <a href={pileHref}>Pile sheet</a></Empty>
      </ProjectFrame>
    );
  }

  const whole = wholeOf(sequence, at);
  const asked = askedView(await searchParams, { zone, lines: sheet.lines, whole });
  const { view } = asked;
  const row = sequence.rows.find(({ line }) => line === asked.point) ?? firstToLookAt(sequence.rows);
  const rows = view ? sequence.rows.filter((one) => happensIn(one, view)) : sequence.rows;
  const bands = view ? await sequenceBands(house.db.read, project, [view]) : sequence.bands;
  const scale = sequenceScale(rows, { now: at, coverUpAt: sequence.coverUpAt, limits: sequence.limits, view: view ?? undefined });
  const enlarged = row && enlargedSpan(row, at);
  const left = sequence.rows.length - rows.length;
  return (
    <ProjectFrame
      {...frame}
      actions={(
        <>
          <a className="button thumb-only" href={`${pileHref}#points`}>Points</a>
          {row && <a className="button button-go thumb-only" href={`${pileHref}/${row.line}`}>Open {row.line} {row.name}</a>}
        </>
      )}
    >
      <SheetHead mark={pile.mark} title="Sequence" lead={leadOf(sequence.rows)} note={noteOf(sequence.rows)} />
      {asked.problems.length > 0 && <ErrorSummary title="This cannot be shown" errors={asked.problems.map(({ field, message }) => ({ href: `#view-${field}`, message }))} />}
      <div className="sequence-sheet">
        <ViewTools {...{ asked, whole, zone, now: at, href }} rows={sequence.rows} drawn={row?.line ?? null} pointSpan={row ? spanOf(row) : null} />
        <section className="sequence-steps" aria-label="Steps">
          <h2>
            <span>Steps</span>
            <span className="letter">
              {view ? `${formatWhen(view.from, zone)} to ${formatWhen(view.to, zone)}` : "the whole record, cut where nothing happens"}
              {left > 0 && `; ${left} other ${left === 1 ? "point has" : "points have"} nothing in this time`}
            </span>
          </h2>
          {rows.length === 0 ? <Empty title="Nothing is on record in this time."><a href={href}>Show the whole record</a></Empty> : (
            <SequenceChart
              {...sequence} rows={rows} bands={bands} now={at} zone={zone} {...(view ? { view } : {})} {...(enlarged ? { detail: { line: row.line, letter: "A", span: enlarged } } : {})}
              pointHref={(line) => `${href}${viewQuery({ view, point: String(line) }, zone)}#detail`}
            />
          )}
        </section>
        {row && <PointDetail row={row} zone={zone} now={at} chartHour={scale.hour} project={project.code} pointHref={`${pileHref}/${row.line}`} />}
      </div>
    </ProjectFrame>
  );
}
