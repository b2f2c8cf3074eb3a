import type { Metadata } from "next";
import { house } from "#lib/services/house";
import { openInvitation } from "#lib/services/invite-person";
import { listOrganisations } from "#lib/db/project";
import { found } from "#lib/edge/page";
import { Cover } from "../../sign-in/cover";
import { SectionDrawing } from "../../sign-in/section-drawing";
import { join } from "./actions";
import { JoinForm } from "./join-form";

export const metadata: Metadata = { title: "Join" };

export default async function JoinPage({ params }: { params: Promise<{ token: string }> }) {
  const { token } = await params;
  const here = house();
  const { invitation, project } = await found(() => openInvitation(here, token));
  const organisation = (await listOrganisations(here.db.read, project.id)).find(({ id }) => id === invitation.organisationId);
  return (
    <Cover title={`Join ${project.name}`} drawing={<SectionDrawing />} notes>
      <dl className="cover-facts">
        <div>
          <dt>You are</dt>
          <dd>{invitation.name}</dd>
          <dd className="letter">{organisation?.name}</dd>
        </div>
        <div>
          <dt>Invited as</dt>
          <dd>{invitation.roles.join(", ")}</dd>
          <dd className="letter">{project.place}</dd>
        </div>
      </dl>
      <JoinForm action={join.bind(null, token)} />
    </Cover>
  );
}
