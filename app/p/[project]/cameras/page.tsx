import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { openPage } from "#lib/edge/page";
import { camerasView } from "#lib/services/camera-view";
import { Block } from "../../../_ui/block";
import { Empty } from "../../../_ui/empty";
import { SheetHead } from "../../../_ui/sheet";
import { clockSheets } from "../clocks/clock-sheets";
import { ProjectFrame } from "../project-frame";
import { CameraList } from "./camera-list";
import { ClockPhotoForm } from "./clock-photo-form";
import { OpenCameraSheet } from "./open-camera";
import "./cameras.css";

interface Props {
  params: Promise<{ project: string }>;
  searchParams: Promise<{ camera?: string | string[] }>;
}

export const metadata: Metadata = { title: "Cameras" };

/** How the clock of each camera ran, and the one confirmation that corrects all its photos. */
export default async function CamerasPage({ params, searchParams }: Props) {
  const context = await openPage(params);
  const { house, project, member, at } = context;
  const { camera } = await searchParams;
  const view = await camerasView(house.db.read, project, typeof camera === "string" ? camera : null, at);
  return (
    <ProjectFrame context={context} sheet="Cameras" current="Clocks" back={{ href: `/p/${project.code}/clocks`, label: "Clocks" }}>
      <SheetHead title="Cameras" lead={view.lead} note="What a camera wrote stays beside what it was." subIndex={clockSheets(project.code, "Cameras")} />
      <div className="cameras">
        <div className="stack cameras-side">
          {view.cameras.length > 0
            ? <CameraList project={project.code} cameras={view.cameras} open={view.open?.key ?? null} nameless={view.nameless} />
            : <Empty thing="photo" title="No camera yet.">Each camera stands here from its first photo on.</Empty>}
          <Block title="Clock page">
            <div className="pad stack">
              <p className="small">A screen with the true time and its code. Photograph it with the camera and hand the photo in: one is enough to measure its clock.</p>
              <a className="button" href={`/p/${project.code}/cameras/clock`}>Open the clock page</a>
              {can(member, "send photo", project.id)
                ? <ClockPhotoForm project={project.code} />
                : <p className="letter">The crew and the QC manager hand its photos in.</p>}
              <p className="letter">A camera that writes no serial number, as most phones, is known by who sends with it: that person hands it in.</p>
            </div>
          </Block>
        </div>
        {view.open && <OpenCameraSheet key={view.open.key} camera={view.open} project={project} mayConfirm={can(member, "confirm camera", project.id)} />}
      </div>
    </ProjectFrame>
  );
}
