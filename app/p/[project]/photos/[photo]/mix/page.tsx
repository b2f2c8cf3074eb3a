import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { found, openPage } from "#lib/edge/page";
import { readArea } from "#lib/edge/schema/photo";
import { streakView } from "#lib/services/streak-view";
import { Block } from "../../../../../_ui/block";
import { StreakVerdictMark } from "../../../../../_ui/mark";
import { renditionHref } from "../../../../../_ui/picture";
import { SheetHead } from "../../../../../_ui/sheet";
import { StreakPicture } from "../../../../../_ui/streak-picture";
import { ProjectFrame } from "../../../project-frame";
import { keep } from "./actions";
import { AreaForm } from "./area-form";
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
  const { finding, limits, area } = view;
  return (
    <ProjectFrame context={context} sheet="Mix" {...(view.mark === null ? {} : { pile: view.mark })} current="Bents" back={{ href: `/p/${project.code}/photos/${photo}`, label: "Photo" }}>
      <SheetHead title={view.mark ?? "Mix"} lead={`${view.line} Resin batch: is the mix uniform?`} note="An aid: it compares colours. The person who looks decides." />
      <div className="mix-columns">
        <AreaForm
          key={JSON.stringify(area)} area={area} error={asked.error} picture={view.photo.shown ? renditionHref(project.code, view.photo.sha256, 1600) : null}
          size={{ width: view.photo.width, height: view.photo.height }}
          keep={can(member, "check streaks", project.id) ? { action: keep.bind(null, project.code, photo), id: randomUUID() } : null}
        />
        <div className="stack">
          <section className="mix-finding" aria-label="Finding">
            <h2><StreakVerdictMark verdict={finding.verdict} /></h2>
            {finding.reason && <p>{finding.reason}</p>}
            <p><b>{finding.sharePct} %</b> of the judged mix differs; limit {limits.sharePct} %. {finding.contrastDeltaE > 0 && <>By <b>ΔE {finding.contrastDeltaE}</b> in the median; a part counts from ΔE {limits.deltaE}.</>}</p>
            {view.assumed && <p className="required">Nobody has marked the mix yet: the middle of the picture was taken. Mark the mix alone, without stirrer or wall.</p>}
          </section>
          <StreakPicture cells={finding.cells} verdict={finding.verdict} />
          {view.earlier.length > 0 && (
            <Block title="Checked before" note="the last one is shown with the photo">
              <ul className="mix-earlier">{view.earlier.map((one) => <li key={one.id}><a href={`?x=${one.area.x}&y=${one.area.y}&r=${one.area.r}`}>{one.words}</a><span className="letter">{one.who}</span></li>)}</ul>
            </Block>
          )}
        </div>
      </div>
    </ProjectFrame>
  );
}
