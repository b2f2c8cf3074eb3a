import { CHEMISTRY } from "#lib/edge/schema/check/grout";
import { CheckBlock, Input, Lines, Pick, type CheckProps } from "./check-block";

export function UnsetHead({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="unset-head" title="Head of all unset grout" note="not of the last lift" result={checks.unsetHead}
      fields={<>
        <Lines checks={checks} name="lifts" label="Lifts from the bottom" hint="one on each line: height, when it began and, for its rise, when it ended: 24 in, 0 h, 1 h" />
        <Input checks={checks} name="set" label="Sets in" hint="4 h" />
        <Input checks={checks} name="head-density" label="Density" hint="135 pcf, may be left empty" />
        <Input checks={checks} name="lift-wait" label="At most between lifts" hint="1 h, may be left empty" />
      </>}
    />
  );
}

export function Take({ checks }: CheckProps) {
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

export function Formwork({ checks }: CheckProps) {
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

export function Maturity({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="maturity" title="Maturity of a log" note="ASTM C1074: Nurse–Saul, and equivalent age" result={checks.maturity}
      fields={<>
        <Lines checks={checks} name="log" label="Log: hours, °C" hint="how long and how warm, one stretch on each line: 12, 15" />
        <Input checks={checks} name="log-datum" label="Datum" hint="0 °C" />
        <Input checks={checks} name="log-q" label="Activation energy / gas constant" hint="5000 K" />
        <Input checks={checks} name="log-reference" label="Reference temperature" hint="20 °C or 23 °C" />
      </>}
    />
  );
}
