import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { found, openPage, type PageContext } from "#lib/edge/page";
import type { ChangeView } from "#lib/services/change-view";
import { differenceView, type DifferenceView, type Standing } from "#lib/services/difference-view";
import { Block } from "../../../../_ui/block";
import { Empty } from "../../../../_ui/empty";
import { Facts } from "../../../../_ui/facts";
import { SheetHead } from "../../../../_ui/sheet";
import { TableFrame } from "../../../../_ui/table";
import { ProjectFrame } from "../../project-frame";
import { requirementSheets } from "../requirement-sheets";
import { approve } from "./actions";
import { ApprovalForm } from "./approval-form";
import { ChangeFigure } from "./change-figure";
import { ChangeCounts } from "./change-counts";
import "./difference.css";

export const metadata: Metadata = { title: "Requirements, difference" };

interface Props {
  params: Promise<{ project: string }>;
  searchParams: Promise<{ from?: string | string[]; to?: string | string[] }>;
}

export default async function DifferencePage({ params, searchParams }: Props) {
  const context = await openPage(params);
  const { house, project, member, at } = context;
  const { from, to } = await searchParams;
  const letters = { ...letterOf("from", from), ...letterOf("to", to) };
  const view = await found(() => differenceView(house.db.read, project, member, letters, at));
  return (
    <ProjectFrame context={context} sheet="Requirements, difference" current="Requirements">
      <SheetHead
        title={view ? view.title : "Difference"}
        lead={view?.finding}
        note={view ? noteOf(view.standing) : undefined}
        subIndex={requirementSheets(project.code, "Difference")}
      />
      {view ? <Difference context={context} view={view} /> : <Empty thing="list" title="There is one revision.">A second one shows here against it, as soon as it is drafted.</Empty>}
    </ProjectFrame>
  );
}

function letterOf(name: "from" | "to", value: string | string[] | undefined): { from?: string; to?: string } {
  return typeof value === "string" && /^[A-Z]$/.test(value) ? { [name]: value } : {};
}

function noteOf(standing: Standing): string {
  switch (standing.is) {
    case "approved":
      return `Approved ${standing.when} by ${standing.by}.`;
    case "apart":
      return "Only what they ask for is compared.";
    default:
      return "What is signed stays as it was signed until the engineer says otherwise.";
  }
}

function Difference({ context, view }: { context: PageContext; view: DifferenceView }) {
  const { standing, changes, to, counts } = view;
  const figure = (change: ChangeView) => <ChangeFigure change={change} from={view.from} to={to} />;
  return (
    <>
      {standing.is === "reviewed" && standing.ownAnswer ? (
        <ApprovalForm
          action={approve.bind(null, context.project.code)} id={randomUUID()} letter={to} impactDigest={standing.impactDigest}
          reviewed={`Reviewed ${standing.when} by ${standing.reviewedBy}.`} counts={<ChangeCounts counts={counts} />}
          changes={changes.map((change) => ({ number: change.number, title: change.title, covers: change.covers, options: change.options, figure: figure(change) }))}
        />
      ) : (
        <ReadOnly view={view} figure={figure} />
      )}
      {view.also.length > 0 && <Also rows={view.also} />}
    </>
  );
}

/** The same sheet for who does not approve: what each answer would do, or what was answered. */
function ReadOnly({ view: { standing, changes, counts, to }, figure }: { view: DifferenceView; figure: (change: ChangeView) => React.ReactNode }) {
  return (
    <div className="difference">
      {changes.map((change, position) => (
        <section className="change-row" key={change.number} aria-label={`Change ${change.number}, ${change.title}`}>
          {figure(change)}
          <div className="from-when">
            {position === 0 && (
              <>
                <h2><span>From when</span><small>{standing.is === "approved" ? `revision ${to} is approved` : standing.is === "apart" ? "compared only" : "the engineer answers"}</small></h2>
                {standing.is !== "apart" && <ChangeCounts counts={counts} />}
              </>
            )}
            <div className="pad stack">
              <h3>Change {change.number}, {change.title.toLowerCase()}</h3>
              {change.answer && <p className="answered">{change.answer}</p>}
              {change.options.length > 0 && (
                <dl className="consequences">{change.options.map(({ applies, label, consequence }) => <div key={applies}><dt>{label}</dt><dd>{consequence}</dd></div>)}</dl>
              )}
            </div>
            {position === changes.length - 1 && <StandingWords standing={standing} />}
          </div>
        </section>
      ))}
      {changes.length === 0 && <div className="from-when from-when-alone"><StandingWords standing={standing} /></div>}
    </div>
  );
}

function StandingWords({ standing }: { standing: Standing }) {
  switch (standing.is) {
    case "approved":
      return (
        <div className="pad">
          <Facts
            facts={[
              { label: "Approved", value: `${standing.by}, ${standing.when}` },
              { label: "Reviewed", value: standing.reviewedBy ?? "with the project's opening" },
              { label: "Applies from", value: standing.appliesFrom },
              ...(standing.words ? [{ label: "Why", value: standing.words }] : []),
            ]}
          />
        </div>
      );
    case "not reviewed":
      return <p className="pad why">{standing.because}</p>;
    case "reviewed":
      return <p className="pad why">Reviewed {standing.when} by {standing.reviewedBy}. The engineer approves it, and somebody else than who reviewed it.</p>;
    case "apart":
      return null;
  }
}

function Also({ rows }: { rows: DifferenceView["also"] }) {
  return (
    <Block title="Also different" note="judges no point by itself">
      <TableFrame label="Also different">
        <table className="table">
          <thead><tr><th scope="col">Fact</th><th scope="col">Pile type</th><th scope="col">Was</th><th scope="col">Is</th></tr></thead>
          <tbody>{rows.map(({ where, name, was, now }) => <tr key={`${where} ${name}`}><th scope="row">{name}</th><td>{where}</td><td className="replaced">{was}</td><td className="required"><b>{now}</b></td></tr>)}</tbody>
        </table>
      </TableFrame>
    </Block>
  );
}
