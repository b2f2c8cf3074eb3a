import type { Metadata } from "next";
import type { ReactNode } from "react";
import { getPhoto } from "#lib/db/evidence";
import { DomainError } from "#lib/domain/refusal";
import { found, openPage } from "#lib/edge/page";
import { photoPageView, windowWords, type PhotoPageView } from "#lib/services/photo-view";
import { Block } from "../../../../_ui/block";
import { FileVerdictMark, FlagTriangle, KindMark, OrderVerdictMark, PlaceVerdictMark, StreakVerdictMark, TagVerdictMark } from "../../../../_ui/mark";
import { renditionHref } from "../../../../_ui/picture";
import { TableFrame } from "../../../../_ui/table";
import { ProjectFrame } from "../../project-frame";
import { pointHref } from "../../point/point-href";
import { WindowBar } from "./window-bar";
import "../../crew.css";
import "./photo.css";

interface Props {
  params: Promise<{ project: string; photo: string }>;
}

export const metadata: Metadata = { title: "Photo" };

/** One photo: the picture, what it counts for, each verdict with what it rests on, and everything that it claims. */
export default async function PhotoPage({ params }: Props) {
  const context = await openPage(params);
  const { project, house, at } = context;
  const { photo: id } = await params;
  const view = await found(async () => {
    const photo = await getPhoto(house.db.read, id);
    if (photo.projectId !== project.id) throw new DomainError("not-found", "There is no such photo.");
    return photoPageView(house.db.read, project, id, at);
  });
  const base = `/p/${project.code}/photos`;
  const point = pointHref(project.code, view.mark, view.line.line);
  const questions = view.words.flags.filter(({ weight }) => weight === "question");
  return (
    <ProjectFrame
      context={context} sheet="Photo" {...(view.mark === null ? {} : { pile: view.mark })} current="Bents" back={{ href: point, label: `Point ${view.line.line}` }}
      actions={(
        <>
          {view.previous && <a className="button thumb-only" href={`${base}/${view.previous}`}>Photo before</a>}
          {view.next ? <a className="button button-go thumb-only" href={`${base}/${view.next}`}>Next photo</a> : <a className="button button-go thumb-only" href={point}>Back to point {view.line.line}</a>}
        </>
      )}
    >
      <div className={view.mark ? "head" : "head head-plain"}>
        <h1>{view.mark && <span className="mark">{view.mark} </span>}<span className="head-title">{view.label}</span></h1>
        <p className="lead"><a href={point}>{view.line.line} <KindMark kind={view.line.kind} /> {view.line.name}</a>, attempt {view.attempt}</p>
        <p className="letter">{view.place}, sent by {view.by}, received {view.receivedWords}</p>
      </div>
      <div className="photo-columns">
        <figure className="photo-large">
          {view.words.shown
            ? <a href={`/api/v1/projects/${project.code}/photos/${id}/original`}><img src={renditionHref(project.code, view.words.sha256, 1600)} alt={`${view.label}. Opens the original.`} /></a>
            : <p className="no-picture">No picture can be made of it here. The original is kept as it was sent.</p>}
          <nav className="photo-turns" aria-label="Photos of this point">
            {view.previous ? <a className="button" href={`${base}/${view.previous}`}>Photo before</a> : <span />}
            {view.next ? <a className="button" href={`${base}/${view.next}`}>Next photo</a> : <span />}
          </nav>
        </figure>
        <div className="stack">
          <Verdicts view={view} zone={project.zone} base={`${base}/${id}`} />
          {questions.length > 0 && (
            <Block title="Flags" note={`${questions.length} to be answered at the point`}>
              <ul className="photo-flags">
                {questions.map((flag, position) => (
                  <li key={flag.code}><FlagTriangle n={position + 1} /><div><b>{flag.title}</b><span>{flag.measured}</span><span className="letter">limit: {flag.limit}</span></div></li>
                ))}
              </ul>
            </Block>
          )}
          <Notes view={view} />
        </div>
      </div>
      <Claims view={view} original={`/api/v1/projects/${project.code}/photos/${id}/original`} />
      <p className="letter photo-caution">
        Verdicts are aids to whoever decides: “too late” accuses nobody, “in order” does not prove what is in the picture. Clocks and GPS can be wrong, or set.
      </p>
    </ProjectFrame>
  );
}

function Verdicts({ view, zone, base }: { view: PhotoPageView; zone: string; base: string }) {
  const { words, counts } = view;
  const edges = windowWords(view.window, zone);
  return (
    <section className="photo-verdicts" aria-label="Verdicts">
      <h2 className={counts.yes ? "photo-counts" : "photo-counts doubtful"}>{counts.words}</h2>
      <WindowBar window={view.window} at={view.at} uncertaintyMs={view.uncertaintyMs} verdict={words.order} from={edges.from} to={edges.to} taken={view.standsAt} />
      <dl>
        <Verdict mark={<OrderVerdictMark verdict={words.order} />}>{words.order === "in order" ? words.taken : words.orderWords}</Verdict>
        <Verdict mark={<PlaceVerdictMark verdict={words.place} />}>{words.placeWords}</Verdict>
        <Verdict mark={<FileVerdictMark verdict={words.file} />}>
          {words.fileWords}
          {view.likeness.map(({ other, words: said }) => <span key={other}>; <a href={`${base}/beside/${other}`}>{said}, side by side</a></span>)}
        </Verdict>
        <Verdict mark={<TagVerdictMark verdict={words.tag} />}>{words.tagWords}</Verdict>
        {view.mix && (
          <Verdict mark={words.streaks ? <StreakVerdictMark verdict={words.streaks} /> : <b>mix not checked</b>}>
            {words.streakWords} <a href={`${base}/mix`}>{words.streaks ? "Where, and check again" : "Check the mix for streaks"}</a>
          </Verdict>
        )}
      </dl>
    </section>
  );
}

function Verdict({ mark, children }: { mark: ReactNode; children: ReactNode }) {
  return <div><dt>{mark}</dt><dd>{children}</dd></div>;
}

function Notes({ view }: { view: PhotoPageView }) {
  const notes = view.words.flags.filter(({ weight }) => weight === "note");
  if (notes.length === 0) return null;
  return (
    <Block title="Notes" note="for information, no answer wanted">
      <ul className="photo-notes">{notes.map(({ code, title, measured, limit }) => <li key={code}><b>{title}</b> {measured}; limit {limit}</li>)}</ul>
    </Block>
  );
}

/** What the file and the phone say, word for word, beside the instant that it is judged by. */
function Claims({ view, original }: { view: PhotoPageView; original: string }) {
  return (
    <section className="photo-claims" aria-labelledby="claims">
      <h2 id="claims">What it claims, as written</h2>
      <p className="letter">SHA-256 <span className="code">{view.words.sha256}</span>, {view.bytesWords}. <a href={original}>Original</a></p>
      <p>Camera said <b>{view.cameraSays ?? "no time"}</b>; the photo stands at <b>{view.standsAt}</b>.</p>
      {view.claims.length === 0 && <p>The file says nothing about itself.</p>}
      <div className="photo-sources">
        {view.claims.map(({ source, rows }) => (
          <TableFrame key={source} label={source}>
            <table className="table">
              <caption>{source}</caption>
              <tbody>{rows.map(([name, value]) => <tr key={name}><th scope="row">{name}</th><td className="claim">{value}</td></tr>)}</tbody>
            </table>
          </TableFrame>
        ))}
      </div>
    </section>
  );
}
