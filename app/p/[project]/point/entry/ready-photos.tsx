"use client";

import { useState } from "react";
import type { ReadyView } from "#lib/services/ready-photo";

/** Photos that a demonstration offers for a subject: each can be kept as a file, or goes the way of a file that was picked. */
export function ReadyPhotos({ ready, subject, attach }: { ready: readonly ReadyView[]; subject: string; attach(file: File): Promise<void> }) {
  const [fetching, setFetching] = useState<string | null>(null);
  const [failed, setFailed] = useState<string | null>(null);

  async function take({ file, href }: ReadyView): Promise<void> {
    setFetching(file);
    setFailed(null);
    const picked = await fetched(href, file);
    if (picked) await attach(picked);
    else setFailed(file);
    setFetching(null);
  }

  return (
    <div className="ready">
      <p className="letter" id={`ready-${subject}`}>Demonstration: ready photos</p>
      <ul aria-labelledby={`ready-${subject}`}>
        {ready.map((one) => (
          <li key={one.file}>
            <a href={one.href} download={one.file}><span>{one.file}</span> <span className="letter">taken {one.taken}</span></a>
            {one.there ? <p className="letter">attached</p> : (
              <button type="button" className="button needs-scripts" aria-label={`Attach ${one.file}`} disabled={fetching !== null} onClick={() => void take(one)}>Attach</button>
            )}
            {failed === one.file && <p className="error" role="alert">It could not be fetched. Try again.</p>}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** The photo as the file that a camera would have left; null where the server gives none. */
async function fetched(href: string, name: string): Promise<File | null> {
  const answer = await fetch(href).catch(() => null);
  const content = answer?.ok ? await answer.blob().catch(() => null) : null;
  return content && new File([content], name, { type: "image/jpeg" });
}
