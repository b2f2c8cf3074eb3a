import { overridable } from "#lib/domain/plan/override";
import { FIELDS, LENGTH_UNITS, isLength, type Field } from "#lib/domain/schedule/field";
import { cellAt } from "#lib/domain/schedule/grid";
import type { ColumnMapping } from "#lib/domain/schedule/mapping";
import { dimensionOf, unitsOf, type Unit } from "#lib/domain/quantity/unit";
import { itemRule } from "#lib/domain/requirement/rule";
import type { RequirementSet } from "#lib/domain/requirement/set";
import { requirementOptions, sampleRows } from "#lib/services/import-view";
import type { ScheduleReading } from "#lib/services/read-schedule";
import { mapColumns } from "./actions";
import { ColumnsForm, type ColumnView } from "./columns-form";

const FIELD_LABELS: readonly { value: Field; label: string }[] = FIELDS.filter((field) => field !== "requirement" && field !== "leave out").map((value) => ({ value, label: value }));

/** What each column of the file is, chosen over the file as it stands. */
export function ColumnsStep({ project, reading }: { project: string; reading: ScheduleReading }) {
  const { draft: { grid, mapping }, faults, words, sets } = reading;
  const rows = sampleRows(reading);
  const columns = grid.columns.map(({ letter, hidden }, index): ColumnView => {
    const column = mapping.columns[index];
    return {
      index, letter, hidden,
      field: column?.requirement ? `requirement|${column.requirement.line}|${column.requirement.kind}|${column.requirement.id}` : (column?.field ?? "leave out"),
      unit: column?.unit ?? "", comma: column?.comma ?? "",
      units: column ? unitsFor(column, sets) : [],
      faults: faults.filter((fault) => fault.column === index).map(({ message }) => message),
    };
  });
  return (
    <ColumnsForm
      action={mapColumns.bind(null, project)}
      columns={columns}
      fields={FIELD_LABELS}
      requirements={requirementOptions(sets)}
      rows={rows.map((row) => ({ number: row.number, header: row.number === mapping.headerRow, cells: grid.columns.map((_, index) => cellAt(row, index).text) }))}
      faults={faults.map(({ column, message }) => ({ column, message }))}
      types={sets.map(({ type, name }) => ({ value: type, label: `${type}, ${name}` }))}
      words={words.map((word) => ({ word, chosen: mapping.types[word] ?? "" }))}
      settings={{
        headerRow: mapping.headerRow === null ? "" : String(mapping.headerRow), firstRow: String(mapping.firstRow), everyType: mapping.everyType ?? "", hiddenRows: mapping.hiddenRows,
        originLatitude: mapping.grid?.origin.latitude ?? "", originLongitude: mapping.grid?.origin.longitude ?? "", bearing: mapping.grid?.bearingDeg ?? "", gridUnit: mapping.grid?.unit ?? "",
      }}
      onGrid={mapping.columns.some(({ field }) => field === "grid x" || field === "grid y")}
    />
  );
}

/** Units that a column may have: those of a length, or of the requirement that it changes. */
function unitsFor({ field, requirement }: ColumnMapping, sets: readonly RequirementSet[]): string[] {
  if (isLength(field)) return [...LENGTH_UNITS];
  if (field !== "requirement" || !requirement) return [];
  const rule = sets.flatMap((set) => overridable(set.lines)).find(({ line, kind, id }) => line === requirement.line && kind === requirement.kind && id === requirement.id)?.rule;
  const item = rule && itemRule(rule);
  return item && "unit" in item && item.unit !== null ? unitsOf(dimensionOf(item.unit as Unit)) : requirement.kind === "wait" ? ["h"] : [];
}
