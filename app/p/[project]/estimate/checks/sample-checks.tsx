import { FAILURE_MODES } from "#lib/domain/statistics/pull-off";
import { STRENGTH_FORMS } from "#lib/domain/statistics/strength";
import { SelectField } from "../../../../_ui/field";
import { ReadAsTable } from "../../../../_ui/table";
import { AcceptCurve } from "./accept-curve";
import { CheckBlock, Input, Lines, Pick, type CheckProps } from "./check-block";

export function Sampling({ checks }: CheckProps) {
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

export function Strength({ checks }: CheckProps) {
  const { strength } = checks;
  return (
    <CheckBlock
      id="strength" title="Strength of grout" note="ACI 318 form, or no test below" result={strength}
      fields={<>
        <Lines checks={checks} name="tests" label="Results, in their order" hint="one test on each line, its specimens apart by commas: 6400, 6440" />
        <Input checks={checks} name="specified" label="Specified strength" hint="with its unit: 6000 psi; results follow it" />
        <Pick checks={checks} name="form" label="Accepted by" options={STRENGTH_FORMS} />
        <Input checks={checks} name="least" label="Specimens in a test" hint="count, at least" />
        <Input checks={checks} name="early" label="Early test, such as of 7 days" hint="its specimens: 4100, 4290; may be left empty" />
        <Input checks={checks} name="early-share" label="Share expected by then" hint="70 %" />
      </>}
    >
      {strength && strength.rows.length > 0 && <ReadAsTable caption="Tests" columns={["Test", "Mean", "Average of three, verdict"]} rows={strength.rows.map(({ test, mean, average }) => [`${test}`, mean, average])} />}
    </CheckBlock>
  );
}

export function PullOff({ checks }: CheckProps) {
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

export function Wrench({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="wrench" title="Wrench as found" note="reading · delivered / indicated" result={checks.wrench}
      fields={<>
        <Input checks={checks} name="wrench-reading" label="Reading" hint="65 ft-lb or 88 N·m" />
        <Input checks={checks} name="wrench-indicated" label="Found: indicated" hint="what it showed: 65 ft-lb" />
        <Input checks={checks} name="wrench-delivered" label="Found: delivered" hint="57.85 ft-lb" />
        <Input checks={checks} name="wrench-min" label="Needs at least" hint="65 ft-lb, may be left empty" />
        <Input checks={checks} name="wrench-max" label="Needs at most" hint="72 ft-lb, may be left empty" />
      </>}
    />
  );
}
