import type { Metadata } from "next";
import { openPage } from "#lib/edge/page";
import { ClockFace } from "./clock-face";
import "./clock-page.css";

export const metadata: Metadata = { title: "Clock page" };

/** The true time as words and as a code, to be photographed with a camera whose clock is to be measured. */
export default async function ClockPage({ params }: { params: Promise<{ project: string }> }) {
  const { project } = await openPage(params);
  return (
    <main className="clock-page" id="main">
      <h1 className="hide">Clock page of {project.name}</h1>
      <ClockFace project={project.code} />
      <noscript><p className="clock-off"><b>This page needs scripts.</b> Without them it cannot tell the time to the second, and an old time would be worse than none.</p></noscript>
      <p className="clock-how">Photograph this screen with the camera, the whole code in the picture, then hand the photo in under Cameras.</p>
      <p className="clock-foot"><a className="button" href={`/p/${project.code}/cameras`}>Back to Cameras</a><span className="letter">{project.name}</span></p>
    </main>
  );
}
