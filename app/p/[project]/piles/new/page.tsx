import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { overridable } from "#lib/domain/plan/override";
import { revisionInForce } from "#lib/domain/plan/plan";
import { requirementWords } from "#lib/domain/requirement/words";
import { listRevisions } from "#lib/db/project";
import { openPage } from "#lib/edge/page";
import { Empty } from "../../../../_ui/empty";
import { SheetHead } from "../../../../_ui/sheet";
import { ProjectFrame } from "../../project-frame";
import { PileForm, PILE_FORM } from "./pile-form";
import "./pile-form.css";

export const metadata: Metadata = { title: "Add a pile" };

export default async function NewPilePage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params, "add pile");
  const { project, house, at } = context;
  const revision = revisionInForce(await listRevisions(house.db.read, project.id), at);
  return (
    <ProjectFrame
      context={context} sheet="Add a pile" current="Bents" back={{ href: `/p/${project.code}`, label: "Bents" }} {...(revision ? { revision } : {})}
      actions={revision && <button className="button button-go" form={PILE_FORM}>Add pile</button>}
    >
      <SheetHead title="Add a pile" lead={revision ? `under requirement revision ${revision.letter}` : undefined} />
      {revision ? (
        <PileForm
          project={project.code} id={randomUUID()}
          types={revision.revision.sets.map(({ type, name, lines }) => ({
            type, name,
            requirements: overridable(lines).map(({ line, lineName, id, kind, name: what, rule, hours }) => ({
              value: [type, line, kind, id].join("|"),
              label: `${line} ${lineName}: ${what}, ${rule ? requirementWords(rule) : `${hours} h`}`,
            })),
          }))}
        />
      ) : (
        <Empty thing="list" title="No requirement revision is approved yet.">The engineer approves one first; a pile stands under the requirements of its type.</Empty>
      )}
    </ProjectFrame>
  );
}
