import type { Metadata } from "next";
import { formatWhen } from "#lib/domain/clock/site-time";
import { listPiles, listSchedules } from "#lib/db/pile";
import { openPage, type PageContext } from "#lib/edge/page";
import { fileCounts } from "#lib/services/import-view";
import { whyNotUndone } from "#lib/services/import-schedule";
import { readingOf, type ScheduleReading } from "#lib/services/read-schedule";
import { Block } from "../../../_ui/block";
import { SheetHead } from "../../../_ui/sheet";
import { TableFrame } from "../../../_ui/table";
import { ProjectFrame } from "../project-frame";
import { projectSheets } from "../sheet/project-sheets";
import { undo } from "./actions";
import { ColumnsStep } from "./columns-step";
import { FileStep } from "./file-step";
import { STEPS, type Step } from "./names";
import { RowsStep } from "./rows-step";
import { UndoForm } from "./undo-form";
import "./import.css";

export const metadata: Metadata = { title: "Import" };

type Query = Promise<{ step?: string; page?: string; done?: string }>;

export default async function ImportPage({ params, searchParams }: { params: Promise<{ project: string }>; searchParams: Query }) {
  const context = await openPage(params, "import piles");
  const { house, project, at } = context;
  const [query, reading] = await Promise.all([searchParams, readingOf(house.db.read, context, at)]);
  const step = stepOf(query.step, reading);
  return (
    <ProjectFrame context={context} sheet="Import" current="Project">
      <SheetHead title="Import" lead={leadOf(reading)} note="Nothing is written until you bring it in." subIndex={projectSheets(project.code, "Import")} />
      <Done query={query.done} />
      <Steps project={project.code} reading={reading} step={step} />
      {step === "file" && <FileStep project={project.code} reading={reading !== null} />}
      {step === "columns" && reading && <ColumnsStep project={project.code} reading={reading} />}
      {(step === "rows" || step === "commit") && reading?.run && <RowsStep project={project.code} reading={reading} page={pageOf(query.page)} />}
      <p className="letter"><a href={`/api/v1/projects/${project.code}/geojson`}>Piles with a position, as GeoJSON</a></p>
      <Schedules context={context} />
    </ProjectFrame>
  );
}

/** The step asked for as far as the file allows: rows are read only when every column is known. */
function stepOf(asked: string | undefined, reading: ScheduleReading | null): Step {
  const wanted = STEPS.find((one) => one === asked);
  if (!reading) return "file";
  if (!reading.run) return wanted === "file" ? "file" : "columns";
  return wanted ?? "rows";
}

function pageOf(text: string | undefined): number | null {
  return text !== undefined && /^\d{1,4}$/.test(text) ? Number(text) : null;
}

function leadOf(reading: ScheduleReading | null): string {
  if (!reading) return "a drawing schedule becomes piles";
  const { run, faults } = reading;
  if (!run) return `${faults.length} ${faults.length === 1 ? "column needs" : "things about the columns need"} you`;
  const rows = run.ready.length + run.aside.length + run.leftOut.length;
  return `${rows} rows: ${run.ready.length} ready, ${run.aside.length} need you`;
}

function Done({ query }: { query: string | undefined }) {
  const [added, changed, removed] = /^(\d+)-(\d+)-(\d+)$/.exec(query ?? "")?.slice(1) ?? [];
  if (added === undefined) return null;
  return <p className="import-done" role="status"><b>Brought in:</b> {added} added, {changed} changed, {removed} taken out of scope.</p>;
}

function Steps({ project, reading, step }: { project: string; reading: ScheduleReading | null; step: Step }) {
  const counts = reading && fileCounts(reading.draft.grid, reading.draft.mapping);
  const words: Record<Step, { title: string; note: string; open: boolean }> = {
    file: { title: "File", note: reading ? `${reading.draft.title}, sheet “${reading.draft.grid.sheetName}”` : "XLSX, CSV, GeoJSON, or paste", open: true },
    columns: { title: "Columns", note: counts ? `${counts.read} of ${counts.columns} read` : "what each is, in which unit", open: reading !== null },
    rows: { title: "Rows", note: reading?.run ? `${reading.run.ready.length} ready, ${reading.run.aside.length} need you` : "read and checked", open: reading?.run != null },
    commit: { title: "Bring in", note: "once, and undone as one", open: reading?.run != null },
  };
  return (
    <ol className="steps" aria-label="Steps">
      {STEPS.map((one, index) => {
        const { title, note, open } = words[one];
        const inner = <><b className="num">{index + 1}</b><span>{title}<small>{note}</small></span></>;
        return (
          <li key={one} aria-current={one === step ? "step" : undefined}>
            {open ? <a href={`/p/${project}/import?step=${one}${one === "commit" ? "#commit" : ""}`}>{inner}</a> : <span className="step-shut">{inner}</span>}
          </li>
        );
      })}
    </ol>
  );
}

/** What was brought in before, and what of it can be taken back. */
async function Schedules({ context }: { context: PageContext }) {
  const { house, project } = context;
  const [schedules, piles] = await Promise.all([listSchedules(house.db.read, project.id), listPiles(house.db.read, project.id)]);
  if (schedules.length === 0) return null;
  return (
    <Block title="Brought in before" note="latest first">
      <TableFrame label="Schedules brought in">
        <table className="table">
          <caption className="hide">Schedules brought in</caption>
          <thead><tr><th scope="col">Schedule</th><th scope="col">When</th><th scope="col">Change order</th><th scope="col">Piles</th><th scope="col">Take back</th></tr></thead>
          <tbody>
            {schedules.toReversed().map((one) => {
              const shut = whyNotUndone(one, schedules, piles);
              return (
                <tr key={one.id}>
                  <th scope="row">{one.title}<small className="code">{one.sha256.slice(0, 12)}</small></th>
                  <td className="num">{formatWhen(one.at, project.zone)}</td>
                  <td>{one.changeOrder ?? "first list"}</td>
                  <td>{one.undone ? "taken back" : `${one.added.length} added, ${one.changed.length} changed, ${one.removed.length} out`}</td>
                  <td>{shut ? <span className="letter">{shut}</span> : <UndoForm action={undo.bind(null, project.code, one.id)} id={one.id} title={one.title} />}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </TableFrame>
    </Block>
  );
}
