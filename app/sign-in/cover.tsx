import type { ReactNode } from "react";
import { Sprite } from "../_ui/sprite";
import "./cover.css";

/** What every reader is to know before the first number. */
const NOTES = [
  "Not a substitute for the engineer’s judgement, the contract, or a person looking.",
  "A clock is an earliest time, not a permission.",
  "Photo verdicts are aids. “Too late” accuses nobody, “in order” proves nothing.",
  "Numbers come from the requirement set that an engineer approved.",
];

interface CoverProps {
  /** First heading of the page, beside the name. */
  title: string;
  /** At the left of a desk; a phone does without. */
  drawing?: ReactNode;
  notes?: boolean;
  children: ReactNode;
}

/** A sheet outside any project: signing in, joining, choosing a project, and what there is to say when a page is not there. */
export function Cover({ title, drawing, notes = false, children }: CoverProps) {
  return (
    <>
      <Sprite />
      <a className="skip" href="#main">Skip to the sheet</a>
      <div className={drawing ? "sheet cover cover-drawn" : "sheet cover"}>
        {drawing && <div className="cover-drawing">{drawing}</div>}
        <main className="cover-main" id="main" tabIndex={-1}>
          <header className="cover-brand">
            <svg width="46" height="46" aria-hidden="true"><use href="#brand" /></svg>
            <div>
              <p className="cover-name">Lastlook</p>
              <p className="letter">Inspection and sign-off record for pile encasement</p>
            </div>
          </header>
          <h1 className="cover-title">{title}</h1>
          {children}
        </main>
        {notes && (
          <section className="cover-notes" aria-labelledby="notes">
            <h2 id="notes">Notes</h2>
            <ol>{NOTES.map((note) => <li key={note}>{note}</li>)}</ol>
          </section>
        )}
      </div>
    </>
  );
}
