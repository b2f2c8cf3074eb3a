import type { CameraRow, CameraState } from "#lib/services/camera-view";
import { cameraHref } from "./camera-href";

const SHAPES: Record<CameraState, { symbol: string; hand: "ink" | "held" | "doubt" | "soft" }> = {
  confirmed: { symbol: "st-qc-checked", hand: "ink" },
  "changed since": { symbol: "st-in-doubt", hand: "doubt" },
  "to be confirmed": { symbol: "st-open", hand: "held" },
  "on time": { symbol: "v-meets", hand: "ink" },
  "cannot tell": { symbol: "v-tell", hand: "doubt" },
};

export function CameraStateMark({ state, words }: { state: CameraState; words: string }) {
  const { symbol, hand } = SHAPES[state];
  return (
    <span className={`state hand-${hand}`}>
      <svg width="18" height="18" aria-hidden="true"><use href={`#${symbol}`} /></svg>
      <span>{words}</span>
    </span>
  );
}

/** Every camera by what it waits for; the whole row opens it. */
export function CameraList({ project, cameras, open, nameless }: { project: string; cameras: readonly CameraRow[]; open: string | null; nameless: number }) {
  return (
    <nav aria-label="Cameras">
      <ul className="camera-list">
        {cameras.map(({ key, name, senders, photos, state, stateWords }) => (
          <li key={key}>
            <a className="camera-row" href={cameraHref(project, key)} aria-current={key === open ? "true" : undefined}>
              <b>{name}</b>
              <CameraStateMark state={state} words={stateWords} />
              <small>{photos === 0 ? "no photo of a point yet" : `${senders.join(", ")} · ${photos} photo${photos === 1 ? "" : "s"}`}</small>
            </a>
          </li>
        ))}
      </ul>
      {nameless > 0 && <p className="letter camera-nameless">{nameless} photo{nameless === 1 ? " names" : "s name"} no camera.</p>}
    </nav>
  );
}
