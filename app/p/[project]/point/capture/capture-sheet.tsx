"use client";

import { useRouter } from "next/navigation";
import { useEffect, useRef } from "react";
import type { Site } from "#lib/domain/photo/place";
import type { PhotoWords } from "#lib/services/photo-words";
import { FileVerdictMark, KindMark, OrderVerdictMark, PlaceVerdictMark, TagVerdictMark } from "../../../../_ui/mark";
import { renditionHref } from "../../../../_ui/picture";
import { SheetHead } from "../../../../_ui/sheet";
import { captureHref, pointHref } from "../point-href";
import { useEntry } from "../entry/entry-state";
import { ReadyPhotos } from "../entry/ready-photos";
import { PhotoInput, UnderWay } from "../entry/sending";
import { useCapture } from "./capture-room";
import { Outline } from "./outline";
import { PhoneSays } from "./phone-says";

/** More photos than this are told as a number, not place by place. */
const MOST_PLACES = 8;
const LOOK_AGAIN_MS = 2500;

/** Taking the photos of one subject: what the picture has to show, then the photo that was taken with what it says. */
export function CaptureSheet({ zone, site }: { zone: string; site: Site }) {
  const { view, point } = useEntry();
  const { subject, sending, counted, last } = useCapture();
  const { mark } = view.head;
  return (
    <>
      <SheetHead
        {...(mark === null ? {} : { mark })}
        title={subject.name}
        lead={<span className="capture-lead"><span>{view.line.line}</span><KindMark kind={view.line.kind} /><span>{view.line.name}, {countWords(counted.length, subject.count, last !== null)}</span></span>}
      />
      <noscript><p className="doubtful">Photos are sent by a script, and scripts are off.</p></noscript>
      <div className="capture-columns">
        <div>{last ? <Taken photo={last} project={point.project} name={subject.name} /> : <Outline subject={subject.id} mark={mark} hint={subject.hint} />}</div>
        <div className="stack">
          <Places />
          {sending.under.map((one) => <div className="capture-under" key={one.key}><b>{one.file.name}</b><UnderWay one={one} sending={sending} /></div>)}
          {last ? <Verdicts photo={last} /> : <PhoneSays project={point.project} zone={zone} site={site} opens={subject.opens} />}
          {subject.ready.length > 0 && <ReadyPhotos ready={subject.ready} subject={subject.id} attach={(file) => sending.send([file], null)} />}
        </div>
      </div>
    </>
  );
}

function countWords(there: number, wanted: number, looking: boolean): string {
  if (looking || there >= wanted) return `${there} of ${wanted} there`;
  return `photo ${there + 1} of ${wanted}`;
}

/** The photos of the subject in their order, and the one that is wanted now. */
function Places() {
  const { point } = useEntry();
  const { subject, counted, last } = useCapture();
  if (subject.count === 1 && counted.length === 0) return null;
  if (subject.count > MOST_PLACES) return <p className="letter">{counted.length} of {subject.count} there</p>;
  const left = Math.max(0, subject.count - counted.length);
  return (
    <ol className="places" aria-label={`Photos of: ${subject.name}`}>
      {counted.map((photo, position) => (
        <li key={photo.id} className={photo.id === last?.id ? "place-now" : undefined}>
          <a href={`/p/${point.project}/photos/${photo.id}`}><b>{position + 1}</b> <OrderVerdictMark verdict={photo.order} /></a>
        </li>
      ))}
      {Array.from({ length: left }, (_, i) => (
        <li key={i} className={i === 0 && last === null ? "place-now" : undefined}><p><b>{counted.length + i + 1}</b> {i === 0 ? "wanted" : "later"}</p></li>
      ))}
    </ol>
  );
}

function Taken({ photo, project, name }: { photo: PhotoWords; project: string; name: string }) {
  const figure = useRef<HTMLElement>(null);
  // In braces: newer Chromium answers scrollIntoView with a promise, and an effect may answer with nothing but its own end.
  useEffect(() => {
    figure.current?.scrollIntoView({ block: "nearest" });
  }, [photo.id]);
  return (
    <figure className="taken" ref={figure}>
      {photo.shown ? <img src={renditionHref(project, photo.sha256, 1600)} alt={`${name}, as taken`} /> : <p className="shot-none">No picture can be made of it here. The original is kept as it was sent.</p>}
    </figure>
  );
}

function Verdicts({ photo }: { photo: PhotoWords }) {
  const { point } = useEntry();
  const router = useRouter();
  useEffect(() => {
    if (!photo.beingRead) return;
    const timer = setInterval(() => router.refresh(), LOOK_AGAIN_MS);
    return () => clearInterval(timer);
  }, [photo.beingRead, router]);
  const questions = photo.flags.filter(({ weight }) => weight === "question");
  return (
    <section className="taken-verdicts" aria-label="What the photo says" aria-live="polite">
      <dl>
        <dt><OrderVerdictMark verdict={photo.order} /></dt><dd>{photo.order === "in order" ? photo.taken : photo.orderWords}</dd>
        <dt><PlaceVerdictMark verdict={photo.place} /></dt><dd>{photo.placeWords}</dd>
        <dt><FileVerdictMark verdict={photo.file} /></dt><dd>{photo.fileWords}</dd>
        <dt>{photo.beingRead ? <span>tag</span> : <TagVerdictMark verdict={photo.tag} />}</dt><dd>{photo.beingRead ? "being looked for" : photo.tagWords}</dd>
      </dl>
      {questions.length > 0 && <ul className="taken-flags">{questions.map(({ code, title, measured, limit }) => <li key={code}><b>{title}</b> {measured}; limit {limit}</li>)}</ul>}
      <p><a href={`/p/${point.project}/photos/${photo.id}`}>Everything that it claims</a></p>
    </section>
  );
}

/** The bar under the thumb: take, or look and go on. */
export function CaptureActions() {
  const { view, point } = useEntry();
  const { subject, sending, counted, last, goOn } = useCapture();
  const left = subject.count - counted.length;
  if (last === null) {
    return (
      <>
        <PhotoInput sending={sending} className="button needs-scripts"><span>Choose file</span></PhotoInput>
        <PhotoInput sending={sending} camera className="button button-go needs-scripts"><Camera /><span>{left > 0 ? `Take photo ${counted.length + 1}` : "Take one more"}</span></PhotoInput>
      </>
    );
  }
  const after = view.subjects.find(({ id, photos, count }) => id !== subject.id && photos.length < count);
  return (
    <>
      <PhotoInput sending={sending} camera className="button needs-scripts"><Camera /><span>Take again</span></PhotoInput>
      {left > 0 ? (
        <button type="button" className="button button-go" onClick={goOn}>Next: photo {counted.length + 1} of {subject.count}</button>
      ) : after ? (
        <a className="button button-go" href={captureHref(point.project, view.head.mark, point.line, after.id)}>Next: {after.name.charAt(0).toLowerCase() + after.name.slice(1)}</a>
      ) : (
        <a className="button button-go" href={pointHref(point.project, view.head.mark, point.line)}>Back to point {point.line}</a>
      )}
    </>
  );
}

function Camera() {
  return <svg width="26" height="26" aria-hidden="true"><use href="#i-camera" /></svg>;
}
