import type { Metadata } from "next";
import type { ReactNode } from "react";
import { BARS } from "#lib/domain/estimate/section";
import { FAILURE_MODES } from "#lib/domain/statistics/pull-off";
import { STRENGTH_FORMS } from "#lib/domain/statistics/strength";
import { openPage } from "#lib/edge/page";
import { CHEMISTRY, readChecks, type CheckResult, type Checks } from "#lib/edge/schema/check";
import { Block } from "../../../../_ui/block";
import { ErrorSummary } from "../../../../_ui/error-summary";
import { SelectField, TextAreaField, TextField } from "../../../../_ui/field";
import { SheetHead } from "../../../../_ui/sheet";
import { ValueVerdictMark } from "../../../../_ui/mark";
import { ReadAsTable } from "../../../../_ui/table";
import { ProjectFrame } from "../../project-frame";
import { projectSheets } from "../../sheet/project-sheets";
import { AcceptCurve } from "./accept-curve";
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
      </form>
    </ProjectFrame>
  );
}

interface CheckProps {
  checks: Checks;
}

interface CheckBlockProps {
  id: string;
  title: string;
  note: string;
  result: CheckResult | null;
  fields: ReactNode;
  children?: ReactNode;
}

function CheckBlock({ id, title, note, result, fields, children }: CheckBlockProps) {
  return (
    <Block title={title} note={note} id={id}>
      <div className="pad check">
        <div className="check-fields">{fields}</div>
        <button className="button" formAction={`#${id}`}>Work it out</button>
        {result && (
          <div className="check-result" role="status">
            <p className="check-words">{result.verdict && <ValueVerdictMark verdict={result.verdict} />} {result.words}</p>
            {result.notes.map((one) => <p className="letter" key={one}>{one}</p>)}
            {children}
          </div>
        )}
      </div>
    </Block>
  );
}

interface InputProps extends CheckProps {
  name: string;
  label: string;
  hint?: string;
}

function Input({ checks: { typed, faults }, name, label, hint }: InputProps) {
  return <TextField id={name} name={name} label={label} hint={hint} defaultValue={typed[name] ?? ""} error={faults.find(({ field }) => field === name)?.message} autoComplete="off" spellCheck={false} />;
}

function Pick({ checks: { typed, faults }, name, label, options }: InputProps & { options: readonly string[] }) {
  return (
    <SelectField id={name} name={name} label={label} defaultValue={typed[name] ?? ""} error={faults.find(({ field }) => field === name)?.message}>
      <option value="">choose</option>
      {options.map((one) => <option key={one} value={one}>{one}</option>)}
    </SelectField>
  );
}

function Lines({ checks: { typed, faults }, name, label, hint }: InputProps) {
  return <TextAreaField id={name} name={name} label={label} hint={hint} defaultValue={typed[name] ?? ""} error={faults.find(({ field }) => field === name)?.message} spellCheck={false} />;
}

function Sampling({ checks }: CheckProps) {
  const { sampling } = checks;
  return (
    <CheckBlock
      id="sampling" title="Bolts: what a sample cannot show" note="hypergeometric, exact" result={sampling}
      fields={<>
        <Input checks={checks} name="lot" label="Bolts in the lot" hint="count, such as 20" />
        <Input checks={checks} name="bad" label="Taken to be loose" hint="count, such as 2" />
        <Input checks={checks} name="checked" label="Checked" hint="count, such as 5" />
        <Input checks={checks} name="accept" label="Accepted with at most" hint="loose ones found; 0 is strictest" />
        <Input checks={checks} name="detect" label="Chance to find one, %" hint="for the smallest sample; empty is 95" />
      </>}
    >
      {sampling && <AcceptCurve check={sampling} />}
    </CheckBlock>
  );
}

