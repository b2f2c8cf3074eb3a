import type { Metadata } from "next";
import { many } from "#lib/domain/many";
import type { CardReason } from "#lib/domain/photo/card";
import { openPage } from "#lib/edge/page";
import { cardDay, cardView, type CardGroupView, type CardShot, type CardView } from "#lib/services/card-view";
import { Block } from "../../../_ui/block";
import { Empty } from "../../../_ui/empty";
import { renditionHref } from "../../../_ui/picture";
import { SheetHead } from "../../../_ui/sheet";
import { ProjectFrame } from "../project-frame";
import { take } from "./actions";
import { CardForm } from "./card-form";
import { CardStrip } from "./card-strip";
import { CardUpload } from "./card-upload";
import "./card.css";

interface Props {
  params: Promise<{ project: string }>;
}

export const metadata: Metadata = { title: "Camera card" };

/** A card of photos: proposed to piles and points with the reasons, confirmed in one go, assigned by nobody but the person. */
export default async function CardPage({ params }: Props) {
  const context = await openPage(params, "send photo");
  const { project, house, at } = context;
  const view = await cardView(house.db.read, context, at);
  return (
    <ProjectFrame context={context} sheet="Camera card" current="Bents" back={{ href: `/p/${project.code}`, label: "Bents" }}>
      <SheetHead title="Camera card" lead={leadOf(view)} note={noteOf(view, project.zone)} />
      <CardUpload project={project.code} />
      {view.total === 0 ? (
        <Empty thing="photo" title="No photo of a card is here.">Choose the camera’s folder. Each photo is read for tags and time, and proposed to the point whose window it lies in.</Empty>
      ) : (
        <>
          <CardStrip view={view} zone={project.zone} />
          <CardForm action={take.bind(null, project.code)} proposed={view.proposed} open={view.open.map(({ sheet, line, mark, name, subjects }) => ({ value: `${sheet}|${line}`, label: `${mark ?? "Project"}, ${line} ${name}`, subjects: subjects.map((one) => ({ id: one.id, name: one.name })) }))} groups={view.groups.map(forForm)}>
            {view.groups.map((group) => <Group key={group.letter} group={group} project={project.code} />)}
          </CardForm>
          {view.clockPages.length > 0 && (
            <Block title="Photos of the clock page" note="they tell what a camera’s clock is worth">
              <p className="pad">{view.clockPages.map(({ name }) => name).join(", ")}: hand {view.clockPages.length === 1 ? "it" : "them"} in at <a href={`/p/${project.code}/cameras`}>Cameras</a>. Nothing is done with {view.clockPages.length === 1 ? "it" : "them"} here.</p>
            </Block>
          )}
        </>
      )}
    </ProjectFrame>
  );
}

function leadOf({ total, proposed, unsure, staying }: CardView): string {
  if (total === 0) return "Photos from a camera, put to their points in one go.";
  return [`${many(total, "photo")}: ${proposed} proposed`, unsure > 0 && `${many(unsure, "needs", "need")} you`, staying > 0 && `${many(staying, "stays", "stay")} out`].filter(Boolean).join(", ") + ".";
}

function noteOf(view: CardView, zone: string): string {
  const day = cardDay(view, zone);
  const cameras = [...new Set(view.groups.map(({ camera }) => camera))];
  return [day, cameras.length === 1 && cameras[0], "You assign; the reasons are shown beside each group."].filter(Boolean).join(". ");
}

function forForm({ letter, shots, proposal, candidates, certainty }: CardGroupView) {
  return {
    letter, certainty, photos: shots.map(({ id, name, subject }) => ({ id, name, subject })),
    proposal: proposal && { value: `${proposal.sheet}|${proposal.line}`, label: `${proposal.mark ?? "Project"}, ${proposal.line}` },
    // Where the pile is known, its points are told apart by their numbers.
    candidates: candidates.slice(0, 3).map(({ sheet, line, mark }) => ({ value: `${sheet}|${line}`, label: certainty === "pile sure, point not" ? line : `${mark ?? "Project"}, ${line}` })),
  };
}

const REASON_SYMBOL: Record<CardReason["mark"], string> = { tag: "v-tag", order: "v-order", place: "v-elsewhere", count: "v-meets", tell: "v-tell" };
const SHOWN = 3;

function Group({ group, project }: { group: CardGroupView; project: string }) {
  const { letter, shots, proposal, candidates, certainty, reasons } = group;
  const pile = proposal ?? (certainty === "pile sure, point not" ? candidates[0] : undefined);
  return (
    <>
      <span className="bubble" aria-hidden="true">{letter}</span>
      <div className="card-shots">
        {shots.slice(0, SHOWN).map((shot) => <Thumb key={shot.id} shot={shot} project={project} />)}
        {shots.length > SHOWN && <span>+ {shots.length - SHOWN}</span>}
      </div>
      <div className="card-where">
        {pile ? <p className="card-mark">{pile.mark ?? "Project"}</p> : <p className="card-mark doubtful">{certainty === "for no point" ? "no point" : "which pile?"}</p>}
        <p className="letter">{proposal ? `${proposal.line} ${proposal.name}` : `${shots.length} photo${shots.length === 1 ? "" : "s"}, ${shots[0]?.taken}`}</p>
      </div>
      <ul className="card-reasons">
        {reasons.map(({ mark, words }) => (
          <li key={words} className={mark === "tell" || mark === "place" ? "doubtful" : undefined}><svg width="18" height="18" aria-hidden="true"><use href={`#${REASON_SYMBOL[mark]}`} /></svg>{words}</li>
        ))}
      </ul>
      <p className={proposal ? "card-certainty" : "card-certainty doubtful"}>{certainty}</p>
    </>
  );
}

function Thumb({ shot, project }: { shot: CardShot; project: string }) {
  if (!shot.shown) return <span className="no-picture">{shot.name}</span>;
  return <img src={renditionHref(project, shot.sha256, 320)} alt={`${shot.name}, ${shot.taken}`} width="96" height="72" loading="lazy" />;
}
