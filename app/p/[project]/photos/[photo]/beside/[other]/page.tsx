import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { found, openPage } from "#lib/edge/page";
import { besideView, placeName, type BesideSide, type BesideView } from "#lib/services/likeness-view";
import { Block } from "../../../../../../_ui/block";
import { FileVerdictMark, KindMark, OrderVerdictMark, PlaceVerdictMark, State, TagVerdictMark } from "../../../../../../_ui/mark";
import { renditionHref } from "../../../../../../_ui/picture";
import { SheetHead } from "../../../../../../_ui/sheet";
import { pointHref } from "../../../../point/point-href";
import { ProjectFrame } from "../../../../project-frame";
import { answer } from "./actions";
import { AnswerForm } from "./answer-form";
import { HashCells } from "./hash-cells";
import "./beside.css";

interface Props {
  params: Promise<{ project: string; photo: string; other: string }>;
}

export const metadata: Metadata = { title: "Photos, side by side" };

/** Two photos that are alike, equal in size, with what each says and what each answer would do. A cue, never a bar. */
export default async function BesidePage({ params }: Props) {
  const context = await openPage(params);
  const { project, house, member, at } = context;
  const { photo, other } = await params;
  const view = await found(() => besideView(house.db.read, project, photo, other, at));
  const { first, second } = view;
  const answers = can(member, "answer likeness", project.id);
  const marks = [...new Set([first.mark ?? "project", second.mark ?? "project"])];
  return (
    <ProjectFrame context={context} sheet="Photos, side by side" pile={marks.join(", ")} current="Inspector's round" back={{ href: `/p/${project.code}/photos/${photo}`, label: "Photo" }}>
      <SheetHead title={marks.join(" and ")} lead={leadOf(view)} note="A look-alike is a cue for your eye, never a bar: an honest photo of the same pile can come near." />
      <div className="beside">
        <Side side={first} project={project.code} className="beside-first" />
        <Join view={view} project={project.code} />
        <Side side={second} project={project.code} className="beside-second" />
        <div className="beside-answer stack">
          {answers ? (
            <Block title="Your answer" note="kept with both points">
              <AnswerForm
                action={answer.bind(null, project.code, photo, view.later, view.earlier)} id={randomUUID()} sameFile={view.sameFile}
                places={{ earlier: placeName(first), later: placeName(second) }} outcomes={outcomesOf(view)}
              />
            </Block>
          ) : (
            <p className="letter">The QC manager, the inspector or the engineer answers whether this is one picture.</p>
          )}
          <Said view={view} />
        </div>
      </div>
    </ProjectFrame>
  );
}

function leadOf({ sameFile, samePixels, differing, limit }: BesideView): string {
  if (sameFile) return "One file, received twice.";
  if (samePixels) return "Two files with the same pixels.";
  if (differing === null) return "Two photos that one camera says it took at the same instant.";
  return `${differing.length} of 64 cells differ; up to ${limit} is a look-alike.`;
}

function Side({ side, project, className }: { side: BesideSide; project: string; className: string }) {
  const { words } = side;
  return (
    <section className={`beside-side ${className}`} aria-label={`${placeName(side)}, ${side.label}`}>
      <h2>
        {side.mark && <span className="mark">{side.mark} </span>}
        <a href={pointHref(project, side.mark, side.line.line)}>{side.line.line} <KindMark kind={side.line.kind} /> {side.line.name}, {side.label}</a>
        <State state={side.state} />
      </h2>
      <div className="beside-picture">
        {words.shown ? <img src={renditionHref(project, words.sha256, 1600)} alt={`${side.label} of ${placeName(side)}`} /> : <p className="no-picture">no picture can be made of it</p>}
      </div>
      <dl className="beside-facts">
        <div><dt>taken</dt><dd>{words.taken.replace(/^taken /, "")}</dd></div>
        <div><dt>order</dt><dd><OrderVerdictMark verdict={words.order} /></dd></div>
        <div><dt>place</dt><dd><PlaceVerdictMark verdict={words.place} /> {words.placeWords}</dd></div>
        <div><dt>file</dt><dd><FileVerdictMark verdict={words.file} /> {side.sizeWords}</dd></div>
        <div><dt>tag</dt><dd><TagVerdictMark verdict={words.tag} /> {words.tag === "no tag read" ? "" : words.tagWords}</dd></div>
        <div><dt>sent by</dt><dd>{side.by}</dd></div>
        <div><dt>counts</dt><dd>{side.counts.now} photos of {side.label.replace(/ \d+$/, "").toLowerCase()}, {side.counts.needed} needed</dd></div>
      </dl>
    </section>
  );
}

/** Left half of one, right half of the other: what is one picture runs on across the join. */
function Join({ view, project }: { view: BesideView; project: string }) {
  const { first, second, differing } = view;
  return (
    <section className="beside-join" aria-label="The two joined, and their hashes">
      {first.words.shown && second.words.shown && (
        <figure>
          <svg className="join" viewBox="0 0 320 240" aria-hidden="true">
            <svg width="160" height="240"><image href={renditionHref(project, first.words.sha256, 320)} width="320" height="240" preserveAspectRatio="none" /></svg>
            <svg x="160" width="160" height="240"><image href={renditionHref(project, second.words.sha256, 320)} x="-160" width="320" height="240" preserveAspectRatio="none" /></svg>
            <line className="join-line" x1="160" x2="160" y1="0" y2="240" />
          </svg>
          <figcaption className="letter">left half {placeName(first)}, right half {placeName(second)}</figcaption>
        </figure>
      )}
      {differing !== null && first.cells && second.cells && (
        <>
          <div className="hashes">
            <HashCells cells={first.cells} differing={differing} name={first.mark ?? first.line.line} />
            <HashCells cells={second.cells} differing={differing} name={second.mark ?? second.line.line} />
          </div>
          <p className="doubtful differ">{differing.length} of 64 cells differ</p>
        </>
      )}
    </section>
  );
}

/** What follows for the photos that count, in words. */
function outcomesOf({ first, second }: BesideView): Record<"earlier" | "later" | "two" | "cannot", string> {
  const falls = (side: BesideSide): string => {
    const { without, needed } = side.counts;
    const under = without < needed ? `, ${without} of ${needed} count there then` : "";
    return `does not count at ${placeName(side)}${under}${side.released && without < needed ? "; it stands released, and whoever decides it is asked to confirm or reopen it" : ""}`;
  };
  return { earlier: falls(second), later: falls(first), two: "both count; the likeness stays noted", cannot: `counts at neither, until a new photo is sent` };
}

function Said({ view }: { view: BesideView }) {
  if (view.answers.length === 0) return null;
  return (
    <Block title="Answered" note={view.disagree ? "two answers differ; the last one holds" : "the last one holds"}>
      <ul className="beside-said">{view.answers.map(({ who, when, words, reason }) => <li key={`${who} ${when}`}><b>{words}</b>{reason && <span>{reason}</span>}<span className="letter">{who}, {when}</span></li>)}</ul>
    </Block>
  );
}
