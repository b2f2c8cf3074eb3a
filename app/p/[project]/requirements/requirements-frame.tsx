import type { ReactNode } from "react";
import { formatWhen } from "#lib/domain/clock/site-time";
import type { PageContext } from "#lib/edge/page";
import type { RequirementsView } from "#lib/services/requirements-view";
import { SheetHead } from "../../../_ui/sheet";
import { ProjectFrame } from "../project-frame";
import { requirementSheets } from "./requirement-sheets";
import "../materials/register.css";
import "./requirements.css";
import "./requirement-form.css";

interface RequirementsFrameProps {
  context: PageContext;
  view: RequirementsView;
  current: "Points" | "Design and data sheets" | "File";
  /** The point that is open. */
  line?: string;
  children: ReactNode;
}

/** A sheet of the requirements: which revision it shows, how far that has come, and that numbers count only once approved. */
export function RequirementsFrame({ context, view, current, line, children }: RequirementsFrameProps) {
  const { project } = context;
  const base = `/p/${project.code}/requirements`;
  return (
    <ProjectFrame
      context={context} sheet={line ? `Requirements, ${line}` : current === "Points" ? "Requirements" : `Requirements, ${current.toLowerCase()}`} current="Requirements"
      revision={view.inForce ?? undefined} back={line || current !== "Points" ? { href: base, label: "Requirements" } : undefined}
    >
      <SheetHead title="Requirements" lead={view.state?.words ?? "No revision is approved yet"} note={noteOf(view, project.zone)} subIndex={requirementSheets(project.code, current)} />
      {children}
    </ProjectFrame>
  );
}

function noteOf({ inForce, state }: RequirementsView, zone: string): string {
  const counts = "A number counts only in a revision that an engineer approved.";
  if (!inForce) return counts;
  if (state?.letter === inForce.letter) return `Since ${formatWhen(inForce.appliesFrom, zone)}. ${counts}`;
  return `${inForce.letter} is in force since ${formatWhen(inForce.appliesFrom, zone)}. ${counts}`;
}
