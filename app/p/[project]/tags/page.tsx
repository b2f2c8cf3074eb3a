import type { Metadata } from "next";
import { PAPERS, TAGS_A_PAGE } from "#lib/closeout/paper";
import { openPage } from "#lib/edge/page";
import { readTagQuery, tagSearch, type TagQuery } from "#lib/edge/schema/tag";
import { bentWords, tagView, type TagView } from "#lib/services/tag-view";
import { Choice } from "../../../_ui/choice";
import { Empty } from "../../../_ui/empty";
import { ErrorSummary } from "../../../_ui/error-summary";
import { SheetHead } from "../../../_ui/sheet";
import { ProjectFrame } from "../project-frame";
import { projectSheets } from "../sheet/project-sheets";
import { TagDrawing } from "./tag-drawing";
import "./tags.css";

export const metadata: Metadata = { title: "Pile tags" };

interface TagsPageProps {
  params: Promise<{ project: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function TagsPage({ params, searchParams }: TagsPageProps) {
  const context = await openPage(params);
  const { house, project, at } = context;
  const query = readTagQuery(toQuery(await searchParams));
  const view = await tagView(house.db.read, project, at, query.bents);
  return (
    <ProjectFrame context={context} sheet="Pile tags" current="Project">
      <SheetHead
        title="Pile tags"
        lead={leadOf(view, query)}
        note="The code names the pile and not its mark: a tag stays valid when the pile is renumbered."
        subIndex={projectSheets(project.code, "Pile tags")}
      />
      {view.bents.length === 0 ? (
        <Empty thing="pile" title="No pile is on the plan yet.">Each pile gets its tag as soon as it is added.</Empty>
      ) : (
        <>
          <TagForm view={view} query={query} />
          <div className="tag-bar">
            {view.tags.length > 0 && <a className="button button-go" href={`/api/v1/projects/${project.code}/tags/pdf${tagSearch({ bents: query.bents.filter((bent) => view.bents.some(({ code }) => code === bent)), paper: query.paper })}`}>PDF on {query.paper}</a>}
            <p className="letter">Print at 100 %, on waterproof stock, matt. Punch 5 mm at the circles, lace through both ends. In a photo the tag is read from about a tenth of the width; it shows which tag was there, no more.</p>
          </div>
          <ul className="tag-list" aria-label="Pile tags">
            {view.tags.map((tag) => <li key={tag.pileId}><TagDrawing tag={tag} project={project.name} /></li>)}
          </ul>
        </>
      )}
    </ProjectFrame>
  );
}

function leadOf({ tags }: TagView, { paper }: TagQuery): string {
  if (tags.length === 0) return "No tags";
  const pages = Math.ceil(tags.length / TAGS_A_PAGE);
  return `${bentWords(tags)}: ${tags.length} ${tags.length === 1 ? "tag" : "tags"} on ${pages} ${pages === 1 ? "page" : "pages"} of ${paper}`;
}

/** Which bents, on which paper. A form of the address: it works without scripts, and the address can be sent to somebody. */
function TagForm({ view, query }: { view: TagView; query: TagQuery }) {
  const faults = [...query.faults, ...view.faults];
  const error = (field: string): string | undefined => faults.find((one) => one.field === field)?.message;
  return (
    <>
      {faults.length > 0 && <ErrorSummary title="Something was not understood. The rest stands as chosen." errors={faults.map(({ field, message }) => ({ message, href: `#${field ?? "tags"}` }))} />}
      <form method="get" id="tags" className="tag-form" aria-label="Tags to be printed">
        <fieldset className={error("bents") ? "choice choice-row field-bad" : "choice choice-row"} aria-describedby={error("bents") ? "bents-hint bents-error" : "bents-hint"}>
          <legend>Bents</legend>
          <div className="options">
            {view.bents.map(({ code, piles }, i) => (
              <label key={code}><input type="checkbox" id={i === 0 ? "bents" : undefined} name="bents" value={code} defaultChecked={query.bents.includes(code)} /><span>{code}<small>{piles} {piles === 1 ? "pile" : "piles"}</small></span></label>
            ))}
          </div>
          <p className="hint" id="bents-hint">None ticked: all of them. Piles out of scope get no tag.</p>
          {error("bents") && <p className="error" id="bents-error">{error("bents")}</p>}
        </fieldset>
        <Choice legend="Paper" name="paper" id="paper" inRow chosen={query.paper} error={error("paper")} options={Object.entries(PAPERS).map(([paper, [wide, high]]) => ({ value: paper, label: paper, consequence: `${wide} × ${high} mm` }))} />
        <div className="button-row"><button className="button">Show</button></div>
      </form>
    </>
  );
}

function toQuery(params: Record<string, string | string[] | undefined>): URLSearchParams {
  return new URLSearchParams(Object.entries(params).flatMap(([name, value]) => [value ?? []].flat().map((one): [string, string] => [name, one])));
}
