import { randomUUID } from "node:crypto";
import type { ReactNode } from "react";
import { formatWhen, siteTime } from "#lib/domain/clock/site-time";
import { can } from "#lib/domain/access/can";
import { HOUR } from "#lib/domain/instant";
import { batchView } from "#lib/services/batch-view";
import { decisionView, type DecisionView } from "#lib/services/decision-view";
import { roundView } from "#lib/services/round-view";
import type { Sheet } from "#lib/services/sheet";
import type { PageContext } from "#lib/edge/page";
import { Block } from "../../../../_ui/block";
import { Empty } from "../../../../_ui/empty";
import { FlagTriangle, KindMark, State } from "../../../../_ui/mark";
import { SequenceChart } from "../../../../_ui/sequence-chart";
import { TableFrame } from "../../../../_ui/table";
import { BatchBlock } from "../../batch-block";
import { check, decide, type PointPlace } from "./actions";
import { CheckForm } from "./check-form";
import { DecisionForm } from "./decision-form";
import { History, OneStamp } from "./history";
import { PhotoDetails } from "./photo-details";
import { PhotoViewer } from "./photo-viewer";
import { pointHref } from "../point-href";
import { ValueTable } from "./value-table";
import "./decision.css";

interface PointDecisionProps {
  context: PageContext;
  sheet: Sheet;
  line: string;
}

/** A point as its decider, its QC manager or any reader sees it: what was required and measured, the photos, and what is to be answered. */
export default async function PointDecision({ context, sheet, line }: PointDecisionProps) {
  const { house, project, member, at } = context;
  const view = await decisionView(house.db.read, sheet, line, member);
  const mark = sheet.pile?.mark ?? null;
  const batch = batchView(sheet);
  const place: PointPlace = { project: project.code, sheet: sheet.id, line, href: pointHref(project.code, mark, line) };
  return (
    <div className="decision">
      <Head view={view} mark={mark} zone={project.zone} />
      {view.submission === null ? (
        <Nothing view={view} />
      ) : (
        <>
          {view.sequence && (
            <div className="decision-sequence">
              <SequenceChart {...view.sequence} now={at} zone={project.zone} />
            </div>
          )}
          <div className="decision-photos"><PhotoViewer photos={view.photos} project={project.code} /></div>
          <div className="decision-values stack">
            <Values view={view} />
            <Sent view={view} source={`/api/v1/projects/${project.code}/documents`} />
            {batch?.lines.includes(line) && <BatchBlock batch={batch} />}
          </div>
          <div className="decision-right">
            <div className="decision-windows"><PhotoDetails photos={view.photos} zone={project.zone} now={at} /></div>
            <div className="decision-answer stack">
              <Answer view={view} context={context} place={place} mark={mark} />
              {view.history.length > 0 && <History attempts={view.history} />}
            </div>
          </div>
        </>
      )}
    </div>
  );
}

function Head({ view, mark, zone }: { view: DecisionView; mark: string | null; zone: string }) {
  const { line, kind, name, state, submission, attempt, coveredBy, limit } = view;
  const facts = submission ? [`attempt ${attempt}`, submission.sent, submission.checked].filter(Boolean).join(" · ") : null;
  return (
    <div className={mark ? "head decision-head" : "head head-plain decision-head"}>
      <h1>
        {mark && <span className="mark">{mark} </span>}
        <span className="head-title">{line} <KindMark kind={kind} /> {name}</span>
      </h1>
      <div className="lead"><State state={state} /></div>
      {facts && <p className="letter note">{facts}</p>}
      {coveredBy && (state === "submitted" || state === "QC checked") && <p className="required note">Covered up next, by point {coveredBy.line}.</p>}
      {limit && <p className={limit.over ? "doubtful note" : "required note"}>{limit.over ? "Ran out" : "Until"} {formatWhen(limit.until, zone, { short: true })}: {limit.words}.</p>}
      {view.doubt && <p className="doubtful note">In doubt: {view.doubt}.</p>}
    </div>
  );
}

function Nothing({ view }: { view: DecisionView }) {
  if (view.notApplicable) return <Empty title="This point does not apply to this pile.">{view.notApplicable}</Empty>;
  return <Empty title="Nothing has been sent for this point yet.">When the crew sends it, its values and photos stand here. It is decided by: {view.decidedBy}.</Empty>;
}

function Values({ view }: { view: DecisionView }) {
  const { values, behind, change } = view;
  return (
    <>
      {change && <Change change={change} />}
      {values.length > 0 && <TableFrame label="Values"><ValueTable caption="Requirement against measured value" values={values} /></TableFrame>}
      {behind.length > 0 && <TableFrame label="Values of the points that will be hidden"><ValueTable caption="What this release covers up" values={behind} withPoint /></TableFrame>}
    </>
  );
}

/** Changed values named before the rest is counted. */
const MOST_CHANGES = 6;

