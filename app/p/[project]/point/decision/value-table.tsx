import type { DecisionValue } from "#lib/services/decision-values";
import { DimensionLine } from "../../../../_ui/dimension-line";
import { KindMark, ValueVerdictMark } from "../../../../_ui/mark";

/** Requirement against measured value, each drawn to its own scale. What fails or cannot be told says by how much, or why. */
export function ValueTable({ caption, values, withPoint = false }: { caption: string; values: readonly DecisionValue[]; withPoint?: boolean }) {
  return (
    <table className="table value-table">
      <caption className={withPoint ? undefined : "hide"}>{caption}</caption>
      <thead>
        <tr>
          {withPoint && <th scope="col" className="value-point">Point</th>}
          <th scope="col">Quantity, instrument</th>
          <th scope="col" className="value-requirement">Requirement</th>
          <th scope="col" className="value-drawn">Drawn to scale</th>
          <th scope="col" className="value-measured">Measured</th>
          <th scope="col" className="value-verdict">Verdict</th>
        </tr>
      </thead>
      <tbody>{values.map((value) => <Row key={value.key} value={value} withPoint={withPoint} />)}</tbody>
    </table>
  );
}

function Row({ value, withPoint }: { value: DecisionValue; withPoint: boolean }) {
  const { point, name, instrument, requirement, measured, margin, verdict, mark, drawn, override, reason, before } = value;
  const says = verdict === "fails" || verdict === "cannot tell" || verdict === "meets, inside uncertainty";
  const Quantity = withPoint ? "td" : "th";
  return (
    <tr className={verdict === "fails" ? "value-fails" : undefined}>
      {withPoint && <th scope="row" className="value-point num"><span>{point.line}</span> <KindMark kind={point.kind} /></th>}
      <Quantity {...(withPoint ? {} : { scope: "row" })} className="value-name">
        {name}
        {instrument && <small>{instrument}</small>}
        {override && <small className="required">{override.words}, was {override.was}</small>}
        {reason && <small>stated: {reason}</small>}
      </Quantity>
      <td className="num required" data-label="Requirement">{requirement}</td>
      <td className="value-drawn" data-label="Drawn to scale">{drawn && verdict ? <DimensionLine compact verdict={verdict} {...drawn} /> : null}</td>
      <td className="num" data-label="Measured">
        <b>{measured || "–"}</b>
        {before && <small>before: <span className="replaced">{before}</span></small>}
      </td>
      <td data-label="Verdict">
        {verdict ? <ValueVerdictMark verdict={verdict} /> : <span className="letter">recorded</span>}
        {says && margin && <small className={verdict === "fails" ? "bad" : "doubtful"}>{margin}</small>}
        {mark && <small className="doubtful">{mark}</small>}
      </td>
    </tr>
  );
}
