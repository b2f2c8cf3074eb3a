"use client";

import { useRouter } from "next/navigation";
import { useRef, useState, type ChangeEvent, type ReactNode } from "react";
import { useEntry } from "./entry-state";
import { deviceClaims, sendFile } from "./upload";

interface OnItsWay {
  key: string;
  file: File;
  openedAt: number | null;
  share: number;
  message: string | null;
}

export interface Sending {
  under: readonly OnItsWay[];
  /** Sends files one after the other, each as the camera wrote it; `openedAt` is when the camera was opened for them, null for picked files. */
  send(files: readonly File[], openedAt: number | null): Promise<void>;
  again(one: OnItsWay): Promise<void>;
  leaveOut(one: OnItsWay): void;
}

/** Sends the photos of one subject of the point. `received` hears of each that the server has. */
export function useSending(subject: string, received?: (id: string) => void): Sending {
  const { point } = useEntry();
  const router = useRouter();
  const [under, setUnder] = useState<OnItsWay[]>([]);

  async function again(one: OnItsWay): Promise<void> {
    const amend = (change: Partial<OnItsWay>) => setUnder((before) => before.map((other) => (other.key === one.key ? { ...other, ...change } : other)));
    amend({ message: null, share: 0 });
    const device = await deviceClaims(point.project, one.file, one.openedAt);
    const url = `/api/v1/projects/${point.project}/points/${point.sheet}/${point.line}/photos?subject=${encodeURIComponent(subject)}`;
    const answer = await sendFile(url, one.file, device, (share) => amend({ share }));
    if (!answer.ok) return amend({ message: answer.message });
    setUnder((before) => before.filter(({ key }) => key !== one.key));
    received?.(answer.receipt.id);
    router.refresh();
  }

  return {
    under,
    again,
    leaveOut: (one) => setUnder((before) => before.filter(({ key }) => key !== one.key)),
    send: async (files, openedAt) => {
      const added = files.map((file): OnItsWay => ({ key: `${file.name} ${file.lastModified} ${Math.random()}`, file, openedAt, share: 0, message: null }));
      setUnder((before) => [...before, ...added]);
      for (const one of added) await again(one);
    },
  };
}

/** A file on its way, or what stopped it and what to do. */
export function UnderWay({ one, sending }: { one: OnItsWay; sending: Sending }) {
  if (one.message === null) return <p role="status">{one.share < 1 ? `on its way, ${Math.round(one.share * 100)} %` : "sent, being read"}</p>;
  return (
    <>
      <p className="error" role="alert">{one.message}</p>
      <button type="button" className="button" onClick={() => void sending.again(one)}>Send again</button>
      <button type="button" className="button" onClick={() => sending.leaveOut(one)}>Leave it out</button>
    </>
  );
}

interface PhotoInputProps {
  sending: Sending;
  /** The camera is opened for it; else files are picked. */
  camera?: boolean;
  id?: string;
  describedBy?: string | undefined;
  className: string;
  children: ReactNode;
}

/** Where photos are taken or picked. */
export function PhotoInput({ sending, camera = false, id, describedBy, className, children }: PhotoInputProps) {
  const openedAt = useRef<number | null>(null);

  async function chosen(event: ChangeEvent<HTMLInputElement>): Promise<void> {
    const files = [...(event.target.files ?? [])];
    event.target.value = "";
    await sending.send(files, camera ? openedAt.current : null);
  }

  return (
    <label className={className}>
      <input
        type="file" id={id} accept="image/*" capture={camera ? "environment" : undefined} multiple className="hide" aria-describedby={describedBy}
        onClick={() => { openedAt.current = Date.now(); }}
        onChange={(event) => void chosen(event)}
      />
      {children}
    </label>
  );
}
