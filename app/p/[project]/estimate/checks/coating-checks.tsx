import { CheckBlock, Input, type CheckProps } from "./check-block";

export function Dew({ checks }: CheckProps) {
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

export function Film({ checks }: CheckProps) {
  return (
    <CheckBlock
      id="film" title="Film from what was spread" note="mass / (area · density)" result={checks.film}
      fields={<>
        <Input checks={checks} name="film-mass" label="Spread" hint="1.3 kg" />
        <Input checks={checks} name="film-area" label="Area" hint="2.27 m² or 24.5 sq ft" />
        <Input checks={checks} name="film-density" label="Density of the mix" hint="1.1 kg/L" />
      </>}
    />
  );
}
