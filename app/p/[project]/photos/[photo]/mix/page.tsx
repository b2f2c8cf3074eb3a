import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { found, openPage } from "#lib/edge/page";
import { readArea } from "#lib/edge/schema/photo";
import { streakView, type StreakView } from "#lib/services/streak-view";
import { Block } from "../../../../../_ui/block";
import { StreakVerdictMark } from "../../../../../_ui/mark";
import { renditionHref } from "../../../../../_ui/picture";
import { SheetHead } from "../../../../../_ui/sheet";
import { StreakPicture } from "../../../../../_ui/streak-picture";
import { ProjectFrame } from "../../../project-frame";
import { keep } from "./actions";
import { AreaForm, type Area } from "./area-form";
import "./mix.css";

interface Props {
  params: Promise<{ project: string; photo: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export const metadata: Metadata = { title: "Mix, checked for streaks" };

/** A photo of a mix: a person marks where it is, and sees what is measured there. An aid, labelled so. */
export default async function MixPage({ params, searchParams }: Props) {
  const context = await openPage(params);
  const { project, member } = context;
  const { photo } = await params;
  const asked = readArea(await searchParams);
  const view = await found(() => streakView(context, photo, asked.area));
  const { finding, area } = view;
  const [last] = view.earlier;
  const recorded = last !== undefined && last.verdict === finding.verdict && (["x", "y", "r"] as const).every((part) => last.area[part] === area[part]) ? last.who : null;
  const picture = view.photo.shown ? renditionHref(project.code, view.photo.sha256, 1600) : null;
  const photoHref = `/p/${project.code}/photos/${photo}`;
  const size = { width: view.photo.width, height: view.photo.height };
  return (
    <ProjectFrame context={context} sheet="Mix" {...(view.mark === null ? {} : { pile: view.mark })} current="Bents" back={{ href: photoHref, label: "Photo" }}>
      <SheetHead title={view.mark ?? "Mix"} lead={`${view.line} Resin batch: is the mix of one colour?`} note="An aid: the person who looks decides." />
      <AreaForm
        key={JSON.stringify(area)} area={area} error={asked.error} picture={picture} size={size}
        keep={can(member, "check streaks", project.id) ? { action: keep.bind(null, project.code, photo), id: randomUUID(), words: finding.verdict } : null} recorded={recorded}
      >
        <Finding view={view} />
        <div className="mix-pair">
          {picture && <MixCrop picture={picture} size={size} area={area} />}
          <StreakPicture cells={finding.cells} verdict={finding.verdict} />
        </div>
      </AreaForm>
      <Block title="Recorded checks" note={<a href={photoHref}>{view.earlier.length > 0 ? "the last one stands beside the photo" : "the photo and its verdicts"}</a>}>
        <div className="pad">
          {view.earlier.length === 0 ? <p className="letter">None yet. What is measured counts as a check once it is recorded.</p> : (
            <ul className="mix-earlier">
              {view.earlier.map((one) => (
                <li key={one.id}>
                  <StreakVerdictMark verdict={one.verdict} />
                  <span className="letter">{one.words}. {one.who}. <a href={`?x=${one.area.x}&y=${one.area.y}&r=${one.area.r}`}>Show this circle</a></span>
                </li>
              ))}
            </ul>
          )}
        </div>
      </Block>
    </ProjectFrame>
  );
}

/** What was measured, against which limits. Where nothing differs there is no contrast to tell. */
function Finding({ view: { finding, limits, assumed } }: { view: StreakView }) {
  const { verdict, reason, sharePct, contrastDeltaE } = finding;
  const measured = verdict !== "cannot tell" || sharePct > 0;
  return (
    <section className="mix-finding" aria-label="Finding">
      <h2><StreakVerdictMark verdict={verdict} /></h2>
      {reason && <p className="mix-reason">{reason[0]?.toUpperCase()}{reason.slice(1)}.</p>}
      {measured && (
        <dl className="mix-figures">
          <div><dt>Differs</dt><dd><b>{`${sharePct}\u00a0%`}</b> of the judged mix; limit {`${limits.sharePct}\u00a0%`}</dd></div>
          <div><dt>By</dt><dd>{contrastDeltaE > 0 ? <><b>ΔE {contrastDeltaE}</b> in the median</> : "nothing past the limit"}; counts from ΔE {limits.deltaE}</dd></div>
        </dl>
      )}
      {assumed && <p className="required">Nobody has marked the mix yet: this is the middle of the picture. Mark the mix alone, without stirrer and wall.</p>}
    </section>
  );
}

/** The circle as the photo shows it, at the size of the cells beside it. */
function MixCrop({ picture, size: { width, height }, area }: { picture: string; size: { width: number; height: number }; area: Area }) {
  const [x, y, r] = [area.x * width, area.y * height, area.r * Math.min(width, height)];
  const edge = r * 0.025;
  return (
    <figure className="streak-picture">
      <svg viewBox={`${x - r - edge} ${y - r - edge} ${2 * (r + edge)} ${2 * (r + edge)}`} role="img" aria-label="The circle as the photo shows it">
        <clipPath id="mix-circle"><circle cx={x} cy={y} r={r} /></clipPath>
        <image href={picture} width={width} height={height} clipPath="url(#mix-circle)" />
      </svg>
      <figcaption className="letter">The circle as the photo shows it.</figcaption>
    </figure>
  );
}
