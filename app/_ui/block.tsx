import { useId, type ReactNode } from "react";

/** A framed part of a sheet with a lettered heading. `hand="held"` draws the heavy blue frame of a clock or an editor. */
export function Block({ title, note, hand = "ink", children, id }: { title: ReactNode; note?: ReactNode; hand?: "ink" | "held" | "bad"; children: ReactNode; id?: string }) {
  const headingId = useId();
  return (
    <section className={`block block-${hand}`} id={id} aria-labelledby={headingId}>
      <h2 id={headingId}>
        <span>{title}</span>
        {note && <small>{note}</small>}
      </h2>
      {children}
    </section>
  );
}
