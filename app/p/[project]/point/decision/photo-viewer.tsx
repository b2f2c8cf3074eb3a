"use client";

import { useState, type ReactNode } from "react";
import type { DecisionPhoto } from "#lib/services/decision-photos";
import { FileVerdictMark, FlagTriangle, OrderVerdictMark, PlaceVerdictMark, StreakVerdictMark, TagVerdictMark } from "../../../../_ui/mark";
import { Empty } from "../../../../_ui/empty";
import { renditionHref } from "../../../../_ui/picture";

/** Photos large enough to judge. The small ones choose; they are links, so that they also work before scripts do. */
export function PhotoViewer({ photos, project }: { photos: readonly DecisionPhoto[]; project: string }) {
  const [shown, setShown] = useState<string | null>(null);
  if (photos.length === 0) return <Empty thing="photo" title="No photo was sent with this point." />;
  return (
    <section className={shown ? "viewer viewer-chosen" : "viewer"} aria-label="Photos">
      <div className="viewer-large">
        {photos.map((photo) => (
          <Large key={photo.id} photo={photo} project={project} shown={photo.id === shown} />
        ))}
      </div>
      {photos.length > 1 && (
        <ul className="viewer-small">
          {photos.map((photo) => (
            <li key={photo.id}>
              <a
                href={`#photo-${photo.id}`}
                aria-current={photo.id === (shown ?? photos[0]!.id) ? "true" : undefined}
                onClick={(event) => {
                  event.preventDefault();
                  setShown(photo.id);
                }}
              >
                <Picture photo={photo} project={project} size={320} alt="" />
                <span className={`viewer-name hand-${photo.order === "in order" ? "ink" : photo.order.startsWith("too") ? "bad" : "doubt"}`}>
                  <b>{photo.label}</b> {photo.order}
                </span>
                {photo.numbers.length > 0 && <span className="viewer-flags">{photo.numbers.map((number) => <FlagTriangle key={number} n={number} />)}</span>}
              </a>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function Large({ photo, project, shown }: { photo: DecisionPhoto; project: string; shown: boolean }) {
  const notes = photo.flags.filter(({ weight }) => weight === "note");
  return (
    <figure className={shown ? "large large-shown" : "large"} id={`photo-${photo.id}`}>
      <a className="large-picture" href={`/p/${project}/photos/${photo.id}`}>
        <Picture photo={photo} project={project} size={1600} alt={`${photo.label}, ${photo.order}. Opens everything about it.`} />
      </a>
      <figcaption>
        <p><b>{photo.label}</b> {photo.taken}{photo.again && ", sent with the attempt before as well"}</p>
        <p className="large-verdicts">
          <OrderVerdictMark verdict={photo.order} />
          <PlaceVerdictMark verdict={photo.place} />
          <FileVerdictMark verdict={photo.file} />
          <TagVerdictMark verdict={photo.tag} />
          {photo.streaks && <StreakVerdictMark verdict={photo.streaks} />}
          {photo.numbers.map((number) => <FlagTriangle key={number} n={number} />)}
        </p>
        <p className="letter">{photo.placeWords} · {photo.fileWords}{photo.tag === "another pile's tag" && ` · ${photo.tagWords}`}{photo.streaks && ` · ${photo.streakWords}`}</p>
        {photo.order !== "in order" && <p className="letter">{photo.orderWords}</p>}
        {notes.length > 0 && <p className="letter">{notes.map(({ title }) => title).join(" · ")}</p>}
        <p className="letter">SHA-256 <span className="code">{photo.sha256.slice(0, 16)}</span> · <a href={`/api/v1/projects/${project}/photos/${photo.id}/original`}>original</a></p>
      </figcaption>
    </figure>
  );
}

function Picture({ photo, project, size, alt }: { photo: DecisionPhoto; project: string; size: 320 | 1600; alt: string }): ReactNode {
  if (!photo.shown) return <span className="no-picture">{alt ? `${photo.label}: no preview can be made. Open the original.` : "no preview"}</span>;
  // Kept as received and drawn from its own rendition, so the framework's image pipeline has no part in it.
   
  return <img src={renditionHref(project, photo.sha256, size)} alt={alt} loading="lazy" width={size} height={Math.round(size * 0.75)} />;
}
