import { randomUUID } from "node:crypto";
import type { PageContext } from "#lib/edge/page";
import { receivedView } from "#lib/services/received-view";
import type { Sheet } from "#lib/services/sheet";
import { Block } from "../../../../_ui/block";
import { Facts } from "../../../../_ui/facts";
import { OrderVerdictMark, ValueVerdictMark } from "../../../../_ui/mark";
import { renditionHref } from "../../../../_ui/picture";
import { TableFrame } from "../../../../_ui/table";
import { ClockDrawing, PointSheet } from "./head";
import { PointPlanned } from "./point-planned";
import { WithdrawForm } from "./withdraw-form";

/** What was received at a point, for who sent it: the receipt first, then everything in it. */
export async function PointReceived({ context, sheet, line, justSent }: { context: PageContext; sheet: Sheet; line: string; justSent: boolean }) {
  const view = await receivedView(context.house.db.read, sheet, line, context.member);
  if (!view) return <PointPlanned context={context} sheet={sheet} line={line} />;
  const { head } = view;
  const next = head.mark === null ? `/p/${context.project.code}/sheet` : `/p/${context.project.code}/piles/${encodeURIComponent(head.mark)}`;
  return (
    <PointSheet context={context} sheet={sheet} head={head} actions={<a className="button button-go" href={next}>{head.mark === null ? "Project sheet" : `Pile ${head.mark}`}</a>}>
      <Block title={justSent ? "Received" : "Receipt"} note={`log entry ${view.seq}`}>
        <div className="pad stack" role={justSent ? "status" : undefined}>
          <Facts
            facts={[
              { label: "Sent by", value: view.by },
              { label: "Received", value: view.when },
              { label: "Work", value: view.work },
              ...(view.lots.length > 0 ? [{ label: "Lots", value: view.lots.join(", ") }] : []),
              ...(view.documents.length > 0 ? [{ label: "Documents", value: view.documents.join(", ") }] : []),
              ...(view.words ? [{ label: "Remarks", value: view.words }] : []),
              { label: "SHA-256 of the record", value: <span className="code">{view.digest}</span> },
            ]}
          />
        </div>
      </Block>
      {head.clock && <ClockDrawing clock={head.clock} context={context} />}
      {view.values.length > 0 && (
        <Block title="Values" note="as judged when they were sent">
          <TableFrame label="Values as sent">
            <table className="table">
              <thead><tr><th scope="col">Value</th><th scope="col">Needs</th><th scope="col">Measured</th><th scope="col">Verdict</th></tr></thead>
              <tbody>
                {view.values.map(({ name, judged, reason, override }) => (
                  <tr key={`${judged.quantity} ${judged.item}`}>
                    <th scope="row">{name}</th>
                    <td className="required">{judged.requirement}{override && <small>this pile only: {override.drawing} (type: {override.was})</small>}</td>
                    <td className="num">{judged.measured || "–"}{judged.instrument && <small>{judged.instrument}{judged.mark && `, ${judged.mark}`}</small>}</td>
                    <td>{judged.verdict ? <ValueVerdictMark verdict={judged.verdict} /> : "recorded"}{reason && <small>Reason: {reason}</small>}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </TableFrame>
        </Block>
      )}
      {view.photos.length > 0 && (
        <Block title="Photos" note={`${view.photos.length} sent`}>
          <ul className="shots pad">
            {view.photos.map((photo) => (
              <li key={photo.id} className="shot">
                {photo.shown && (
                   
                  <img src={renditionHref(context.project.code, photo.sha256, 320)} alt={photo.name} width="320" height="240" loading="lazy" />
                )}
                <p className="shot-name">{photo.name}</p>
                <p><OrderVerdictMark verdict={photo.order} /></p>
                <p className="letter">{photo.taken}</p>
              </li>
            ))}
          </ul>
        </Block>
      )}
      {view.withdraw && <WithdrawForm point={{ project: context.project.code, sheet: sheet.id, line }} submissionId={view.withdraw} id={randomUUID()} />}
    </PointSheet>
  );
}
