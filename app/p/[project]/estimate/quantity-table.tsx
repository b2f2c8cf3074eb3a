import { shown, shownBeside, shownDigits } from "#lib/domain/estimate/figure";
import { many, type OrderLine } from "#lib/domain/estimate/order-list";
import type { EstimateGroup, EstimateView } from "#lib/services/estimate-view";
import { TableFrame } from "../../../_ui/table";

/** Quantities by type; piles of one type that come out apart have their own row. */
export function QuantityTable({ view: { groups, order, piles } }: { view: EstimateView }) {
  const several = new Set(groups.map(({ letter }) => letter)).size > 1;
  const rolls = order.sheets.reduce((sum, { rolls: own }) => sum + own.length, 0);
  return (
    <TableFrame label="Quantities by type">
      <table className="table quantities">
        <caption className="hide">Quantities by type</caption>
        <thead>
          <tr>
            <th scope="col">Type</th><th scope="col" className="right">Piles</th><th scope="col" className="right">Length</th><th scope="col" className="right">Contact</th><th scope="col" className="right">A, kg</th>
            <th scope="col" className="right">B, kg</th><th scope="col" className="right">One batch to</th><th scope="col" className="right">Bags</th>
          </tr>
        </thead>
        <tbody>
          {groups.map((group) => <GroupRow key={group.marks[0]} group={group} several={several} />)}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">All, with waste</th>
            <td className="right num">{piles.length}</td>
            <td className="right num">{many(rolls, "roll")}</td>
            <td />
            <td className="right num">{shownDigits(order.resin.a, 2)}</td>
            <td className="right num">{shownDigits(order.resin.b, 2)}</td>
            <td className="right num">{order.resin.batches === null ? "" : many(order.resin.batches, "batch", "batches")}</td>
            <td className="right num">{order.bags}</td>
          </tr>
        </tfoot>
      </table>
    </TableFrame>
  );
}

function GroupRow({ group: { type, name, letter, marks, markWords, estimate, toDo }, several }: { group: EstimateGroup; several: boolean }) {
  const { cut, coat, resin, grout } = estimate;
  return (
    <tr>
      <th scope="row">{type}, {name}<small>{markWords}{several && `, revision ${letter}`}</small></th>
      <td className="right num">{marks.length}</td>
      <td className="right num">{cut.known ? <>{shown(cut.length)}<small>{shownBeside(cut.length)}</small></> : "cannot tell"}</td>
      <td className="right num">{coat.known ? <>{shown(coat.contact)}<small>{(coat.share * 100).toFixed(1)} %</small></> : "cannot tell"}</td>
      <td className="right num">{resin.known ? <>{shownDigits(resin.a)}<small>{shown({ ...resin.a, unit: "lb" })}</small></> : "cannot tell"}</td>
      <td className="right num">{resin.known ? <>{shownDigits(resin.b)}<small>{shown({ ...resin.b, unit: "lb" })}</small></> : "cannot tell"}</td>
      <td className="right num">{resin.known && resin.oneBatchUpToC !== null ? <>{resin.oneBatchUpToC.toFixed(1)} °C<small>{shown({ si: resin.oneBatchUpToC + 273.15, unit: "°F" })}</small></> : resin.known ? "never, or not said" : "cannot tell"}</td>
      <td className="right num">{grout.known ? <>{grout.bags * toDo.grout}<small>{toDo.grout === 0 ? "grouted" : `${grout.bags} each`}</small></> : "cannot tell"}</td>
    </tr>
  );
}

/** What to order, with waste; counted pile by pile where an opened bag or cartridge is not kept. */
export function OrderTable({ lines }: { lines: readonly OrderLine[] }) {
  return (
    <TableFrame label="Order list">
      <table className="table order">
        <caption className="hide">Order list with waste</caption>
        <thead>
          <tr><th scope="col">Material</th><th scope="col">Size</th><th scope="col" className="right">Net</th><th scope="col" className="right">Waste</th><th scope="col" className="right">Order</th><th scope="col">Note</th></tr>
        </thead>
        <tbody>
          {lines.map(({ item, size, net, waste, order, note }) => (
            <tr key={`${item} ${size}`}>
              <th scope="row">{item}</th><td>{size}</td><td className="right num">{net}</td><td className="right num">{waste}</td><td className="right num"><b>{order}</b></td><td>{note}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableFrame>
  );
}
