import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { can } from "#lib/domain/access/can";
import { pilesSaid } from "#lib/domain/plan/mark";
import { listPiles } from "#lib/db/pile";
import { openPage } from "#lib/edge/page";
import { bentsView, type BentsView, type ClockHere, type WorkHere } from "#lib/services/bents-view";
import { BentsPlan } from "../../_ui/bents-plan";
import { Block } from "../../_ui/block";
import { Button } from "../../_ui/button";
import { Empty } from "../../_ui/empty";
import { KindMark, State } from "../../_ui/mark";
import { SheetHead } from "../../_ui/sheet";
import { ProjectFrame } from "./project-frame";
import "./crew.css";

export const metadata: Metadata = { title: "Bents" };

interface Props {
  params: Promise<{ project: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** Rows of a list that stand open; the rest unfolds. */
const ROWS_OPEN = 8;

export default async function BentsPage({ params, searchParams }: Props) {
  const context = await openPage(params);
  const { project, member, house, at } = context;
  const typed = [(await searchParams).mark].flat()[0]?.slice(0, 40) ?? "";
  const said = typed === "" ? [] : pilesSaid(await listPiles(house.db.read, project.id), typed);
  const [only] = said;
  if (only && said.length === 1) redirect(`/p/${project.code}/piles/${encodeURIComponent(only.mark)}`);

  const view = await bentsView(house.db.read, project, member, at);
  const addPile = can(member, "add pile", project.id);
  const href = (mark: string, line?: string) => `/p/${project.code}/piles/${encodeURIComponent(mark)}${line ? `/${line}` : ""}`;
  const fault = typed === "" ? undefined : said.length === 0 ? `No pile is called ${typed}.` : `${typed} can be ${said.map(({ mark }) => mark).join(", ")}. Type one of them.`;
  const workWords = view.own ? "Work here now" : "Open for the crew";
  return (
    <ProjectFrame
      context={context} sheet="Bents" current="Bents" {...(view.revision ? { revision: view.revision } : {})}
      actions={view.piles > 0 && (
        <>
          <a className="button thumb-only" href="#mark">Type a mark</a>
          <a className="button button-go thumb-only" href="#work-now">{workWords}: {view.workNow.length}</a>
        </>
      )}
    >
      <SheetHead title="Bents" lead={leadWords(view)} note="Symbol: core by type, ring by state, gap: not covered up." />
      {view.piles === 0 ? (
        <Empty thing="pile" title="No pile is on the plan yet.">{addPile ? "Add the first one, or start the plan from the drawing schedule." : "The QC manager or the administrator adds them."}</Empty>
      ) : (
        <div className="bents-columns">
          <div className="bents-plan">
            <BentsPlan
              north={view.north}
              bents={view.bents.map(({ code, note, piles }) => ({
                code,
                ...(note === null ? {} : { note }),
                piles: piles.map(({ mark, row, core, state, word, point, covered, workable, clock }) => ({
                  mark, row, core, state, word, covered, workable, clock, href: href(mark),
                  ...(point ? { pointLine: point.line, pointKind: point.kind } : {}),
                })),
              }))}
            />
          </div>
          <div className="bents-side">
            <form className="find-mark" action={`/p/${project.code}`} role="search">
              <div className={fault ? "field field-bad" : "field"}>
                <label htmlFor="mark">Type a mark</label>
                <div className="control"><input className="value" id="mark" name="mark" defaultValue={typed} maxLength={15} autoComplete="off" autoCapitalize="characters" spellCheck={false} placeholder="3C" aria-describedby={fault ? "mark-error" : undefined} aria-invalid={fault ? true : undefined} /></div>
              </div>
              <Button>Open</Button>
              {fault && <p className="error" id="mark-error" role="alert">{fault}</p>}
            </form>
            <Block title={`${workWords}: ${view.workNow.length}`} note="first by what ends first" id="work-now">
              <WorkList rows={view.workNow} href={href} />
            </Block>
          </div>
          <div className="bents-under">
            {view.clocks.length > 0 && (
              <Block title="Clocks" note="earliest, not a permission">
                <ul className="pad">{view.clocks.map((clock) => <ClockRow key={`${clock.mark} ${clock.line}`} clock={clock} href={href(clock.mark)} />)}</ul>
              </Block>
            )}
            <Block title="Piles by state">
              <table className="table counts">
                <thead className="hide"><tr><th scope="col">State</th><th scope="col">Piles</th></tr></thead>
                <tbody>
                  {view.counts.map(({ state, word, count }) => <tr key={word}><th scope="row"><State state={state} word={word} /></th><td className="right">{count}</td></tr>)}
                </tbody>
              </table>
            </Block>
          </div>
        </div>
      )}
      <p className="button-row">
        {can(member, "send photo", project.id) && <a className="button" href={`/p/${project.code}/card`}>Photos from a camera card</a>}
        {addPile && <a className="button" href={`/p/${project.code}/piles/new`}>Add a pile</a>}
      </p>
    </ProjectFrame>
  );
}

function leadWords({ piles, inWork, workNow, own }: BentsView): string {
  if (piles === 0) return "no pile yet";
  return `${piles} ${piles === 1 ? "pile" : "piles"}, ${inWork} in work, ${workNow.length} ${own ? "to work on now" : "open"}`;
}

function WorkList({ rows, href }: { rows: readonly WorkHere[]; href(mark: string, line: string): string }) {
  if (rows.length === 0) return <p className="pad">Nothing may begin now. What waits, and for what, stands on each pile&apos;s sheet.</p>;
  const list = (some: readonly WorkHere[]) => <ul className="pad">{some.map((row) => <WorkRow key={`${row.mark} ${row.line}`} row={row} href={href(row.mark, row.line)} />)}</ul>;
  const rest = rows.slice(ROWS_OPEN);
  return (
    <>
      {list(rows.slice(0, ROWS_OPEN))}
      {rest.length > 0 && <details className="list-more"><summary className="pad">{rest.length} more</summary>{list(rest)}</details>}
    </>
  );
}

function WorkRow({ row, href }: { row: WorkHere; href: string }) {
  const { mark, line, kind, name, because, state } = row;
  return (
    <li>
      <a className="work-row" href={href}>
        <span className="mark">{mark}</span>
        <span className="number">{line}</span>
        <KindMark kind={kind} />
        <span><span className="name">{name}</span>{state === "open" || state === "released" ? <small>{because}</small> : <State state={state} word={`${state}, ${because}`} size={14} />}</span>
      </a>
    </li>
  );
}

function ClockRow({ clock, href }: { clock: ClockHere; href: string }) {
  return (
    <li>
      <a className="clock-row" href={href}>
        <span className="mark">{clock.mark}</span>
        <span><b className={clock.paused ? "doubtful" : "required"}>{clock.headline}</b><small>{clock.line} {clock.name}</small></span>
      </a>
    </li>
  );
}