function Change({ change }: { change: NonNullable<DecisionView["change"]> }) {
  const { attempt, values, photosNew, photosAgain } = change;
  const more = values.length - MOST_CHANGES;
  const photos = [photosNew > 0 && `${photosNew} new photo${photosNew === 1 ? "" : "s"}`, photosAgain > 0 && `${photosAgain} sent again`].filter(Boolean).join(", ");
  return (
    <section className="change" aria-label={`What changed since attempt ${attempt}`}>
      <h2>Since attempt {attempt}</h2>
      <ul>
        {values.slice(0, MOST_CHANGES).map(({ name, before, now }) => <li key={name}>{name}: <span className="replaced">{before}</span> <b>{now}</b></li>)}
        {more > 0 && <li>and {more} more</li>}
        {values.length === 0 && <li>The same values.</li>}
        <li>{photos || "No photos in either."}</li>
      </ul>
    </section>
  );
}

function Sent({ view, source }: { view: DecisionView; source: string }) {
  const { lots, documents, words, revision, work } = view.submission!;
  return (
    <dl className="facts sent">
      <div><dt>Work</dt><dd className="num">{work}</dd></div>
      <div><dt>Revision</dt><dd>{revision}</dd></div>
      {lots.map((lot) => <div key={lot.name}><dt>{lot.name}</dt><dd className={lot.bad ? "doubtful" : undefined}>{lot.words}</dd></div>)}
      {documents.map(({ id, title }) => <div key={id}><dt>Document</dt><dd><a href={`${source}/${id}`}>{title}</a></dd></div>)}
      {words && <div><dt>Crew’s words</dt><dd>{words}</dd></div>}
    </dl>
  );
}

/** The right-hand side: the forms that this person may use, or who may. */
function Answer({ view, context, place, mark }: { view: DecisionView; context: PageContext; place: PointPlace; mark: string | null }): ReactNode {
  const { may, submission, kind, photos } = view;
  const id = randomUUID();
  const form = {
    action: decide.bind(null, place), id, submissionId: submission!.id, groups: view.questions, blocks: view.blocks,
    photos: photos.map(({ judged }) => judged),
    needs: view.needs, hold: kind === "H", days: daysOf(context), standsOnIt: view.standsOnIt,
    releaseLabel: view.state === "in doubt" ? "Release again" : "Release", evidenceOnly: view.evidenceOnly,
  };
  if (may.notDecide === null) return <DecisionForm {...form} mode="decide" />;
  const last = view.history.at(-1)?.submissions.at(-1)?.stamps.at(-1);
  return (
    <>
      {last && <div className="last-stamp"><OneStamp stamp={last} /></div>}
      <Next context={context} view={view} mark={mark} />
      {may.sendBack && <CheckForm action={check.bind(null, place)} id={id} submissionId={submission!.id} mayCheck={may.check} />}
      {may.reopen && <DecisionForm {...form} mode="reopen" />}
      {!may.reopen && <p className="letter">{may.notDecide}</p>}
      {view.questions.length > 0 && !may.reopen && <Flags view={view} />}
    </>
  );
}

function Flags({ view }: { view: DecisionView }) {
  return (
    <Block title="Flags" note="answered by who decides">
      <ol className="flags">
        {view.questions.map(({ number, words, items }) => (
          <li key={number} className="flag">
            <FlagTriangle n={number} />
            <div><b>{words}</b>{items.length > 1 && <> · {items.length} photos</>}<p className="letter">{items[0]?.measured}</p></div>
          </li>
        ))}
      </ol>
    </Block>
  );
}

/** Today and yesterday on site, as a person would say them. */
function daysOf({ at, project }: PageContext) {
  return [0, 24].map((hours) => {
    const instant = at - hours * HOUR;
    return { day: siteTime(instant, project.zone).date, words: `${hours === 0 ? "today" : "yesterday"}, ${formatWhen(instant, project.zone, { offset: false }).split(" ").slice(1, 3).join(" ")}` };
  });
}

/** What this person looks at next, once nothing is left to do here. */
async function Next({ context, view, mark }: { context: PageContext; view: DecisionView; mark: string | null }) {
  const { house, project, member, at } = context;
  const busy = view.may.notDecide === null || view.may.check;
  if (busy || !(can(member, "decide point", project.id) || can(member, "check submission", project.id))) return null;
  const { yours } = await roundView(house.db.read, project, member, at);
  const next = yours.find((row) => row.mark !== mark || row.line !== view.line);
  if (!next) return <p className="decision-next">Nothing else waits for you. <a href={`/p/${project.code}/round`}>Inspector’s round</a></p>;
  return (
    <p className="decision-next">
      Next for you: <a className="button" href={pointHref(project.code, next.mark, next.line)}>{next.mark ?? "Project sheet"}, {next.line} {next.name}</a>
    </p>
  );
}