function Strength({ checks }: CheckProps) {
  const { strength } = checks;
  return (
    <CheckBlock
      id="strength" title="Strength of grout" note="ACI 318 form, or no test below" result={strength}
      fields={<>
        <Lines checks={checks} name="tests" label="Results, in their order" hint="one test on each line, its specimens apart by commas: 6400, 6440" />
        <Input checks={checks} name="specified" label="Specified strength" hint="with its unit: 6000 psi; results follow it" />
        <Pick checks={checks} name="form" label="Accepted by" options={STRENGTH_FORMS} />
        <Input checks={checks} name="least" label="Specimens in a test" hint="count, at least" />
      </>}
    >
      {strength && <ReadAsTable caption="Tests" columns={["Test", "Mean", "Average of three, verdict"]} rows={strength.rows.map(({ test, mean, average }) => [`${test}`, mean, average])} />}
    </CheckBlock>
  );
}

function PullOff({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="pull-off" title="Pull-off" note="force over the dolly’s area; where it let go is part of the verdict" result={checks.pullOff}
      fields={<>
        <Input checks={checks} name="force" label="Force" hint="700 lbf or 440 N" />
        <Input checks={checks} name="dolly" label="Dolly, diameter" hint="2 in or 20 mm" />
        <Pick checks={checks} name="mode" label="It let go" options={FAILURE_MODES} />
        <Input checks={checks} name="pull-least" label="Needs at least" hint="200 psi" />
        <SelectField id="substrate" name="substrate" label="In the substrate" defaultValue={checks.typed.substrate ?? "0"}><option value="0">not asked for</option><option value="1">asked for</option></SelectField>
      </>}
    />
  );
}

function Embedment({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="embedment" title="Embedment" note="bar length − projection" result={checks.embedment}
      fields={<>
        <Input checks={checks} name="bar-length" label="Bar length" hint="40 in" />
        <Input checks={checks} name="projection" label="Stands out" hint="33.6 in" />
        <Input checks={checks} name="embedment-least" label="Needs at least" hint="7.0 in, may be left empty" />
        <Input checks={checks} name="hole-depth" label="Hole depth" hint="7.25 in, may be left empty" />
        <Pick checks={checks} name="bar" label="Bar size" options={BARS.map(({ size }) => size)} />
      </>}
    />
  );
}

function Dew({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="dew" title="Dew margin" note="Magnus, over water" result={checks.dew}
      fields={<>
        <Input checks={checks} name="air" label="Air" hint="12 °C or 54 °F" />
        <Input checks={checks} name="humidity" label="Relative humidity" hint="84 %" />
        <Input checks={checks} name="surface" label="Surface of the pile" hint="its own, under the deck: 11.5 °C" />
        <Input checks={checks} name="margin-least" label="Needs at least" hint="3 °C or 5 °F, may be left empty" />
      </>}
    />
  );
}

function UnsetHead({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="unset-head" title="Head of all unset grout" note="not of the last lift" result={checks.unsetHead}
      fields={<>
        <Lines checks={checks} name="lifts" label="Lifts from the bottom" hint="height and time after the first, one on each line: 24 in, 0 h" />
        <Input checks={checks} name="set" label="Sets in" hint="4 h" />
        <Input checks={checks} name="head-density" label="Density" hint="135 pcf, may be left empty" />
      </>}
    />
  );
}

function Take({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="take" title="Grout take" note="placed / worked out" result={checks.take}
      fields={<>
        <Input checks={checks} name="take-bags" label="Bags placed" hint="count" />
        <Input checks={checks} name="take-yield" label="A bag yields" hint="0.43 cu ft" />
        <Input checks={checks} name="take-volume" label="Worked out, without waste" hint="10.555 cu ft" />
        <Input checks={checks} name="take-min" label="Band from" hint="0.97" />
        <Input checks={checks} name="take-max" label="Band to" hint="1.15" />
      </>}
    />
  );
}

function Formwork({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="formwork" title="Pressure on a form" note="liquid head, and ACI 347R-14 for columns" result={checks.formwork}
      fields={<>
        <Input checks={checks} name="density" label="Density" hint="135 pcf, with its unit" />
        <Input checks={checks} name="head" label="Head" hint="42 in" />
        <Input checks={checks} name="rate" label="Rate of rise" hint="24 in/h" />
        <Input checks={checks} name="mix" label="Mix temperature" hint="18 °C" />
        <Pick checks={checks} name="chemistry" label="Cement coefficient" options={CHEMISTRY} />
      </>}
    />
  );
}
