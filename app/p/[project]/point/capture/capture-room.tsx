"use client";

import { createContext, useContext, useState, type ReactNode } from "react";
import type { PhotoWords } from "#lib/services/photo-words";
import type { SubjectView } from "#lib/services/entry-view";
import { useEntry } from "../entry/entry-state";
import { useSending, type Sending } from "../entry/sending";

interface CaptureState {
  subject: SubjectView;
  sending: Sending;
  /** Photos that are to be sent with the point: none twice, none set aside. */
  counted: readonly PhotoWords[];
  /** The photo that was taken last on this visit, while it is looked at. */
  last: PhotoWords | null;
  /** Goes on to the next photo. */
  goOn(): void;
}

const Context = createContext<CaptureState | null>(null);

export function useCapture(): CaptureState {
  const state = useContext(Context);
  if (!state) throw new Error("Outside a capture.");
  return state;
}

/** One subject's photos being taken, shared by the sheet and the bar under the thumb. Taking again sets the photo before aside once the new one is there. */
export function CaptureRoom({ subject: id, children }: { subject: string; children: ReactNode }) {
  const { view, setAside, put } = useEntry();
  const [last, setLast] = useState<string | null>(null);
  const sending = useSending(id, (received) => {
    if (last !== null && last !== received) put(last, true);
    setLast(received);
  });
  const subject = view.subjects.find((one) => one.id === id);
  if (!subject) throw new Error(`No subject ${id} at this point.`);
  const kept = subject.photos.filter((photo) => !setAside.includes(photo.id));
  const counted = kept.filter((photo, position) => kept.findIndex(({ sha256 }) => sha256 === photo.sha256) === position);
  return (
    <Context value={{ subject, sending, counted, last: subject.photos.find((photo) => photo.id === last) ?? null, goOn: () => setLast(null) }}>
      {children}
    </Context>
  );
}
