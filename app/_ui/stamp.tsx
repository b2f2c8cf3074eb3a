import type { ReactNode } from "react";

export type StampKind = "released" | "rejected" | "reopened" | "accepted" | "checked";

/**
 * A decision, once made: text, upright, in the line of reading. For a rejection the first line is the reason code and
 * words; then always name, organisation, time with offset, and how it was seen.
 * `serverAttested` breaks the frame and says so: the person confirmed with a password, not with a key of their own.
 */
export function Stamp({ kind, lines, serverAttested = false }: { kind: StampKind; lines: ReactNode[]; serverAttested?: boolean }) {
  return (
    <div className={`stamp stamp-${kind}${serverAttested ? " stamp-attested" : ""}`}>
      <strong>{kind}</strong>
      {lines.map((line, position) => (
        <span className="num" key={position}>{line}</span>
      ))}
      {serverAttested && <span>server-attested, no passkey</span>}
    </div>
  );
}
