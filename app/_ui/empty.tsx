import type { ReactNode } from "react";

type Thing = "pile" | "photo" | "list";

const OUTLINES: Record<Thing, string> = {
  pile: "M20 4V88M56 4V88M12 24h52v46h-52z",
  photo: "M4 20h68v52h-68zM4 60l20 -18 14 12 12 -10 22 18M54 30h8v8h-8z",
  list: "M6 16h64M6 38h64M6 60h64M6 82h64M22 16v66",
};

/** Nothing here yet: a broken outline of the thing, the fact, and one sentence on what comes next. */
export function Empty({ thing = "pile", title, children }: { thing?: Thing; title: string; children?: ReactNode }) {
  return (
    <div className="empty">
      <svg viewBox="0 0 76 92" width="76" height="92" aria-hidden="true"><path className="thin dash" d={OUTLINES[thing]} /></svg>
      <div>
        <p><strong>{title}</strong></p>
        {children && <p>{children}</p>}
      </div>
    </div>
  );
}
