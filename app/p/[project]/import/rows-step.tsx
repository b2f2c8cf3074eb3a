import { columnLetter } from "#lib/domain/schedule/grid";
import { cellView, faultyRows, openQuestions, rowsView, type TableLine } from "#lib/services/import-view";
import type { ScheduleReading } from "#lib/services/read-schedule";
import { Block } from "../../../_ui/block";
import { FlagTriangle } from "../../../_ui/mark";
import { TableFrame } from "../../../_ui/table";
import { answerRows, commit } from "./actions";
import { AnswersForm } from "./answers-form";
import { CommitForm } from "./commit-form";
import { DryRun } from "./dry-run";

/** The rows as they were read, what needs a person, the dry run, and bringing it in. */
export function RowsStep({ project, reading, page }: { project: string; reading: ScheduleReading; page: number | null }) {
  const { draft: { mapping }, run, difference, missing } = reading;
  if (!run || !difference) return null;
  const view = rowsView(reading, page);
  const columns = mapping.columns.flatMap(({ field, unit }, index) => (field === "leave out" ? [] : [{ index, field, unit }]));
  const questions = openQuestions(reading);
  const faulty = faultyRows(reading);
  return (
    <div className="import-rows">
      <div className="stack">
        <TableFrame label="Rows of the schedule">
          <table className="table import-table">
            <caption className="hide">Rows of the schedule, as written and as read</caption>
            <thead>
              <tr><th scope="col">Row</th>{columns.map(({ index, field, unit }) => <th key={index} scope="col"><span className="required">{field}</span>{unit && <small className="required">{unit}</small>}<small>{columnLetter(index)}</small></th>)}</tr>
            </thead>
            <tbody>{view.lines.map((line) => <Line key={line.kind === "row" ? line.row.number : `break-${line.from}`} line={line} columns={columns.map(({ index }) => index)} />)}</tbody>
          </table>
        </TableFrame>
        <p className="letter">
          Black is the file as written. Blue is how it is read.{" "}
          {view.pages === null ? <a href={`/p/${project}/import?step=rows&page=1`}>Show all {reading.rows?.length ?? 0} rows</a> : <Pages project={project} {...view.pages} />}
        </p>
        {view.readSo.length > 0 && (
          <Block title="Read so" note="no answer wanted">
            <ul className="read-so">{view.readSo.map(({ count, words }) => <li key={words}>{count > 0 && <b className="num">{count} </b>}{words}</li>)}</ul>
          </Block>
        )}
        {(difference.changed.length > 0 || missing.length > 0) && <Changes difference={difference} missing={missing} />}
      </div>
      <div className="stack">
        <Block title="Rows that need you" note={`${questions.filter(({ answer }) => answer !== null).length} of ${questions.length} answered`} hand={run.aside.length > 0 ? "held" : "ink"}>
          {questions.length === 0 && faulty.length === 0 && <p className="pad">Nothing. Every row was read.</p>}
          {questions.length > 0 && (
            <AnswersForm
              action={answerRows.bind(null, project)}
              questions={questions.map(({ number, question, answer }) => ({ number, id: question.id, message: question.message, detail: question.detail, answer, answers: question.answers.map(({ id, label }) => ({ value: id, label })) }))}
            />
          )}
          {faulty.length > 0 && (
            <div className="faulty">
              <p className="pad"><b>{faulty.length === 1 ? "1 row cannot be read." : `${faulty.length} rows cannot be read.`}</b> Mend the file and send it again, or bring in the others.</p>
              <ul>{faulty.slice(0, 50).map(({ number, faults }) => <li key={number}><b className="num">row {number}</b> {faults.map(({ column, message }) => `${column === null ? "" : `${columnLetter(column)}: `}${message}`).join(" ")}</li>)}</ul>
              {faulty.length > 50 && <p className="pad letter">And {faulty.length - 50} more.</p>}
            </div>
          )}
        </Block>
        <DryRun run={run} sets={reading.sets} />
        <CommitForm
          action={commit.bind(null, project)}
          ready={run.ready.length} aside={run.aside.length} stopped={run.stopped}
          added={difference.added.length} changed={difference.changed.length} missing={missing.map(({ mark }) => mark)}
          renumbered={difference.renumbered.map(({ was, now }) => `${was.mark} → ${now.mark}`)}
        />
      </div>
    </div>
  );
}

function Line({ line, columns }: { line: TableLine; columns: readonly number[] }) {
  if (line.kind === "break") {
    return <tr className="row-break"><td colSpan={columns.length + 1}>rows {line.from} – {line.to}: {line.count} ready</td></tr>;
  }
  const { row, read, numbers, stops, columns: stopping } = line;
  return (
    <tr className={stops ? "row-stops" : undefined} id={`row-${row.number}`}>
      <th scope="row" className="num">{numbers.map((n) => <FlagTriangle key={n} n={n} hand={stops ? "bad" : "doubt"} />)}{row.number}</th>
      {columns.map((column) => {
        const { text, shown, taken } = cellView(row, read, column);
        return <td key={column} className={stopping.has(column) ? "cell-stops" : taken ? "cell-taken" : undefined}>{text}{shown && <small className="required">{shown}</small>}</td>;
      })}
    </tr>
  );
}

function Pages({ project, page, of }: { project: string; page: number; of: number }) {
  const link = (to: number, words: string) => (to >= 1 && to <= of ? <a href={`/p/${project}/import?step=rows&page=${to}`}>{words}</a> : <span>{words}</span>);
  return <span>{link(page - 1, "before")} · page {page} of {of} · {link(page + 1, "after")} · <a href={`/p/${project}/import?step=rows`}>only those that matter</a></span>;
}

function Changes({ difference, missing }: { difference: NonNullable<ScheduleReading["difference"]>; missing: ScheduleReading["missing"] }) {
  return (
    <Block title="Against the piles that stand" note={`${difference.added.length} added, ${difference.changed.length} changed, ${missing.length} not named, ${difference.same.length} the same`}>
      <TableFrame label="Changes to piles that stand">
        <table className="table">
          <caption className="hide">Changes to piles that stand</caption>
          <thead><tr><th scope="col">Pile</th><th scope="col">What</th><th scope="col">Was</th><th scope="col">Now</th></tr></thead>
          <tbody>
            {difference.changed.flatMap(({ was, changes }) => changes.map(({ field, was: before, now }, index) => (
              <tr key={`${was.mark} ${index}`}>
                {index === 0 && <th scope="row" rowSpan={changes.length}>{was.mark}</th>}
                <td>{field}</td><td><s>{before}</s></td><td className="required">{now}</td>
              </tr>
            )))}
            {missing.map(({ mark }) => <tr key={mark}><th scope="row">{mark}</th><td colSpan={3}>not in the schedule</td></tr>)}
          </tbody>
        </table>
      </TableFrame>
    </Block>
  );
}
