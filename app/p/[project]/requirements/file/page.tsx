import type { Metadata } from "next";
import { nextLetter } from "#lib/domain/requirement/draft";
import { requirementsView } from "#lib/services/requirements-view";
import { openPage } from "#lib/edge/page";
import { Block } from "../../../../_ui/block";
import { readFile } from "../actions";
import { FileForm } from "../file-form";
import { RequirementsFrame } from "../requirements-frame";
import { RevisionAside } from "../revision-aside";

export const metadata: Metadata = { title: "Requirements, file" };

export default async function FilePage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params);
  const { project } = context;
  const view = await requirementsView(context.house.db.read, project, context.member, context.at);
  const draft = view.letters.find(({ words }) => words === "draft")?.letter ?? null;
  const next = draft ?? nextLetter(view.latest?.letter ?? null);
  return (
    <RequirementsFrame context={context} view={view} current="File">
      <div className="requirements requirements-design">
        <div className="stack">
          <Block title="Out" note="canonical JSON: its SHA-256 is the digest of the revision">
            <ul className="file-list">
              {view.letters.map(({ letter, words }) => <li key={letter}><a href={`/api/v1/projects/${project.code}/requirements/${letter}`} download={`requirements-${letter}.json`}>requirements-{letter}.json</a> <span className="letter">{words}</span></li>)}
              <li><a href="/api/v1/requirement-revision.schema.json">requirement-revision.schema.json</a> <span className="letter">JSON Schema 2020-12 of such a file</span></li>
            </ul>
          </Block>
          {view.may.draft && next !== null && (
            <Block title="In" note="read first, kept when it is right"><FileForm action={readFile.bind(null, { project: project.code, digest: draft ? view.digest : "" })} letter={next} hasDraft={draft !== null} /></Block>
          )}
        </div>
        <RevisionAside context={context} view={view} />
      </div>
    </RequirementsFrame>
  );
}
