import { SelectField, TextField } from "../../../_ui/field";

export const LOGGER_CHOICES = ["clock", "offset", "order", "unit", "column"] as const;

/** What a logger's file may leave unsaid: the clock of its times, and the unit of its temperatures. */
export function LoggerChoices({ name, column = false }: { name: string; /** Whether the file may hold several temperatures. */ column?: boolean }) {
  return (
    <div className="logger-choices">
      <SelectField id={`${name}-clock`} name="clock" label="Times in the file" defaultValue="own">
        <option value="own">each with its offset</option>
        <option value="site">on the site&apos;s clock</option>
        <option value="fixed">at one offset all along</option>
      </SelectField>
      <TextField id={`${name}-offset`} name="offset" label="That offset" placeholder="-04:00" maxLength={6} hint="Loggers often keep one all year." />
      <SelectField id={`${name}-order`} name="order" label="Dates such as 03/04/26" defaultValue="">
        <option value="">as other rows show</option>
        <option>day first</option>
        <option>month first</option>
      </SelectField>
      <SelectField id={`${name}-unit`} name="unit" label="Temperatures" defaultValue="">
        <option value="">as its head says</option>
        <option>°C</option>
        <option>°F</option>
      </SelectField>
      {column && <TextField id={`${name}-column`} name="column" label="Head of its column" maxLength={120} hint="Where several columns hold a temperature." />}
    </div>
  );
}
