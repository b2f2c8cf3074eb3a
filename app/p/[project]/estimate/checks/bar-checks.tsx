import { BARS } from "#lib/domain/estimate/section";
import { BOND_PLACES } from "#lib/edge/schema/check/bar";
import { CheckBlock, Input, Pick, type CheckProps } from "./check-block";

export function Embedment({ checks }: CheckProps) {
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

export function ResinHole({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="resin-in-hole" title="Resin in a hole" note="what the gap round a bar holds" result={checks.resinHole}
      fields={<>
        <Input checks={checks} name="resin-hole" label="Hole, diameter" hint="1 in or 22 mm" />
        <Input checks={checks} name="resin-bar" label="Bar, diameter" hint="0.75 in or 16 mm" />
        <Input checks={checks} name="resin-depth" label="Depth" hint="7 in" />
        <Input checks={checks} name="resin-injected" label="Injected" hint="36 mL, may be left empty" />
        <Input checks={checks} name="resin-uncertainty" label="Injected, accurate to ±" hint="1 mL; empty is nothing" />
      </>}
    />
  );
}

export function Anchor({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="anchor" title="Bars in concrete" note="arithmetic; a licensed engineer designs anchors" result={checks.anchor}
      fields={<>
        <Pick checks={checks} name="anchor-bar" label="Bar size" options={BARS.map(({ size }) => size)} />
        <Input checks={checks} name="anchor-embedment" label="Embedment" hint="10 in" />
        <Input checks={checks} name="anchor-spacing" label="Spacing" hint="4.5 in, may be left empty" />
        <Input checks={checks} name="anchor-edge" label="Edge distance" hint="4 in, may be left empty" />
        <Input checks={checks} name="anchor-bond" label="Bond stress" hint="of the product; empty: the least where it stands" />
        <Input checks={checks} name="anchor-uncracked" label="Bond stress, uncracked" hint="650 psi, may be left empty" />
        <Pick checks={checks} name="anchor-place" label="It stands" hint="where no bond stress is given" options={BOND_PLACES} />
      </>}
    />
  );
}
