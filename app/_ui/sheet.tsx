import type { ReactNode } from "react";
import { Sprite } from "./sprite";

export interface SheetLink {
  href: string;
  label: string;
  current: boolean;
}

export interface TitleBlock {
  project: string;
  /** The name of the sheet, as the first heading says it where there is no pile. */
  sheet: string;
  pile?: string;
  /** Requirement set and revision: "B, 5 Oct 2026". The letter alone stands at the top of a phone. */
  revision?: string;
  logHead?: { seq: number; digest: string };
  person: string;
  organisation: string;
}

export interface SheetProps {
  index: SheetLink[];
  /** The time the sheet was drawn, with its offset, in words. */
  when: string;
  /** What the water allows now, beside the time. */
  tide?: ReactNode;
  demo?: boolean;
  titleBlock: TitleBlock;
  back?: { href: string; label: string };
  children: ReactNode;
  /** What the thumb presses: the bottom bar of a phone, the last line of the sheet on a desk. Buttons in it name their form. */
  actions?: ReactNode;
  /** The form that signs out, and whatever else belongs to the person. */
  signOut?: ReactNode;
}

/**
 * A sheet: frame, index along the top edge, title block along the bottom edge. On a phone the same parts stand in another
 * order: title block on top, then the work, then index and the rest of the title block, with the actions under the thumb.
 */
export function Sheet({ index, when, tide, demo = false, titleBlock, back, children, actions, signOut }: SheetProps) {
  return (
    <>
      <Sprite />
      <a className="skip" href="#main">Skip to the sheet</a>
      <div className="sheet">
        <PhoneTitle titleBlock={titleBlock} back={back} home={index[0]?.href ?? "/"} />
        <nav className="index" aria-label="Sheets">
          <a className="brand" href={index[0]?.href ?? "/"}>
            <svg width="26" height="26" aria-hidden="true"><use href="#brand" /></svg>
            Lastlook
          </a>
          <ul>
            {index.map((entry) => (
              <li key={entry.href}>
                <a href={entry.href} aria-current={entry.current ? "page" : undefined}>{entry.label}</a>
              </li>
            ))}
          </ul>
          <p className="when num">
            {demo && <span className="demo">Demonstration clock</span>}
            {tide}
            <span>{when}</span>
          </p>
        </nav>
        <main className="main" id="main" tabIndex={-1}>{children}</main>
        {actions && <section className="actions" aria-label="Actions">{actions}</section>}
        <footer className="foot">
          <TitleBlockFacts titleBlock={titleBlock} signOut={signOut} />
        </footer>
      </div>
    </>
  );
}

function PhoneTitle({ titleBlock, back, home }: { titleBlock: TitleBlock; back: SheetProps["back"]; home: string }) {
  const revision = titleBlock.revision?.split(",")[0];
  return (
    <header className="phone-title">
      <a className="back" href={back?.href ?? home} aria-label={back ? `Back to ${back.label}` : "Lastlook"}>
        <svg width="28" height="28" aria-hidden="true"><use href={back ? "#i-back" : "#brand"} /></svg>
      </a>
      <div className="what">
        <p className="phone-mark">{titleBlock.pile ?? titleBlock.sheet}</p>
        <p className="letter">{titleBlock.pile ? titleBlock.sheet : titleBlock.project}</p>
      </div>
      {revision && <p className="rev">Revision<b>{revision}</b></p>}
    </header>
  );
}

function TitleBlockFacts({ titleBlock, signOut }: { titleBlock: TitleBlock; signOut: ReactNode }) {
  const { project, sheet, pile, revision, logHead, person, organisation } = titleBlock;
  return (
    <dl className="titleblock">
      <div><dt>Project</dt><dd>{project}</dd></div>
      <div><dt>Sheet</dt><dd>{sheet}</dd></div>
      {pile && <div><dt>Pile</dt><dd className="mark">{pile}</dd></div>}
      {revision && <div><dt>Requirement set, revision</dt><dd>{revision}</dd></div>}
      {logHead && (
        <div>
          <dt>Log head</dt>
          <dd className="num">
            entry {grouped(logHead.seq)} · <span className="code short">{grouped(logHead.digest.slice(0, 12), 4)}</span>
            <span className="code full">{logHead.digest}</span>
          </dd>
        </div>
      )}
      <div className="person">
        <dt>Signed in</dt>
        <dd>{person}<span className="letter">{organisation}</span></dd>
        {signOut && <dd className="sign-out">{signOut}</dd>}
      </div>
    </dl>
  );
}

/** 4118 as "4 118", 9c1e4f0a77b2 in fours: read aloud and compared by eye. The space does not break. */
function grouped(value: number | string, size = 3): string {
  const text = String(value);
  if (typeof value === "string") return text.replace(new RegExp(`(.{${size}})(?=.)`, "g"), "$1\u00a0");
  return text.replace(/\B(?=(\d{3})+(?!\d))/g, "\u00a0");
}

export interface SheetHeadProps {
  title: ReactNode;
  /** The pile mark: the largest word on the sheet. */
  mark?: string;
  /** The finding as a sentence with its number, or the state. */
  lead?: ReactNode;
  note?: ReactNode;
  subIndex?: SheetLink[];
}

/**
 * Name, then the finding, then one quiet note; the sheets of one part stand at the right as a framed row. On a phone the
 * title block on top already says the mark (or the sheet's name where there is no mark), so it is not drawn twice there.
 */
export function SheetHead({ title, mark, lead, note, subIndex }: SheetHeadProps) {
  return (
    <div className={mark ? "head" : "head head-plain"}>
      <h1>
        {mark && <span className="mark">{mark} </span>}
        <span className="head-title">{title}</span>
      </h1>
      {lead && <div className="lead">{lead}</div>}
      {note && <p className="letter note">{note}</p>}
      {subIndex && (
        <nav className="subindex" aria-label="Sheets of this part">
          <ul>
            {subIndex.map((entry) => (
              <li key={entry.href}><a href={entry.href} aria-current={entry.current ? "page" : undefined}>{entry.label}</a></li>
            ))}
          </ul>
        </nav>
      )}
    </div>
  );
}
