import { batchScale, type BatchView } from "#lib/services/batch-view";
import { Block } from "../../_ui/block";
import { ReadAsTable } from "../../_ui/table";
import "./batch-block.css";

const ROW = 26;
const TOP = 30;
const LEFT = 112;
const WIDTH = 420;

/** A batch of resin from its mixing to the end of its pot life, with the work that had to end inside it. */
export function BatchBlock({ batch }: { batch: BatchView }) {
  const { headline, note, lots, work, bad, unknown } = batch;
  return (
    <Block title="Resin batch" note={lots && `lots ${lots}`} hand={bad ? "bad" : "ink"}>
      <div className="batch">
        <p className={bad ? "batch-headline bad" : unknown ? "batch-headline doubtful" : "batch-headline"}>{headline}</p>
        <p className="letter">{note}</p>
        {work.length > 0 && <BatchPicture batch={batch} />}
        <ReadAsTable caption="Work with the batch" columns={["Point", "Work", "When"]} rows={work.map(({ line, name, words }) => [line, name, words])} />
        <p className="letter">The data sheet decides the pot life. Mixed resin in a bucket heats up: spread it, and leave none under a lid.</p>
      </div>
    </Block>
  );
}

function BatchPicture({ batch }: { batch: BatchView }) {
  const { work, mixedAt, latest, headline } = batch;
  const place = batchScale(batch);
  const x = (at: number): number => LEFT + place(at) * (WIDTH - LEFT - 8);
  const foot = TOP + work.length * ROW;
  return (
    <svg className="drawing fluid" viewBox={`0 0 ${WIDTH} ${foot + 10}`} role="img" aria-label={headline}>
      {latest !== null && (
        <g>
          <line className="s-held" x1={x(mixedAt)} x2={x(latest)} y1="16" y2="16" />
          <line className="s-held" x1={x(mixedAt)} x2={x(mixedAt)} y1="8" y2={foot} />
          <line className="s-held" x1={x(latest) - 3} x2={x(latest) - 3} y1="8" y2={foot} />
          <line className="s-held" x1={x(latest)} x2={x(latest)} y1="8" y2={foot} />
          <text className="t-held" x={(x(mixedAt) + x(latest)) / 2} y="11" textAnchor="middle">pot life</text>
        </g>
      )}
      {work.map(({ line, name, began, ended }, index) => {
        const y = TOP + index * ROW;
        const late = latest !== null && ended > latest;
        return (
          <g key={line}>
            <text x="0" y={y + 12}>{line} {name.length > 16 ? `${name.slice(0, 15)}…` : name}</text>
            <rect className="f-ink" x={x(began)} y={y} width={Math.max(2, x(late && latest !== null ? Math.max(began, latest) : ended) - x(began))} height="13" />
            {late && latest !== null && <rect className="f-bad" x={x(Math.max(began, latest))} y={y} width={Math.max(2, x(ended) - x(Math.max(began, latest)))} height="13" />}
          </g>
        );
      })}
    </svg>
  );
}
