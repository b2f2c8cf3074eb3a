import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { listProjectsOf } from "#lib/db/project";
import { signedInPerson } from "#lib/edge/session";
import { house } from "#lib/services/house";
import { Button } from "../_ui/button";
import { Empty } from "../_ui/empty";
import { Cover } from "../sign-in/cover";
import { leave } from "../sign-in/actions";

export const metadata: Metadata = { title: "Projects" };

export default async function ProjectsPage() {
  const personId = await signedInPerson();
  if (!personId) redirect("/sign-in");
  const projects = await listProjectsOf(house().db.read, personId);
  const [first, ...others] = projects;
  if (first && others.length === 0) redirect(`/p/${first.code}`);
  return (
    <Cover title="Choose a project">
      {first ? (
        <ul className="cover-list">
          {projects.map(({ code, name, place, clockFrom }) => (
            <li key={code}>
              <a href={`/p/${code}`}>
                <b>{name}</b>
                <span className="letter">{place}{clockFrom === null ? "" : ", on the demonstration clock"}</span>
              </a>
            </li>
          ))}
        </ul>
      ) : (
        <Empty title="You are in no project.">Ask the QC manager of a project for an invitation link and open it.</Empty>
      )}
      <form className="cover-words" action={leave}>
        <Button className="button-quiet">Sign out</Button>
      </form>
    </Cover>
  );
}
