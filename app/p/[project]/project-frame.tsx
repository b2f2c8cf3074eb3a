import type { ReactNode } from "react";
import { can } from "#lib/domain/access/can";
import { formatWhen, siteTime } from "#lib/domain/clock/site-time";
import { listProjectsOf, type ApprovedRevision } from "#lib/db/project";
import type { PageContext } from "#lib/edge/page";
import { keptTheme, THEMES } from "#lib/edge/theme";
import { tideNow } from "#lib/services/tide-view";
import { chooseTheme, leave } from "../../sign-in/actions";
import { Sheet, type SheetLink } from "../../_ui/sheet";
import "./project-frame.css";

export type SheetName = "Bents" | "Inspector's round" | "Clocks" | "Requirements" | "Materials and instruments" | "Closeout" | "Project";

interface ProjectFrameProps {
  context: PageContext;
  /** The name of this sheet, in the title block. */
  sheet: string;
  /** The mark of the pile, on the sheets of one pile. */
  pile?: string;
  revision?: Pick<ApprovedRevision, "letter" | "appliesFrom">;
  back?: { href: string; label: string };
  actions?: ReactNode;
  /** Which entry of the index this sheet belongs to. */
  current: SheetName;
  children: ReactNode;
}

/** A sheet of one project: its index, its title block, who is signed in and the project's own time. */
export function ProjectFrame({ context, sheet, pile, revision, back, actions, current, children }: ProjectFrameProps) {
  const { project, member, at, head } = context;
  return (
    <Sheet
      index={indexOf(context, current)}
      when={formatWhen(at, project.zone)}
      tide={<Tide context={context} />}
      demo={project.clockFrom !== null}
      titleBlock={{
        project: project.name,
        sheet,
        pile,
        revision: revision && `${revision.letter}, from ${dayOf(revision.appliesFrom, project.zone)}`,
        logHead: head ? { seq: head.seq, digest: head.digest } : undefined,
        person: member.name,
        organisation: `${member.organisation}, ${member.roles.join(", ")}`,
      }}
      back={back}
      actions={actions}
      signOut={<OwnForms context={context} />}
    >
      {children}
    </Sheet>
  );
}

function indexOf({ project, member }: PageContext, current: SheetName): SheetLink[] {
  const base = `/p/${project.code}`;
  const entries: { label: SheetName; href: string; open?: boolean }[] = [
    { label: "Bents", href: base },
    { label: "Inspector's round", href: `${base}/round` },
    { label: "Clocks", href: `${base}/clocks` },
    { label: "Requirements", href: `${base}/requirements` },
    { label: "Materials and instruments", href: `${base}/materials` },
    { label: "Closeout", href: `${base}/closeout`, open: can(member, "see closeout", project.id) },
    { label: "Project", href: `${base}/sheet` },
  ];
  return entries.filter(({ open = true }) => open).map(({ label, href }) => ({ label, href, current: label === current }));
}

/** Until when the water allows work, or from when, where a tide table is kept. */
async function Tide({ context: { house, project, at } }: { context: PageContext }) {
  const words = await tideNow(house.db.read, project, at);
  return words && <a className="tide" href={`/p/${project.code}/clocks/tides`}>Tide: {words}</a>;
}

/** What belongs to the person and the device: other projects, day or night, and signing out. */
async function OwnForms({ context: { house, personId } }: { context: PageContext }) {
  const [theme, projects] = await Promise.all([keptTheme(), listProjectsOf(house.db.read, personId)]);
  return (
    <div className="own-forms">
      {projects.length > 1 && <a className="button button-quiet" href="/p">Projects</a>}
      {/* Without a choice the device decides, so that the style sheet knows which of the two to offer. */}
      {THEMES.filter((one) => one !== theme).map((one) => (
        <form key={one} action={chooseTheme} className={`to-${one}`}>
          <input type="hidden" name="theme" value={one} />
          <button className="button button-quiet">{one === "day" ? "Day sheet" : "Night sheet"}</button>
        </form>
      ))}
      <form action={leave}>
        <button className="button button-quiet">Sign out</button>
      </form>
    </div>
  );
}

function dayOf(instant: number, zone: string): string {
  return siteTime(instant, zone).date;
}
