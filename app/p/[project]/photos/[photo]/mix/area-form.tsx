"use client";

import { useActionState, useState, type MouseEvent, type ReactNode } from "react";
import type { FormState } from "#lib/edge/form-state";
import { ErrorSummary } from "../../../../../_ui/error-summary";
import { ValueField } from "../../../../../_ui/field";
import type { FormAction } from "../../../action-form";

export interface Area {
  x: number;
  y: number;
  r: number;
}

interface AreaFormProps {
  /** The circle that was measured. */
  area: Area;
  error: string | null;
  picture: string | null;
  /** Of the upright picture, pixels. */
  size: { width: number; height: number };
  /** What would be recorded: the verdict in words, and how. */
  keep: { action: FormAction; id: string; words: string } | null;
  /** Who recorded this very finding last, and when; it need not be recorded twice. */
  recorded: string | null;
  /** The finding for the circle that was measured. */
  children: ReactNode;
}

const PARTS = ["x", "y", "r"] as const;
const LABELS = { x: "Across", y: "Down", r: "Radius" } as const;
const HINTS = { x: "0 left, 1 right", y: "0 top, 1 bottom", r: "of the shorter side" } as const;
const LEAST = 0.02;
const MOST = 0.5;
const STEP = 0.02;
const cut = (value: number): number => Math.round(value * 1000) / 1000;
const within = (share: number): number => cut(Math.min(1, Math.max(0, share)));

/** The photo with the circle: a tap sets its middle, buttons its size, or all three by number. What was measured there may be recorded. */
export function AreaForm({ area, error, picture, size, keep, recorded, children }: AreaFormProps) {
  const [circle, setCircle] = useState(area);
  // As typed: "0." is on its way to a number.
  const [typed, setTyped] = useState<Record<keyof Area, string>>({ x: String(area.x), y: String(area.y), r: String(area.r) });
  const [state, send, pending] = useActionState<FormState, FormData>(keep?.action ?? (() => Promise.resolve(null)), null);
  const short = Math.min(size.width, size.height);
  const moved = PARTS.some((part) => circle[part] !== area[part]);
  const place = (next: Area): void => {
    setCircle(next);
    setTyped({ x: String(next.x), y: String(next.y), r: String(next.r) });
  };
  const type = (part: keyof Area, text: string): void => {
    setTyped((before) => ({ ...before, [part]: text }));
    const value = Number(text.replace(",", "."));
    if (text.trim() !== "" && Number.isFinite(value)) setCircle((before) => ({ ...before, [part]: value }));
  };
  const tap = (event: MouseEvent<SVGSVGElement>): void => {
    const drawn = event.currentTarget.getScreenCTM();
    if (drawn === null) return;
    // The drawing may stand in a wider box than the picture has.
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(drawn.inverse());
    place({ ...circle, x: within(x / size.width), y: within(y / size.height) });
  };
  const grow = (by: number): void => place({ ...circle, r: cut(Math.min(MOST, Math.max(LEAST, circle.r + by))) });
  const ring = { cx: circle.x * size.width, cy: circle.y * size.height, r: Math.max(0, circle.r) * short };
  return (
    <div className="mix-columns">
      <div className="mix-area">
        {error && <ErrorSummary title={error} errors={[{ message: "Mend the three numbers under the photo", href: "#mix-x" }]} />}
        {state && <ErrorSummary title={state.message} errors={state.faults.map(({ message }) => ({ message, href: "#mix-x" }))} />}
        {picture ? (
          <svg className="mix-photo" viewBox={`0 0 ${size.width} ${size.height}`} preserveAspectRatio="xMinYMin" onClick={tap} role="img" aria-label="The mix, with the circle that is measured. A tap moves it; the fields below do the same.">
            <image href={picture} width={size.width} height={size.height} />
            <circle className="mix-ring-under" {...ring} />
            <circle className="mix-ring" {...ring} />
          </svg>
        ) : (
          <p className="required">The photo is not shown yet; the circle is set by its numbers.</p>
        )}
        <form method="get" className="mix-form" aria-label="Where the mix is">
          <div className="mix-size needs-scripts">
            <button type="button" className="button" onClick={() => grow(-STEP)}>Smaller circle</button>
            <button type="button" className="button" onClick={() => grow(STEP)}>Larger circle</button>
          </div>
          <div className="mix-fields">
            {PARTS.map((part) => (
              <ValueField key={part} id={`mix-${part}`} name={part} label={LABELS[part]} hint={HINTS[part]} value={typed[part]} onChange={(event) => type(part, event.target.value)} />
            ))}
          </div>
          <button className={moved ? "button button-go" : "button"}>Measure here</button>
        </form>
      </div>
      <div className="stack">
        {moved && <p className="required" role="status">The circle was moved: what stands here is of the circle before. Measure it where it is now.</p>}
        {children}
        {recorded && !moved && <p className="mix-recorded">Recorded by {recorded}.</p>}
        {keep && !recorded && !moved && (
          <form action={send} className="mix-keep" aria-label="Record this check">
            <input type="hidden" name="id" value={keep.id} />
            {PARTS.map((part) => <input key={part} type="hidden" name={part} value={area[part]} />)}
            <button className="button button-go" disabled={pending}>{pending ? "Measuring" : `Record: ${keep.words}`}</button>
          </form>
        )}
      </div>
    </div>
  );
}
