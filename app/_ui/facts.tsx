import type { ReactNode } from "react";

/** A short list of labels and values in two columns. */
export function Facts({ facts }: { facts: { label: string; value: ReactNode }[] }) {
  return (
    <dl className="facts">
      {facts.map(({ label, value }) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
