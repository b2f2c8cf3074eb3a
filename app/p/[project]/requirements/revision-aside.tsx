import { randomUUID } from "node:crypto";
import type { PageContext } from "#lib/edge/page";
import { nextLetter } from "#lib/domain/requirement/draft";
import type { RequirementsView } from "#lib/services/requirements-view";
import { Block } from "../../../_ui/block";
import { ButtonNotAvailable } from "../../../_ui/button";
import { FlagTriangle, State } from "../../../_ui/mark";
import { discard, review, start, startBare } from "./actions";
import { DiscardForm, ReviewForm, StartBareForm, StartForm } from "./small-forms";

interface AsideProps {
  context: PageContext;
  view: RequirementsView;
}

/** How far the revision has come, what stops it, what changed, and what comes next. */
export function RevisionAside({ context, view }: AsideProps) {
  const base = `/p/${context.project.code}/requirements`;
  return (
    <aside className="stack requirement-aside" aria-label="The revision">
      {view.state && <Stages view={view} base={base} />}
      {view.faults.length > 0 && <Stops view={view} base={base} />}
      {view.difference && view.base && <Changes view={view} base={base} />}
      <Next context={context} view={view} base={base} />
      {view.letters.length > 1 && (
        <p className="letter requirement-letters">
          {view.letters.map(({ letter, words, shown }) => (shown ? <b key={letter}>{letter}, {words}</b> : <a key={letter} href={words === "draft" ? base : `${base}?revision=${letter}`}>{letter}, {words}</a>))}
        </p>
      )}
    </aside>
  );
}

function Stages({ view, base }: { view: RequirementsView; base: string }) {
  const { state } = view;
  if (!state) return null;
  const { draft, review: read, approval, letter } = state;
  const count = view.difference?.changes.length;
  return (
    <Block title={`Revision ${letter}`} note={count === undefined ? undefined : `${count} ${count === 1 ? "change" : "changes"} since ${view.base?.letter ?? ""}`}>
      <ol className="stages">
        {draft && <li><State state={read?.stands ? "draft" : "open"} word={read?.stands ? "draft closed" : "draft"} /><small>changed {draft.changed}, {draft.by}</small></li>}
        {draft && (
          <li>
            {read ? <State state={read.stands ? "QC checked" : read.outcome === "sent back" ? "rejected" : "in doubt"} word={read.stands ? "reviewed" : read.outcome === "sent back" ? "sent back" : "review does not stand"} /> : <State state="not open" word="review" />}
            <small>{read ? `${read.when}, ${read.by}` : "waits for the QC manager"}</small>
            {read && read.words && <p className="stage-words">{read.words}</p>}
            {read && !read.stands && <small>{read.because}</small>}
          </li>
        )}
        {!draft && read && <li><State state="QC checked" word="reviewed" /><small>{read.by}</small></li>}
        <li>
          {approval ? <State state="released" word="approved" /> : <State state={read?.stands ? "open" : "not open"} word={read?.stands ? "approval waits" : "approval"} />}
          <small>{approval ? `${approval.when}, ${approval.by}` : read?.stands ? "for the engineer" : "after the review"}</small>
          {approval && <small>applies from {approval.applies}</small>}
        </li>
      </ol>
      <p className="letter stage-file"><a href={`/api/v1${base.replace(/^\/p\//, "/projects/")}/${letter}`} download={`requirements-${letter}.json`}>requirements-{letter}.json</a> <span className="code">{view.digest.slice(0, 12)}</span></p>
    </Block>
  );
}

function Stops({ view, base }: { view: RequirementsView; base: string }) {
  return (
    <Block title="Stops the review" hand="bad" note={`${view.faults.length}`} id="stops">
      <ul className="stop-list">
        {view.faults.map(({ type, line, message }) => (
          <li key={`${type} ${line} ${message}`}>
            <FlagTriangle n="!" hand="bad" />
            <a href={line ? `${base}/${line}` : `${base}/design?type=${type ?? ""}`}>{line && <b>{line}</b>} {message}{type && <small>type {type}</small>}</a>
          </li>
        ))}
      </ul>
    </Block>
  );
}

/** A name inside a sentence; the letters of types and marks stay. */
function lowerFirst(name: string): string {
  return /^[A-Z][a-z ]/.test(name) ? name.charAt(0).toLowerCase() + name.slice(1) : name;
}

/** More than these are read on the sheet of the difference. */
const MOST_CHANGES = 7;

