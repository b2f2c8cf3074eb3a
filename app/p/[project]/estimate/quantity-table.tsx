import { oneBatchWords, shown, shownBeside, shownDigits } from "#lib/domain/estimate/figure";
import type { OrderLine } from "#lib/domain/estimate/order-list";
import { many } from "#lib/domain/many";
import type { EstimateGroup, EstimateView } from "#lib/services/estimate-view";
import { TableFrame } from "../../../_ui/table";

/** Quantities by type; piles of one type that come out apart have their own row. */
export function QuantityTable({ view: { groups, order, piles } }: { view: EstimateView }) {
  const several = new Set(groups.map(({ letter }) => letter)).size > 1;
  const rolls = order.sheets.reduce((sum, { rolls: own }) => sum + own.length, 0);
  return (
    <TableFrame label="Quantities by type">
      <table className="table quantities stacked">
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
            <td className="right num" data-head="Piles">{piles.length}</td>
            <td className="right num" data-head="Length">{many(rolls, "roll")}</td>
            <td />
            <td className="right num" data-head="A, kg">{shownDigits(order.resin.a, 2)}</td>
            <td className="right num" data-head="B, kg">{shownDigits(order.resin.b, 2)}</td>
            <td className="right num" data-head="One batch to">{order.resin.batches === null ? "" : many(order.resin.batches, "batch", "batches")}</td>
            <td className="right num" data-head="Bags">{order.bags}</td>
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
      <td className="right num" data-head="Piles">{marks.length}</td>
      <td className="right num" data-head="Length">{cut.known ? <>{shown(cut.length)}<small>{shownBeside(cut.length)}</small></> : "cannot tell"}</td>
      <td className="right num" data-head="Contact">{coat.known ? <>{shown(coat.contact)}<small>{(coat.share * 100).toFixed(1)} %</small></> : "cannot tell"}</td>
      <td className="right num" data-head="A, kg">{resin.known ? <>{shownDigits(resin.a)}<small>{shown({ ...resin.a, unit: "lb" })}</small></> : "cannot tell"}</td>
      <td className="right num" data-head="B, kg">{resin.known ? <>{shownDigits(resin.b)}<small>{shown({ ...resin.b, unit: "lb" })}</small></> : "cannot tell"}</td>
      <td className="right num" data-head="One batch to">{resin.known && resin.oneBatchUpToC !== null ? <>{oneBatchWords(resin)}<small>{shown({ si: resin.oneBatchUpToC + 273.15, unit: "°F" })}</small></> : resin.known ? oneBatchWords(resin) : "cannot tell"}</td>
      <td className="right num" data-head="Bags">{grout.known ? <>{grout.bags * toDo.grout}<small>{toDo.grout === 0 ? "grouted" : `${grout.bags} each`}</small></> : "cannot tell"}</td>
    </tr>
  );
}

/** What to order, with waste; counted pile by pile where an opened bag or cartridge is not kept. */
export function OrderTable({ lines }: { lines: readonly OrderLine[] }) {
  return (
    <TableFrame label="Order list">
      <table className="table order stacked">
        <caption className="hide">Order list with waste</caption>
        <thead>
          <tr><th scope="col">Material</th><th scope="col">Size</th><th scope="col" className="right">Net</th><th scope="col" className="right">Waste</th><th scope="col" className="right">Order</th><th scope="col">Note</th></tr>
        </thead>
        <tbody>
          {lines.map(({ item, size, net, waste, order, note }) => (
            <tr key={`${item} ${size}`}>
              <th scope="row">{item}</th><td>{size}</td><td className="right num" data-head="Net">{net}</td><td className="right num" data-head="Waste">{waste}</td><td className="right num" data-head="Order"><b>{order}</b></td><td>{note}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableFrame>
  );
}
