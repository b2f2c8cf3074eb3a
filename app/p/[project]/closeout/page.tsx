import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { formatWhen } from "#lib/domain/clock/site-time";
import { findPile, listAcceptances } from "#lib/db/pile";
import { closeoutView, type CloseoutView } from "#lib/services/closeout-view";
import { roundView } from "#lib/services/round-view";
import { sizeWords } from "#lib/services/words";
import { openPage, type PageContext } from "#lib/edge/page";
import { Block } from "../../../_ui/block";
import { Empty } from "../../../_ui/empty";
import { Facts } from "../../../_ui/facts";
import { SheetHead } from "../../../_ui/sheet";
import { Stamp } from "../../../_ui/stamp";
import { ProjectFrame } from "../project-frame";
import { accept } from "../accept-action";
import { issue } from "./actions";
import { AcceptForm, IssueForm } from "./closeout-forms";
import { Completeness } from "./completeness";
import "../materials/register.css";
import "./closeout.css";

export const metadata: Metadata = { title: "Closeout" };

export default async function CloseoutPage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params, "see closeout");
  const { house, project, at } = context;
  const view = await closeoutView(house.db.read, project, at);
  const accepted = view.rows.filter(({ state }) => state === "accepted").length;
  return (
    <ProjectFrame context={context} sheet="Closeout" current="Closeout">
      <SheetHead
        title="Closeout"
        lead={`${view.released} of ${view.planned} points released, ${accepted} of ${view.rows.length} piles accepted.`}
        note="A later issue never replaces an earlier one."
      />
      {view.rows.length === 0 ? <Empty title="There is no pile yet.">Piles are added on the sheet of bents; their points stand here from the first day.</Empty> : (
        <div className="closeout">
          <Completeness view={view} project={project.code} />
          <div className="stack">
            {can(context.member, "accept pile", project.id) && <Acceptance context={context} />}
            <Issue context={context} view={view} />
            {view.issues.map((one) => <Issued key={one.number} issue={one} last={one === view.issues[0]} zone={project.zone} />)}
            {view.issues[0] && <CheckWithoutUs issue={view.issues[0]} project={project.code} />}
          </div>
        </div>
      )}
    </ProjectFrame>
  );
}

async function Acceptance({ context }: { context: PageContext }) {
  const { house, project, member, at, personId } = context;
  const [{ toAccept }, acceptances] = await Promise.all([roundView(house.db.read, project, member, at), listAcceptances(house.db.read, project.id)]);
  const last = acceptances.filter(({ by }) => by === personId).at(-1);
  const marks = toAccept.map(({ mark }) => mark);
  return (
    <Block title="Acceptance" note={`${marks.length} pile${marks.length === 1 ? "" : "s"} can be accepted now`} id="accept">
      <div className="pad stack">
        {last && <AcceptedStamp acceptance={last} context={context} />}
        {marks.length > 0
          ? <AcceptForm key={marks.join()} action={accept.bind(null, project.code, "closeout")} id={randomUUID()} marks={marks} />
          : <p>No pile has all its points released and waits for acceptance.</p>}
      </div>
    </Block>
  );
}

async function AcceptedStamp({ acceptance, context }: { acceptance: Awaited<ReturnType<typeof listAcceptances>>[number]; context: PageContext }) {
  const { house, project, member } = context;
  const pile = await findPile(house.db.read, project.id, { id: acceptance.pileId });
  return (
    <div id="accepted">
      <Stamp
        kind="accepted"
        serverAttested
        lines={[`Pile ${pile?.mark ?? ""}`, ...(acceptance.words ? [acceptance.words] : []), `${member.name}, ${acceptance.organisation}`, formatWhen(Date.parse(acceptance.acceptedAt), project.zone)]}
      />
    </div>
  );
}

/** Open items shown before the list is folded. */
const MOST_ITEMS = 6;

function Issue({ context, view }: { context: PageContext; view: CloseoutView }) {
  const { openItems, issues } = view;
  const number = (issues[0]?.number ?? 0) + 1;
  const may = can(context.member, "issue closeout", context.project.id);
  return (
    <Block title={`Closeout package, issue ${number}`} note={openItems.length > 0 ? "interim only" : "may be final"}>
      <div className="pad stack">
        {openItems.length > 0 ? <OpenItems items={openItems} /> : <p><b>Nothing is open.</b></p>}
        {may ? <IssueForm action={issue.bind(null, context.project.code)} id={randomUUID()} open={openItems.length} /> : <p className="letter">Issued by the QC manager, the owner or the administrator.</p>}
      </div>
    </Block>
  );
}

function OpenItems({ items }: { items: readonly string[] }) {
  const rest = items.slice(MOST_ITEMS);
  return (
    <div className="open-items">
      <p><b>Open, {items.length}</b></p>
      <ul>{items.slice(0, MOST_ITEMS).map((item) => <li key={item}>{item}</li>)}</ul>
      {rest.length > 0 && (
        <details>
          <summary>{rest.length} more</summary>
          <ul>{rest.map((item) => <li key={item}>{item}</li>)}</ul>
        </details>
      )}
    </div>
  );
}

function Issued({ issue: one, last, zone }: { issue: CloseoutView["issues"][number]; last: boolean; zone: string }) {
  return (
    <Block title={`Issue ${one.number}, ${one.kind}`} note={last ? "the last one" : "a later one was issued"}>
      <div className="pad stack">
        <Facts
          facts={[
            { label: "issued", value: `${formatWhen(one.at, zone)}, ${one.by}` },
            { label: "size", value: sizeWords(one.bytes) },
            { label: "SHA-256", value: <span className="code">{one.sha256}</span> },
            { label: "tag manifest", value: <span className="code">{one.tagManifestSha256}</span> },
          ]}
        />
        <p><a className="button" href={one.href} download>Download issue {one.number}</a></p>
      </div>
    </Block>
  );
}

function CheckWithoutUs({ issue: { number, kind, sha256 }, project }: { issue: CloseoutView["issues"][number]; project: string }) {
  const name = `${project}-issue-${number}-${kind}`;
  return (
    <Block title="Check it without us" note="any computer, stock tools">
      <pre className="commands" tabIndex={0} aria-label="Commands">
        {[`echo "${sha256}  ${name}.zip" | sha256sum -c`, `unzip ${name}.zip`, `cd ${name}`, "sha256sum -c manifest-sha256.txt", "sh verify.sh"].join("\n")}
      </pre>
    </Block>
  );
}
