import { randomUUID } from "node:crypto";
import type { ReactNode } from "react";
import type { Project } from "#lib/db/project";
import type { CameraEffect, CorrectedPhoto } from "#lib/services/camera-effect";
import type { OpenCamera, ReferenceRow } from "#lib/services/camera-view";
import { Block } from "../../../_ui/block";
import { Empty } from "../../../_ui/empty";
import { OrderVerdictMark } from "../../../_ui/mark";
import { renditionHref } from "../../../_ui/picture";
import { ReadAsTable, TableFrame } from "../../../_ui/table";
import { confirmClock } from "./actions";
import { CameraStateMark } from "./camera-list";
import { CameraStripDrawing } from "./camera-strip";
import { ConfirmForm } from "./confirm-form";

interface Props {
  camera: OpenCamera;
  project: Pick<Project, "code" | "zone">;
  mayConfirm: boolean;
}

/** One camera: how its clock ran, drawn and as a table; what a confirmation changes; and the confirmation. */
export function OpenCameraSheet({ camera, project, mayConfirm }: Props) {
  const { name, finding, strip, rows, effect, state, stateWords } = camera;
  const sentence = state === "cannot tell" ? `${finding}.` : `Its clock ran ${finding}.`;
  return (
    <section className="camera stack" aria-labelledby="camera-name">
      <div className="camera-head">
        <h2 id="camera-name">{name}</h2>
        <CameraStateMark state={state} words={stateWords} />
      </div>
      <p className="lead">{sentence}</p>
      {strip
        ? (
          <figure className="camera-figure">
            <CameraStripDrawing strip={strip} finding={`${name}: ${finding}`} zone={project.zone} />
            <figcaption className="letter">Seconds that the camera was ahead of the true time, up. Stroke: GPS time. On a foot: the clock page. Ring: the phone&apos;s own clock. Line: median; broken: drift. Struck: does not count.</figcaption>
            <References rows={rows} project={project.code} finding={finding} />
          </figure>
        )
        : <Empty thing="photo" title="No reference yet.">Photograph the clock page with this camera and hand the photo in.</Empty>}
      <div className="camera-columns">
        {effect && <Effect effect={effect} camera={camera} project={project.code} />}
        <Confirmation camera={camera} project={project.code} mayConfirm={mayConfirm} />
      </div>
    </section>
  );
}

const MOST_ROWS = 100;

function References({ rows, project, finding }: { rows: readonly ReferenceRow[]; project: string; finding: string }) {
  const shown = rows.slice(0, MOST_ROWS);
  return (
    <ReadAsTable
      caption={`References${rows.length > shown.length ? `, the newest ${shown.length} of ${rows.length}` : ""}: ${finding}`}
      columns={["Source", "Camera said", "True time", "Camera stood at", "Counts"]}
      rows={shown.map((row): ReactNode[] => [
        <a key="source" href={row.clockPhoto === null ? `/p/${project}/photos/${row.photo}` : renditionHref(project, row.clockPhoto, 1600)}>{row.source}</a>,
        row.cameraSaid, row.trueTime, row.difference, row.dropped === null ? (row.since ? "yes, came since" : "yes") : `dropped: ${row.dropped}`,
      ])}
    />
  );
}

/** Whether the sheet asks the QC manager for a confirmation; others may be made all the same. */
function isAsked({ state }: Pick<OpenCamera, "state">): boolean {
  return state === "to be confirmed" || state === "changed since";
}

function Effect({ effect, camera, project }: { effect: CameraEffect; camera: OpenCamera; project: string }) {
  const title = camera.state === "confirmed" ? "What the confirmation changed" : camera.proposal ? "What confirming changes" : "Its photos";
  return (
    <Block title={title} note={`${effect.photos} photo${effect.photos === 1 ? "" : "s"}`}>
      <div className="pad stack">
        <EffectWords effect={effect} camera={camera} />
        <Examples photos={effect.examples} project={project} />
      </div>
    </Block>
  );
}

