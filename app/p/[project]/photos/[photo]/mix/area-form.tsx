"use client";

import { useActionState, useState, type MouseEvent } from "react";
import type { FormState } from "#lib/edge/form-state";
import { ErrorSummary } from "../../../../../_ui/error-summary";
import { ValueField } from "../../../../../_ui/field";
import type { FormAction } from "../../../action-form";

interface Area {
  x: number;
  y: number;
  r: number;
}

interface AreaFormProps {
  area: Area;
  error: string | null;
  picture: string | null;
  /** Of the upright picture, pixels. */
  size: { width: number; height: number };
  keep: { action: FormAction; id: string } | null;
}

const LEAST = 0.02;
const MOST = 0.5;
const STEP = 0.02;
const within = (share: number): number => cut(Math.min(1, Math.max(0, share)));
const cut = (value: number): number => Math.round(value * 1000) / 1000;

/** The photo with the circle: a tap sets its middle, buttons its size, or all three by number. It measures by itself and is kept on request. */
export function AreaForm({ area, error, picture, size, keep }: AreaFormProps) {
  const [circle, setCircle] = useState(area);
  const [state, send, pending] = useActionState<FormState, FormData>(keep?.action ?? (() => Promise.resolve(null)), null);
  const short = Math.min(size.width, size.height);
  const tap = (event: MouseEvent<SVGSVGElement>): void => {
    const drawn = event.currentTarget.getScreenCTM();
    if (drawn === null) return;
    // The drawing may stand in a wider box than the picture has.
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(drawn.inverse());
    setCircle((before) => ({ ...before, x: within(x / size.width), y: within(y / size.height) }));
  };
  const grow = (by: number): void => setCircle((before) => ({ ...before, r: cut(Math.min(MOST, Math.max(LEAST, before.r + by))) }));
  const fields = (
    <div className="mix-fields">
      {(["x", "y", "r"] as const).map((name) => (
        <ValueField
          key={name} name={name} label={{ x: "Across", y: "Down", r: "Radius" }[name]} hint={{ x: "0 left, 1 right", y: "0 top, 1 bottom", r: "share of the shorter side" }[name]}
          value={String(circle[name])} onChange={(event) => { const value = Number(event.target.value.replace(",", ".")); if (Number.isFinite(value)) setCircle((before) => ({ ...before, [name]: value })); }}
        />
      ))}
    </div>
  );
  return (
    <div className="mix-area">
      {error && <ErrorSummary title={error} errors={[]} />}
      {state && <ErrorSummary title={state.message} errors={state.faults.map(({ message }) => ({ message, href: "#mix" }))} />}
      {picture && (
        <svg className="mix-photo" viewBox={`0 0 ${size.width} ${size.height}`} onClick={tap} role="img" aria-label="The mix, with the circle that is measured. Tap to move it; the fields below do the same.">
          <image href={picture} width={size.width} height={size.height} />
          <circle className="mix-ring-under" cx={circle.x * size.width} cy={circle.y * size.height} r={circle.r * short} />
          <circle className="mix-ring" cx={circle.x * size.width} cy={circle.y * size.height} r={circle.r * short} />
        </svg>
      )}
      <div className="mix-size needs-scripts">
        <button type="button" className="button" onClick={() => grow(-STEP)}>Smaller circle</button>
        <button type="button" className="button" onClick={() => grow(STEP)}>Larger circle</button>
      </div>
      <form method="get" id="mix" className="mix-form" aria-label="Where the mix is">
        {fields}
        <button className="button">Measure here</button>
      </form>
      {keep && (
        <form action={send} aria-label="Keep this check">
          <input type="hidden" name="id" value={keep.id} />
          {(["x", "y", "r"] as const).map((name) => <input key={name} type="hidden" name={name} value={circle[name]} />)}
          <button className="button button-go" disabled={pending}>{pending ? "Measuring" : "Keep this check"}</button>
        </form>
      )}
    </div>
  );
}
