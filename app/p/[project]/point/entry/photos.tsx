"use client";

import { useRouter } from "next/navigation";
import { useState, type ChangeEvent } from "react";
import { fieldName } from "#lib/domain/point/missing";
import type { PhotoWords } from "#lib/services/photo-words";
import type { EntryView, SubjectView } from "#lib/services/entry-view";
import { FileVerdictMark, OrderVerdictMark, PlaceVerdictMark, TagVerdictMark } from "../../../../_ui/mark";
import { renditionHref } from "../../../../_ui/picture";
import { captureHref } from "../point-href";
import { useEntry } from "./entry-state";
import { SET_ASIDE } from "./fields";
import { ReadyPhotos } from "./ready-photos";
import { PhotoInput, UnderWay, useSending } from "./sending";
import { sendFile } from "./upload";

/** The photos of one subject, and where more are taken. They go one after the other, each as the camera wrote it. */
export function Subject({ subject }: { subject: SubjectView }) {
  const { view, point, setAside, refusal, faultAt } = useEntry();
  const sending = useSending(subject.id);
  const anchor = fieldName.photo(subject.id);
  const counted = new Set(subject.photos.filter(({ id }) => !setAside.includes(id)).map(({ sha256 }) => sha256)).size;
  const fault = refusal ? faultAt(anchor) : undefined;

  return (
    <section className="subject" aria-labelledby={`${anchor}-name`}>
      <div className="subject-head">
        <h3 id={`${anchor}-name`}>{subject.name}</h3>
        <p className={counted >= subject.count ? "letter" : "letter required"}>{counted} of {subject.count} there</p>
      </div>
      {subject.hint && <p className="letter">{subject.hint}</p>}
      {fault && <p className="error" id={`${anchor}-error`}>{fault}</p>}
      <ul className="shots">
        {subject.photos.map((photo, position) => <li key={photo.id}><Shot photo={photo} name={`${subject.name} ${position + 1}`} /></li>)}
        {sending.under.map((one) => (
          <li className="shot shot-under" key={one.key}>
            <p className="shot-name">{one.file.name}</p>
            <UnderWay one={one} sending={sending} />
          </li>
        ))}
        <li className="shot shot-take needs-scripts">
          <PhotoInput sending={sending} camera id={anchor} describedBy={fault ? `${anchor}-error` : undefined} className="take">
            <svg width="34" height="34" aria-hidden="true"><use href="#i-camera" /></svg>
            <span><b>Take photo</b><span className="hide">: {subject.name}</span></span>
          </PhotoInput>
          <PhotoInput sending={sending} className="choose"><span>Choose files<span className="hide">: {subject.name}</span></span></PhotoInput>
          <a className="choose" href={captureHref(point.project, view.head.mark, point.line, subject.id)}>See what it has to show<span className="hide">: {subject.name}</span></a>
        </li>
      </ul>
      {subject.ready.length > 0 && <ReadyPhotos ready={subject.ready} subject={subject.id} attach={(file) => sending.send([file], null)} />}
    </section>
  );
}

function Shot({ photo, name }: { photo: PhotoWords; name: string }) {
  const { point, setAside, put } = useEntry();
  const aside = setAside.includes(photo.id);
  const questions = photo.flags.filter(({ weight }) => weight === "question");
  return (
    <article className={aside ? "shot shot-aside" : "shot"} aria-label={name}>
      {photo.shown ? (
         
        <img src={renditionHref(point.project, photo.sha256, 320)} alt={name} width="320" height="240" loading="lazy" />
      ) : (
        <p className="shot-none">no picture could be made of it</p>
      )}
      <p className="shot-name">{name}</p>
      {aside ? <p>set aside, not sent</p> : <p><OrderVerdictMark verdict={photo.order} /></p>}
      {questions.length > 0 && !aside && <p className="doubtful">{questions.length === 1 ? questions[0]?.title : `${questions.length} flags to be answered`}</p>}
      <a className="shot-page" href={`/p/${point.project}/photos/${photo.id}`}>Look at it<span className="hide">: {name}</span></a>
      <details>
        <summary>What it says</summary>
        <ul className="shot-facts">
          <li>{photo.taken}</li>
          <li>{photo.orderWords}</li>
          <li><PlaceVerdictMark verdict={photo.place} /> {photo.placeWords}</li>
          <li><FileVerdictMark verdict={photo.file} /> {photo.fileWords}</li>
          <li><TagVerdictMark verdict={photo.tag} /> {photo.tagWords}</li>
          {photo.flags.map((flag) => <li key={flag.code}><b>{flag.title}</b>: {flag.measured}; limit {flag.limit}</li>)}
          <li className="code">{photo.sha256.slice(0, 16)}</li>
        </ul>
      </details>
      {aside && <input type="hidden" name={SET_ASIDE} value={photo.id} />}
      <button type="button" className="button button-quiet needs-scripts" aria-label={`${aside ? "Take back" : "Set aside"}: ${name}`} onClick={() => put(photo.id, !aside)}>
        {aside ? "Take back" : "Set aside"}
      </button>
    </article>
  );
}

/** A document that the point asks for, such as a laboratory's report. */
export function DocumentField({ document: asked }: { document: EntryView["documents"][number] }) {
  const { point, refusal, faultAt } = useEntry();
  const router = useRouter();
  const [said, setSaid] = useState<{ words: string; bad: boolean } | null>(null);
  const anchor = fieldName.document(asked.id);
  const fault = refusal ? faultAt(anchor) : undefined;

  async function chosen(event: ChangeEvent<HTMLInputElement>): Promise<void> {
    const [file] = event.target.files ?? [];
    event.target.value = "";
    if (!file) return;
    const url = `/api/v1/projects/${point.project}/points/${point.sheet}/${point.line}/documents?use=${encodeURIComponent(asked.id)}&title=${encodeURIComponent(file.name)}`;
    const answer = await sendFile(url, file, null, (share) => setSaid({ words: share < 1 ? `on its way, ${Math.round(share * 100)} %` : "sent, being read", bad: false }));
    setSaid(answer.ok ? null : { words: answer.message, bad: true });
    if (answer.ok) router.refresh();
  }

  return (
    <section className="subject" aria-labelledby={`${anchor}-name`}>
      <div className="subject-head">
        <h3 id={`${anchor}-name`}>{asked.name}</h3>
        <p className={asked.received.length > 0 ? "letter" : "letter required"}>{asked.received.length > 0 ? `${asked.received.length} there` : asked.required ? "a PDF is needed" : "a PDF, if there is one"}</p>
      </div>
      <ul>
        {asked.received.map(({ id, title, words }) => <li key={id}><a href={`/api/v1/projects/${point.project}/documents/${id}`}>{title}</a> <span className="letter">{words}</span></li>)}
      </ul>
      {fault && <p className="error" id={`${anchor}-error`}>{fault}</p>}
      {said && <p className={said.bad ? "error" : undefined} role={said.bad ? "alert" : "status"}>{said.words}</p>}
      <label className="take take-wide needs-scripts">
        <input type="file" id={anchor} accept="application/pdf" className="hide" aria-describedby={fault ? `${anchor}-error` : undefined} onChange={(event) => void chosen(event)} />
        <span><b>Attach PDF</b><span className="hide">: {asked.name}</span></span>
      </label>
    </section>
  );
}