function Changes({ view, base }: { view: RequirementsView; base: string }) {
  const { difference, base: before, state } = view;
  if (!difference || !before || !state) return null;
  const parts = difference.changes.flatMap(({ lines, types }) => {
    const [lead] = lines;
    const followers = lines.filter((one) => one.type === lead?.type && one !== lead);
    return [lead, ...followers].flatMap((line, index) => (line ? line.parts.slice(0, 2).map((part) => ({ line, part, types, follows: index > 0 ? (lead?.line ?? null) : null })) : []));
  });
  const inWords = (types: readonly (string | null)[]): string => (types.includes(null) ? "project sheet" : types.length === view.revision?.sets.length && types.length > 1 ? "all types" : types.join(", "));
  return (
    <Block title={`Changed since ${before.letter}`}>
      {parts.length === 0 && difference.facts.length === 0 && <p className="pad letter">Nothing yet. It asks for the same as {before.letter}.</p>}
      <ul className="change-list">
        {parts.slice(0, MOST_CHANGES).map(({ line, part, types, follows }) => (
          <li key={`${line.type} ${line.line} ${part.part} ${part.id} ${part.name}`}>
            <FlagTriangle n={state.letter} hand="held" />
            <a href={`${base}/${line.line}`}>
              <b>{line.line}</b> {lowerFirst(part.name)}, {inWords(types)} <b className="required">{part.now ?? "taken out"}</b> {part.was && <span className="replaced">{part.was}</span>}
              {follows && <small>follows from {follows}</small>}
            </a>
          </li>
        ))}
        {difference.facts.slice(0, 3).map(({ type, name, was, now }) => (
          <li key={`${type} ${name}`}><FlagTriangle n={state.letter} hand="held" /><a href={`${base}/design?type=${type}`}>{name}, {type} <b className="required">{now}</b> <span className="replaced">{was}</span></a></li>
        ))}
      </ul>
      {parts.length > MOST_CHANGES && <p className="pad letter"><a href={`${base}/difference`}>{parts.length - MOST_CHANGES} more on the sheet of the difference</a></p>}
    </Block>
  );
}

/** What this person can do now, and why not otherwise. */
function Next({ context, view, base }: AsideProps & { base: string }) {
  const { project } = context;
  const { state, may, faults, hasDraft, latest, difference } = view;
  const at = { project: project.code, digest: view.digest };
  if (state && (state.state === "draft" || state.state === "reviewed")) {
    const same = difference !== null && difference.changes.length === 0 && difference.facts.length === 0 && difference.addedTypes.length === 0 && difference.removedTypes.length === 0;
    return (
      <>
        {may.review && state.state === "draft" && (
          <Block title="Review" hand="held">
            <div className="pad stack">
              {faults.length > 0 && <p className="why">{faults.length === 1 ? "1 thing stops the review" : `${faults.length} things stop the review`}: it can only be sent back.</p>}
              <ReviewForm action={review.bind(null, at)} id={randomUUID()} />
            </div>
          </Block>
        )}
        <Block title="Approve">
          <div className="pad stack">
            <a className={state.state === "reviewed" ? "button button-go" : "button"} href={`${base}/difference`}>See the difference</a>
            {state.state === "reviewed" && may.approve && <p className="why">Say there from when each change applies, then approve with your signature.</p>}
            {state.state === "reviewed" && !may.approve && <p className="why">The engineer says from when each change applies, and approves.</p>}
            {state.state === "draft" && <ButtonNotAvailable reason={same ? "Nothing has changed yet." : faults.length > 0 ? "What stops the review stops the approval too." : "The QC manager reviews it first."}>Approve revision {state.letter}</ButtonNotAvailable>}
          </div>
        </Block>
        {view.editable && <DiscardForm action={discard.bind(null, at)} letter={state.letter} />}
      </>
    );
  }
  if (!may.draft || hasDraft) return null;
  const next = nextLetter(latest?.letter ?? null);
  if (next === null) return null;
  return (
    <Block title={`Revision ${next}`} note="not begun">
      <div className="pad stack">
        {latest && <><p className="small">Begins as {latest.letter} stands. What is signed under {latest.letter} stays as it was signed.</p><StartForm action={start.bind(null, project.code)} from={latest.letter} letter={next} /></>}
        <StartBareForm action={startBare.bind(null, project.code)} letter={next} />
      </div>
    </Block>
  );
}
