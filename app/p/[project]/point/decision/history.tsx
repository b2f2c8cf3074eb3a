import type { AttemptView, StampView } from "#lib/services/decision-history";
import { Block } from "../../../../_ui/block";
import { Stamp } from "../../../../_ui/stamp";

/** Every attempt with what was decided about it, the newest first. */
export function History({ attempts }: { attempts: readonly AttemptView[] }) {
  const newest = [...attempts].reverse();
  return (
    <Block title="Attempts" note={attempts.length === 1 ? "1 attempt" : `${attempts.length} attempts`} id="attempts">
      <ol className="attempts">
        {newest.map(({ number, submissions }) => (
          <li key={number}>
            <h3>Attempt {number}</h3>
            {submissions.map(({ id, words, stamps }) => (
              <div key={id} className="attempt">
                <p className="letter">{words}</p>
                <div className="stamps">{stamps.map((stamp, position) => <OneStamp key={position} stamp={stamp} />)}</div>
              </div>
            ))}
          </li>
        ))}
      </ol>
    </Block>
  );
}

/** Only a decision gets a stamp; a return or a withdrawal is said in a line. */
export function OneStamp({ stamp: { kind, lines, serverAttested } }: { stamp: StampView }) {
  if (kind === "sent back" || kind === "withdrawn") return <p><b>{kind}</b> {lines.join(" · ")}</p>;
  return <Stamp kind={kind} lines={lines} serverAttested={serverAttested} />;
}
