"use client";

import { useRouter } from "next/navigation";
import { useState, type ChangeEvent, type DragEvent } from "react";
import { many } from "#lib/domain/many";
import { fileSha256, sendFile } from "../point/entry/upload";

interface Failed {
  name: string;
  message: string;
}

interface Progress {
  total: number;
  done: number;
  known: number;
  failed: Failed[];
}

/** Files sent at the same time: the next one travels while the server reads this one. */
const AT_ONCE = 2;
const PICTURE = /\.(jpe?g|png|webp|hei[cf]|hif)$/i;

/** A folder of photos on its way to the card. What is here already is not sent again, so that a broken-off folder goes on where it stopped. */
export function CardUpload({ project }: { project: string }) {
  const router = useRouter();
  const [progress, setProgress] = useState<Progress | null>(null);
  const running = progress !== null && progress.done < progress.total;

  async function send(files: readonly File[]): Promise<void> {
    const pictures = files.filter(({ name, type }) => type.startsWith("image/") || PICTURE.test(name));
    if (pictures.length === 0) return;
    setProgress({ total: pictures.length, done: 0, known: 0, failed: [] });
    const digests = await Promise.all(pictures.map(async (file) => ({ file, sha256: await fileSha256(file) })));
    const known = await knownOf(project, digests.flatMap(({ sha256 }) => sha256 ?? []));
    const waiting = digests.filter(({ sha256 }) => sha256 === null || !known.has(sha256));
    const here = pictures.length - waiting.length; // counted now: the queue is shorter by the time the page is drawn
    setProgress((before) => before && { ...before, done: here, known: here });
    await Promise.all(Array.from({ length: AT_ONCE }, async () => {
      for (let next = waiting.shift(); next; next = waiting.shift()) {
        const { file } = next;
        const answer = await sendFile(`/api/v1/projects/${project}/card`, file, null, () => undefined);
        setProgress((before) => before && { ...before, done: before.done + 1, failed: answer.ok ? before.failed : [...before.failed, { name: file.name, message: answer.message }] });
      }
    }));
    router.refresh();
  }

  async function chosen(event: ChangeEvent<HTMLInputElement>): Promise<void> {
    const files = [...(event.target.files ?? [])];
    event.target.value = "";
    await send(files);
  }

  async function dropped(event: DragEvent<HTMLDivElement>): Promise<void> {
    event.preventDefault();
    await send(await filesOf(event.dataTransfer));
  }

  return (
    <div className="card-drop" onDragOver={(event) => event.preventDefault()} onDrop={(event) => void dropped(event)}>
      <noscript><p className="doubtful">Photos are sent by a script, and scripts are off. What is on the card can be put to its points without them.</p></noscript>
      <div className="button-row needs-scripts">
        <label className="button"><input type="file" multiple className="hide" disabled={running} ref={(input) => input?.setAttribute("webkitdirectory", "")} onChange={(event) => void chosen(event)} />Choose the camera’s folder</label>
        <label className="button"><input type="file" multiple accept="image/*" className="hide" disabled={running} onChange={(event) => void chosen(event)} />Choose photos</label>
        <span className="letter card-hint">or drop a folder here</span>
      </div>
      {progress && (
        <p role="status">
          {progress.done} of {progress.total} here{progress.known > 0 && `, ${many(progress.known, "was", "were")} here already`}{progress.failed.length > 0 && `, ${progress.failed.length} not taken`}.
        </p>
      )}
      {progress && progress.failed.length > 0 && <ul className="card-failed" role="alert">{progress.failed.map(({ name, message }) => <li key={name}><b>{name}</b> {message}</li>)}</ul>}
    </div>
  );
}

async function knownOf(project: string, sha256s: readonly string[]): Promise<Set<string>> {
  if (sha256s.length === 0) return new Set();
  const answer = await fetch(`/api/v1/projects/${project}/card/known`, { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ sha256s }) }).catch(() => null);
  if (!answer?.ok) return new Set(); // then all are sent, and the server says itself what it has
  const { card, record } = (await answer.json()) as { card: string[]; record: string[] };
  return new Set([...card, ...record]);
}

/** The files of what was dropped, folders opened. */
async function filesOf({ items, files }: DataTransfer): Promise<File[]> {
  const entries = [...items].flatMap((item) => item.webkitGetAsEntry() ?? []);
  if (entries.length === 0) return [...files];
  return (await Promise.all(entries.map(filesBelow))).flat();
}

async function filesBelow(entry: FileSystemEntry): Promise<File[]> {
  if (entry.isFile) return [await new Promise<File>((resolve, reject) => (entry as FileSystemFileEntry).file(resolve, reject))];
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  const found: FileSystemEntry[] = [];
  // A browser gives a folder in parts, and nothing when it is at its end.
  for (;;) {
    const part = await new Promise<FileSystemEntry[]>((resolve, reject) => reader.readEntries(resolve, reject));
    if (part.length === 0) break;
    found.push(...part);
  }
  return (await Promise.all(found.map(filesBelow))).flat();
}
