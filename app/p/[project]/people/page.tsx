import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { siteTime } from "#lib/domain/clock/site-time";
import { ROLES } from "#lib/domain/requirement/set";
import { listMembers, listOrganisations, type MemberOnFile, type Organisation } from "#lib/db/project";
import { listQualifications, type Qualification } from "#lib/db/register";
import { dayWords } from "#lib/services/words";
import { openPage, type PageContext } from "#lib/edge/page";
import { Block } from "../../../_ui/block";
import { SheetHead } from "../../../_ui/sheet";
import { TableFrame } from "../../../_ui/table";
import { ProjectFrame } from "../project-frame";
import { projectSheets } from "../sheet/project-sheets";
import { addQualification, invite } from "./actions";
import { InviteForm } from "./invite-form";
import { QualificationForm } from "./qualification-form";
import "../materials/register.css";
import "./people.css";

export const metadata: Metadata = { title: "People" };

export default async function PeoplePage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params);
  const { house, project } = context;
  const [organisations, members, qualifications] = await Promise.all([
    listOrganisations(house.db.read, project.id), listMembers(house.db.read, project.id), listQualifications(house.db.read, project.id),
  ]);
  const here = members.filter(({ left }) => !left);
  return (
    <ProjectFrame context={context} sheet="People" current="Project">
      <SheetHead
        title="People"
        lead={`${here.length} people, ${organisations.length} organisations`}
        note="Nobody decides an attempt in which they entered a value. Names stay on the record when people leave."
        subIndex={projectSheets(project.code, "People")}
      />
      <div className="people">
        <TableFrame label="Members by organisation">
          <table className="table people-table">
            <caption className="hide">Members by organisation</caption>
            <thead><tr><th scope="col">Name</th><th scope="col">Role</th><th scope="col">Qualifications</th></tr></thead>
            {organisations.map((one) => <Group key={one.id} organisation={one} members={members.filter(({ organisationId }) => organisationId === one.id)} qualifications={qualifications} context={context} />)}
          </table>
        </TableFrame>
        {can(context.member, "keep people", project.id) ? <Keep context={context} organisations={organisations} people={here} /> : <p className="letter">The QC manager and the administrator keep this list.</p>}
      </div>
    </ProjectFrame>
  );
}

interface GroupProps {
  organisation: Organisation;
  members: readonly MemberOnFile[];
  qualifications: readonly Qualification[];
  context: PageContext;
}

function Group({ organisation, members, qualifications, context }: GroupProps) {
  const today = siteTime(context.at, context.project.zone).date;
  return (
    <tbody>
      <tr className="people-group"><th scope="rowgroup" colSpan={3}>{organisation.name} <span className="letter">{organisation.part}</span></th></tr>
      {members.length === 0 && <tr><td colSpan={3} className="letter">nobody yet</td></tr>}
      {members.map(({ personId, name, roles, left }) => (
        <tr key={personId}>
          <th scope="row">{name}{left && <small>left; the name stays on what was done</small>}</th>
          <td>{roles.join(", ")}</td>
          <td><Held held={qualifications.filter((one) => one.personId === personId)} today={today} /></td>
        </tr>
      ))}
    </tbody>
  );
}

function Held({ held, today }: { held: readonly Qualification[]; today: string }) {
  if (held.length === 0) return <span className="letter">none recorded</span>;
  return (
    <ul>
      {held.map(({ id, certificate, expiresOn }) => (
        <li key={id}>{certificate}, <span className={expiresOn < today ? "doubtful" : undefined}>{expiresOn < today ? "ended" : "good to"} {dayWords(expiresOn)}</span></li>
      ))}
    </ul>
  );
}

function Keep({ context, organisations, people }: { context: PageContext; organisations: Organisation[]; people: readonly MemberOnFile[] }) {
  const { code } = context.project;
  return (
    <div className="stack">
      <Block title="Invite a person" note="by a link that is used once"><InviteForm action={invite.bind(null, code)} organisations={organisations} roles={ROLES} /></Block>
      <Block title="Record a qualification"><div className="pad"><QualificationForm action={addQualification.bind(null, code)} id={randomUUID()} people={people.map(({ personId, name }) => ({ personId, name }))} /></div></Block>
    </div>
  );
}
