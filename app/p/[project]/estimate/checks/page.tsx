import type { Metadata } from "next";
import { openPage } from "#lib/edge/page";
import { readChecks } from "#lib/edge/schema/check";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { SheetHead } from "../../../../_ui/sheet";
import { ProjectFrame } from "../../project-frame";
import { projectSheets } from "../../sheet/project-sheets";
import { Anchor, Embedment, ResinHole } from "./bar-checks";
import { Dew, Film } from "./coating-checks";
import { Formwork, Maturity, Take, UnsetHead } from "./grout-checks";
import { PullOff, Sampling, Strength, Wrench } from "./sample-checks";
import "./checks.css";

export const metadata: Metadata = { title: "Checks" };

interface ChecksPageProps {
  params: Promise<{ project: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** Arithmetic without a pile. One form of the address, so that every check keeps its fields when another is worked out. */
export default async function ChecksPage({ params, searchParams }: ChecksPageProps) {
  const context = await openPage(params);
  const { project } = context;
  const query = new URLSearchParams(Object.entries(await searchParams).flatMap(([name, value]) => [value ?? []].flat().map((one): [string, string] => [name, one])));
  const checks = readChecks(query);
  const { faults } = checks;
  return (
    <ProjectFrame context={context} sheet="Checks" current="Project" back={{ href: `/p/${project.code}/estimate`, label: "Estimate" }}>
      <SheetHead title="Checks" lead="Arithmetic without a pile" note="Nothing here is recorded, and nothing is accepted by it. The address keeps what is typed." subIndex={projectSheets(project.code, "Estimate")} />
      <p><a href={`/p/${project.code}/estimate`}>Back to the estimate</a></p>
      {faults.length > 0 && <ErrorSummary title={faults.length === 1 ? "1 field is missing or not understood." : `${faults.length} fields are missing or not understood.`} errors={faults.map(({ field, message }) => ({ message, href: `#${field ?? "checks"}` }))} />}
      <form method="get" className="checks" id="checks" aria-label="Checks">
        <Sampling checks={checks} />
        <Strength checks={checks} />
        <PullOff checks={checks} />
        <Embedment checks={checks} />
        <Dew checks={checks} />
        <UnsetHead checks={checks} />
        <Take checks={checks} />
        <Formwork checks={checks} />
        <Maturity checks={checks} />
        <Wrench checks={checks} />
        <ResinHole checks={checks} />
        <Film checks={checks} />
        <Anchor checks={checks} />
      </form>
    </ProjectFrame>
  );
}
