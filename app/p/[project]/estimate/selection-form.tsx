import { selectionWords, type EstimateView } from "#lib/services/estimate-view";
import type { EstimateQuery } from "#lib/edge/schema/estimate";
import { ErrorSummary } from "../../../_ui/error-summary";
import { TextField } from "../../../_ui/field";
import { Choice } from "../../../_ui/choice";

interface SelectionFormProps {
  query: EstimateQuery;
  view: EstimateView;
  faults: { field: string | null; message: string }[];
}

/** Which piles are counted. A form of the address: it works without scripts, and the address can be sent to somebody. */
export function SelectionForm({ query: { selection, typed }, view: { choices }, faults }: SelectionFormProps) {
  const error = (field: string): string | undefined => faults.find((one) => one.field === field)?.message;
  const title = faults.length === 1 ? "1 thing was not understood. The rest stands as chosen." : `${faults.length} things were not understood. The rest stands as chosen.`;
  return (
    <>
      {faults.length > 0 && <ErrorSummary title={title} errors={faults.map(({ field, message }) => ({ message, href: `#${field ?? "selection"}` }))} />}
      <details className="selection" open={faults.length > 0 || undefined}>
        <summary><span className="button button-quiet">Choose piles</span><span className="letter">{selectionWords(selection)}</span></summary>
        <form method="get" id="selection" aria-label="Piles to be counted" className="selection-form">
          <Checks legend="Bents" name="bent" chosen={selection.bents} options={choices.bents.map((bent) => ({ value: bent, label: bent }))} hint="None ticked: all of them." />
          <Checks legend="Types" name="type" chosen={selection.types} options={choices.types.map(({ type, name }) => ({ value: type, label: `${type}, ${name}` }))} />
          <TextField id="marks" name="marks" label="Marks" defaultValue={typed.marks} error={error("marks")} hint="02-A, 02-B, or 02 for every pile that begins so." autoComplete="off" />
          <TextField id="celsius" name="celsius" label="Resin temperature" defaultValue={typed.celsius} error={error("celsius")} hint="With its unit: 25 °C or 77 °F. Batches are told at it." autoComplete="off" />
          <TextField id="lots" name="lots" label="Rolls in hand, by lot" defaultValue={typed.lots} error={error("lots")} hint={choices.lots.length === 0 ? "No jacket lot is on the register." : `${choices.lots[0]}: 4. On the register: ${choices.lots.join(", ")}.`} autoComplete="off" />
          <Choice legend="Count" name="all" inRow chosen={selection.everything ? "1" : "0"} options={[{ value: "0", label: "What is left to do" }, { value: "1", label: "Everything" }]} />
          <div className="button-row"><button className="button button-go">Count</button><a className="button" href="?">All piles, what is left</a></div>
        </form>
      </details>
    </>
  );
}

interface ChecksProps {
  legend: string;
  name: string;
  chosen: readonly string[];
  options: { value: string; label: string }[];
  hint?: string;
}

function Checks({ legend, name, chosen, options, hint }: ChecksProps) {
  return (
    <fieldset className="choice choice-row">
      <legend>{legend}</legend>
      <div className="options">
        {options.map(({ value, label }) => (
          <label key={value}><input type="checkbox" name={name} value={value} defaultChecked={chosen.includes(value)} /><span>{label}</span></label>
        ))}
      </div>
      {hint && <p className="hint">{hint}</p>}
    </fieldset>
  );
}
