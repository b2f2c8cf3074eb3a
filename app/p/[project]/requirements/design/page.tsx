import type { Metadata } from "next";
import { DESIGN_PARTS, JACKET_FACTS, SECTION_FIELDS, valuesOfSet } from "#lib/domain/requirement/draft-design";
import type { RequirementSet } from "#lib/domain/requirement/set";
import { requirementsView } from "#lib/services/requirements-view";
import { openPage } from "#lib/edge/page";
import { Block } from "../../../../_ui/block";
import { Empty } from "../../../../_ui/empty";
import { Facts } from "../../../../_ui/facts";
import { addOneType, keepTitle, keepType } from "../actions";
import { DesignForm } from "../design-form";
import { RequirementsFrame } from "../requirements-frame";
import { RevisionAside } from "../revision-aside";
import { AddTypeForm, TitleForm } from "../small-forms";

export const metadata: Metadata = { title: "Requirements, design and data sheets" };

interface Props {
  params: Promise<{ project: string }>;
  searchParams: Promise<{ type?: string | string[]; revision?: string | string[]; kept?: string | string[] }>;
}

export default async function DesignPage({ params, searchParams }: Props) {
  const context = await openPage(params);
  const asked = await searchParams;
  const view = await requirementsView(context.house.db.read, context.project, context.member, context.at, typeof asked.revision === "string" ? asked.revision : null);
  const { revision } = view;
  const base = `/p/${context.project.code}/requirements`;
  const at = { project: context.project.code, digest: view.digest };
  const set = revision?.sets.find(({ type }) => type === asked.type) ?? revision?.sets[0];
  return (
    <RequirementsFrame context={context} view={view} current="Design and data sheets">
      <div className="requirements requirements-design">
        <div className="stack">
          {!revision || !set ? <Empty thing="list" title="No pile type is written yet.">Begin a revision first.</Empty> : (
            <>
              <nav className="subindex type-index" aria-label="Pile types"><ul>{revision.sets.map(({ type, name }) => <li key={type}><a href={`${base}/design?type=${type}`} aria-current={type === set.type ? "page" : undefined}>{type}, {name}</a></li>)}</ul></nav>
              {asked.kept && <p className="kept" role="status">Kept. A draft: it counts when the engineer has approved it.</p>}
              <p className="letter">What drawings and data sheets say of type {set.type}. Limits and estimates are worked out from it; a part with nothing in it is not on file, and what needs it says so.</p>
              {view.editable ? <DesignForm key={view.digest + set.type} action={keepType.bind(null, { ...at, type: set.type })} set={set} values={valuesOfSet(set)} /> : <ReadDesign set={set} />}
              {view.editable && <AddTypeForm action={addOneType.bind(null, at)} />}
              {view.editable && <Block title="The revision"><div className="pad"><TitleForm key={view.digest} action={keepTitle.bind(null, at)} title={revision.title} /></div></Block>}
            </>
          )}
        </div>
        <RevisionAside context={context} view={view} />
      </div>
    </RequirementsFrame>
  );
}

function ReadDesign({ set }: { set: RequirementSet }) {
  const values = valuesOfSet(set);
  const parts = [
    { title: "Type and jacket", facts: [["Name", values.name ?? ""], ["Width across the pile, in", values.coreWidthIn ?? ""], ...JACKET_FACTS.map(([name, label]) => [label, values[`jacket-${name}`] ?? ""])] },
    { title: "Section of the pile", facts: SECTION_FIELDS[set.core].map(({ name, label }) => [label, values[`section-${name}`] ?? ""]) },
    ...Object.entries(DESIGN_PARTS).map(([part, { title, fields }]) => ({ title, facts: fields.map(({ name, label }) => [label, (values[`${part}-${name}`] ?? "").replaceAll("\n", " min, ")]) })),
  ];
  return (
    <div className="design-read">
      {parts.map(({ title, facts }) => {
        const given = facts.filter(([, value]) => value);
        return <Block key={title} title={title}><div className="pad">{given.length === 0 ? <p className="letter">Not on file.</p> : <Facts facts={given.map(([label = "", value = ""]) => ({ label, value }))} />}</div></Block>;
      })}
    </div>
  );
}
