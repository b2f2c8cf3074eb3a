"use client";

import { useState, type ChangeEvent } from "react";
import { useRouter } from "next/navigation";
import { sendFile } from "../point/entry/upload";

type Said = { words: string; bad: boolean } | null;

/** Hands in one photo of the clock page: chosen, sent as the camera wrote it, and what was read in it or why nothing was. */
export function ClockPhotoForm({ project }: { project: string }) {
  const [said, setSaid] = useState<Said>(null);
  const [sending, setSending] = useState(false);
  const router = useRouter();

  async function chosen(event: ChangeEvent<HTMLInputElement>): Promise<void> {
    const [file] = event.target.files ?? [];
    event.target.value = "";
    if (!file) return;
    setSending(true);
    // The phone's own clock says nothing here: the camera may be another one.
    const answer = await sendFile(`/api/v1/projects/${project}/clock-photos`, file, null, (share) =>
      setSaid({ words: share < 1 ? `On its way, ${Math.round(share * 100)} %.` : "Sent, its code is being read.", bad: false }),
    );
    setSending(false);
    setSaid(answer.ok ? { words: readWords(answer.receipt as ReadReceipt), bad: false } : { words: answer.message, bad: true });
    if (answer.ok) router.refresh();
  }

  return (
    <div className="clock-hand-in" id="clock-photo">
      <noscript><p className="doubtful">A photo is sent by a script, and scripts are off.</p></noscript>
      <label className="clock-take needs-scripts">
        <input className="hide" id="clock-photo-file" type="file" accept="image/*" disabled={sending} aria-describedby={said?.bad ? "clock-photo-error" : undefined} onChange={(event) => void chosen(event)} />
        <b>Hand in a photo of it</b>
        <span className="letter">the file as the camera wrote it</span>
      </label>
      {said?.bad ? <p className="error" id="clock-photo-error" role="alert">{said.words}</p> : <p role="status">{said?.words ?? ""}</p>}
    </div>
  );
}

interface ReadReceipt {
  id: string;
  sha256: string;
  shown: string;
  cameraSays: string | null;
}

function readWords({ shown, cameraSays }: ReadReceipt): string {
  return `Received. The page showed ${shown.replace("T", " ").replace(/\.\d+Z$/, " UTC")}, the camera wrote ${cameraSays ?? "no time"}.`;
}
