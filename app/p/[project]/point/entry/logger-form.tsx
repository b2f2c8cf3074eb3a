import { Block } from "../../../../_ui/block";
import { CsvForm } from "../../clocks/csv-form";
import { LoggerChoices, LOGGER_CHOICES } from "../../clocks/logger-choices";
import type { PointId } from "./actions";

/** The file of a temperature logger for a clock. It is read whole or not at all. */
export function LoggerForm({ point: { project, sheet, line } }: { point: PointId }) {
  const name = `logger-${line}`;
  return (
    <Block title="Logger's file" note={`point ${line}`}>
      <CsvForm url={`/api/v1/projects/${project}/points/${encodeURIComponent(sheet)}/${line}/logger`} name={name} label="Choose the logger's file" choices={LOGGER_CHOICES}>
        <LoggerChoices name={name} column />
      </CsvForm>
    </Block>
  );
}