function EffectWords({ effect: { photos, corrected, moves }, camera: { state, proposal } }: { effect: CameraEffect; camera: OpenCamera }) {
  const done = state === "confirmed";
  if (!proposal && !done) return <p>Each stands at the time that its own file gives.</p>;
  if (corrected === 0) return <p>No photo {done ? "moved" : "moves"}. One that comes without a better time of its own {done ? "is" : "would be"} corrected.</p>;
  const verb = done ? (corrected === 1 ? "was" : "were") : corrected === 1 ? "is" : "are";
  return (
    <>
      <p><b>{corrected} of {photos} photo{photos === 1 ? "" : "s"}</b> {verb} corrected.{moves.length === 0 ? ` No verdict of order ${done ? "moved" : "moves"}.` : ""}</p>
      {moves.length > 0 && (
        <ul className="camera-moves">
          {moves.map(({ from, to, count }) => <li key={`${from} ${to}`}><b className="num">{count}</b><OrderVerdictMark verdict={from} /><span>to</span><OrderVerdictMark verdict={to} /></li>)}
        </ul>
      )}
    </>
  );
}

/** What the camera said and where the photo stands, side by side: neither takes the other's place. */
function Examples({ photos, project }: { photos: readonly CorrectedPhoto[]; project: string }) {
  if (photos.length === 0) return null;
  return (
    <TableFrame label="Photos of this camera">
      <table className="table camera-photos">
        <caption className="hide">Photos of this camera: what it said, and where they stand</caption>
        <thead><tr><th scope="col">Photo</th><th scope="col">Camera said</th><th scope="col">Stands at</th><th scope="col">Order</th></tr></thead>
        <tbody>
          {photos.map(({ id, mark, line, subject, cameraSaid, before, after, corrected }) => (
            <tr key={id}>
              <th scope="row"><a href={`/p/${project}/photos/${id}`}>{mark ?? "Project"}, {line}</a><small>{subject}</small></th>
              <td className="num" data-label="camera said">{cameraSaid}</td>
              <td className="num" data-label="stands at">{corrected && <del className="replaced">{before.standsAt}</del>} {after.standsAt}</td>
              <td data-label="order">{before.verdict !== after.verdict && <><span className="replaced">{before.verdict}</span> </>}<OrderVerdictMark verdict={after.verdict} /></td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableFrame>
  );
}

function Confirmation({ camera, project, mayConfirm }: { camera: OpenCamera; project: string; mayConfirm: boolean }) {
  const { proposal, confirmations, newer, state, key } = camera;
  if (!proposal && confirmations.length === 0) return null;
  const [last] = confirmations;
  const asked = isAsked(camera);
  return (
    <Block title={asked || !last ? "Confirm" : "Confirmed"} hand={asked && mayConfirm ? "held" : "ink"} note={asked && proposal ? `${proposal.references} reference${proposal.references === 1 ? " is" : "s are"} kept with it` : undefined}>
      <div className="pad stack">
        {last && <p><b>{last.by}</b> confirmed on {last.when}, by {last.references} reference{last.references === 1 ? "" : "s"}.{last.words && <> <span>{last.words}</span></>}</p>}
        {last && newer > 0 && <p className={state === "changed since" ? "doubtful" : undefined}>{newer} reference{newer === 1 ? "" : "s"} came since{state === "changed since" ? ", and the clock stands otherwise now: somebody may have set it." : newer === 1 ? ", and it agrees." : ", and they agree."}</p>}
        {state === "on time" && <p>It needs no confirmation: its photos stand by their own times.</p>}
        {asked && proposal && <p>Clock at <b>{proposal.words}</b>. It holds for every photo of this camera, earlier and later. What the camera wrote stays as it is.</p>}
        {proposal && mayConfirm && <ConfirmForm action={confirmClock.bind(null, project, key)} id={randomUUID()} seen={proposal.seen} opener={asked ? undefined : last ? "Confirm again" : "Confirm it all the same"} />}
        {asked && !mayConfirm && <p className="letter">The QC manager confirms it, once for the camera.</p>}
        {confirmations.length > 1 && (
          <details>
            <summary>Confirmed before</summary>
            <ul className="stack">{confirmations.slice(1).map(({ by, when, words, references }) => <li key={when}>{by}, {when}, by {references} references. {words}</li>)}</ul>
          </details>
        )}
      </div>
    </Block>
  );
}
