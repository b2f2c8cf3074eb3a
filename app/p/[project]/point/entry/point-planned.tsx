import type { PageContext } from "#lib/edge/page";
import { plannedView } from "#lib/services/entry-view";
import type { Sheet } from "#lib/services/sheet";
import { Block } from "../../../../_ui/block";
import { Empty } from "../../../../_ui/empty";
import { TableFrame } from "../../../../_ui/table";
import { ClockDrawing, PointSheet } from "./head";

/** A point before anything is sent: why it is not open, and what it will ask for. */
export async function PointPlanned({ context, sheet, line }: { context: PageContext; sheet: Sheet; line: string }) {
  const { head, asks, subjects, notApplicable, register } = await plannedView(context.house.db.read, sheet, line);
  return (
    <PointSheet context={context} sheet={sheet} head={head}>
      {notApplicable !== null ? (
        <Empty thing="list" title="Not applicable">{notApplicable}</Empty>
      ) : register ? (
        <p><a className="button" href={`/p/${context.project.code}/materials`}>Open the register of {register}</a></p>
      ) : (
        <>
          {head.blocks.length > 0 ? (
            <Block title="Why it is not open" hand="held"><ul className="pad">{head.blocks.map((words) => <li key={words}>{words}</li>)}</ul></Block>
          ) : (
            <Empty thing="list" title="Nothing has been sent here yet.">{head.hands}</Empty>
          )}
          {head.clock && <ClockDrawing clock={head.clock} context={context} />}
          <Block title="What it asks for">
            <TableFrame label="Values and photos asked for">
              <table className="table">
                <thead><tr><th scope="col">Value</th><th scope="col">Needs</th><th scope="col">Read with</th></tr></thead>
                <tbody>
                  {asks.map((ask) => (
                    <tr key={ask.id}>
                      <th scope="row">{ask.name}{ask.of && `, each ${ask.of}`}</th>
                      <td className="required">{ask.needs}{ask.override && <small>this pile only: {ask.override.drawing} (type: {ask.override.was})</small>}</td>
                      <td>{ask.entry.kind === "derived" ? "worked out" : (ask.instrument?.class ?? "")}</td>
                    </tr>
                  ))}
                  {subjects.map((subject) => (
                    <tr key={`photo ${subject.id}`}><th scope="row">Photo: {subject.name}</th><td className="required">{subject.count}</td><td>camera</td></tr>
                  ))}
                </tbody>
              </table>
            </TableFrame>
          </Block>
        </>
      )}
    </PointSheet>
  );
}
