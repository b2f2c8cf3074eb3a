/**
 * Hatches, marks and drawing signs. Stands inline once in every page: a pattern or a symbol in an outside file could not
 * take its colours from the theme.
 */
export function Sprite() {
  return (
    <svg className="sprite" aria-hidden="true" focusable="false">
      <defs>
        <Hatches />
        <StateSymbols />
        <VerdictSymbols />
        <SheetSymbols />
        <DrawingSigns />
      </defs>
    </svg>
  );
}

function Hatches() {
  return (
    <>
      <pattern id="h-submitted" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <path d="M0 0V5" stroke="var(--ink)" strokeWidth="3" />
      </pattern>
      <pattern id="h-checked" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <path d="M0 0V5M0 0H5" stroke="var(--ink)" strokeWidth="2.6" />
      </pattern>
      <pattern id="h-draft" width="5" height="5" patternUnits="userSpaceOnUse">
        <circle cx="1.5" cy="1.5" r=".9" fill="var(--ink)" />
        <circle cx="4" cy="4" r=".9" fill="var(--ink)" />
      </pattern>
      <pattern id="h-doubt" width="8" height="5" patternUnits="userSpaceOnUse">
        <path d="M0 2.5q2-2.6 4 0t4 0" fill="none" stroke="var(--doubt)" strokeWidth="1.4" />
      </pattern>
      <pattern id="h-held" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <path d="M0 0V6" stroke="var(--held)" strokeWidth="1.6" />
      </pattern>
      <pattern id="h-waiting" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <path d="M0 0V5" stroke="var(--ink)" strokeWidth="2.4" />
      </pattern>
      <pattern id="h-hidden" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">
        <path d="M0 0V9" stroke="var(--rule)" strokeWidth="1" />
      </pattern>
      <pattern id="h-grout" width="14" height="14" patternUnits="userSpaceOnUse">
        <circle cx="3" cy="4" r="1" fill="var(--ink)" />
        <circle cx="10" cy="11" r=".8" fill="var(--ink)" />
        <circle cx="8" cy="2" r=".6" fill="var(--ink)" />
        <path d="M3 10l2.4 0-1.2 2z M10 5l2 .4-1.4 1.5z" fill="none" stroke="var(--ink)" strokeWidth=".7" />
      </pattern>
    </>
  );
}

function StateSymbols() {
  return (
    <>
      <symbol id="st-not-open" viewBox="0 0 20 20"><rect x="2" y="2" width="16" height="16" fill="none" stroke="currentColor" strokeWidth="1.6" strokeDasharray="3 2.3" /></symbol>
      <symbol id="st-open" viewBox="0 0 20 20"><rect x="2.2" y="2.2" width="15.6" height="15.6" fill="none" stroke="currentColor" strokeWidth="2.4" /></symbol>
      <symbol id="st-draft" viewBox="0 0 20 20"><rect x="2" y="2" width="16" height="16" fill="url(#h-draft)" stroke="var(--ink)" strokeWidth="1.8" /></symbol>
      <symbol id="st-submitted" viewBox="0 0 20 20"><rect x="2" y="2" width="16" height="16" fill="url(#h-submitted)" stroke="var(--ink)" strokeWidth="1.8" /></symbol>
      <symbol id="st-qc-checked" viewBox="0 0 20 20"><rect x="2" y="2" width="16" height="16" fill="url(#h-checked)" stroke="var(--ink)" strokeWidth="1.8" /></symbol>
      <symbol id="st-released" viewBox="0 0 20 20"><rect x="1.5" y="1.5" width="17" height="17" fill="var(--released)" /></symbol>
      <symbol id="st-concession" viewBox="0 0 20 20"><path d="M1.5 1.5h17v17h-17z" fill="var(--released)" /><path d="M1.5 18.5L18.5 1.5" stroke="var(--sheet)" strokeWidth="4.4" /></symbol>
      <symbol id="st-conditional" viewBox="0 0 20 20"><rect x="1.5" y="1.5" width="17" height="17" fill="none" stroke="var(--ink)" strokeWidth="1.5" strokeDasharray="3 2.2" /><rect x="5" y="5" width="10" height="10" fill="var(--released)" /></symbol>
      <symbol id="st-rejected" viewBox="0 0 20 20"><path d="M2 2L18 18M18 2L2 18" stroke="var(--rejected)" strokeWidth="4" /></symbol>
      <symbol id="st-in-doubt" viewBox="0 0 20 20"><rect x="2" y="2" width="16" height="16" fill="none" stroke="var(--doubt)" strokeWidth="1.8" /><path d="M2 7q4-4 8 0t8 0M2 13q4-4 8 0t8 0" fill="none" stroke="var(--doubt)" strokeWidth="2" /></symbol>
      <symbol id="st-expired" viewBox="0 0 20 20"><circle cx="10" cy="10" r="8" fill="none" stroke="var(--doubt)" strokeWidth="2" /><path d="M10 4.5V10h5" fill="none" stroke="var(--doubt)" strokeWidth="2.4" /><path d="M2 18L18 2" stroke="var(--doubt)" strokeWidth="2" /></symbol>
      <symbol id="st-clock" viewBox="0 0 20 20"><circle cx="10" cy="10" r="8" fill="none" stroke="currentColor" strokeWidth="2.2" /><path d="M10 4.5V10h5" fill="none" stroke="currentColor" strokeWidth="2.4" /></symbol>
      <symbol id="st-lapsed" viewBox="0 0 20 20"><rect x="2" y="2" width="16" height="16" fill="none" stroke="var(--ink)" strokeWidth="1.8" /><path d="M2 2h8v16H2z" fill="var(--ink)" /></symbol>
      <symbol id="st-na" viewBox="0 0 20 20"><path d="M3 17L17 3" stroke="currentColor" strokeWidth="1.6" /></symbol>
      <symbol id="st-out-of-scope" viewBox="0 0 20 20"><rect x="3.5" y="3.5" width="13" height="13" fill="none" stroke="currentColor" strokeWidth="1.3" strokeDasharray="3 2.3" /><path d="M0 10h20" stroke="currentColor" strokeWidth="1.8" /></symbol>
      <symbol id="st-conflict" viewBox="0 0 20 20"><rect x="1.5" y="1.5" width="12" height="12" fill="none" stroke="var(--rejected)" strokeWidth="2" /><rect x="6.5" y="6.5" width="12" height="12" fill="var(--sheet)" stroke="var(--rejected)" strokeWidth="2" /></symbol>
    </>
  );
}

function VerdictSymbols() {
  return (
    <>
      <symbol id="v-meets" viewBox="0 0 20 20"><path d="M3 16h14M3 10h14" stroke="currentColor" strokeWidth="2.4" fill="none" /><path d="M6 6l4-4 4 4" fill="none" stroke="currentColor" strokeWidth="2.2" /></symbol>
      <symbol id="v-inside" viewBox="0 0 20 20"><path d="M3 12h14M10 4v15M7 4h6M7 19h6" stroke="currentColor" strokeWidth="2" fill="none" /></symbol>
      <symbol id="v-fails" viewBox="0 0 20 20"><path d="M3 5h14M3 13h14" stroke="currentColor" strokeWidth="2.4" fill="none" /><path d="M13 1L7 18" stroke="currentColor" strokeWidth="2.4" /></symbol>
      <symbol id="v-tell" viewBox="0 0 20 20"><circle cx="10" cy="10" r="7" fill="none" stroke="currentColor" strokeWidth="2.2" strokeDasharray="3.6 2.7" /></symbol>
      <symbol id="v-none" viewBox="0 0 20 20"><path d="M4 10h12" stroke="currentColor" strokeWidth="2.6" /></symbol>
      <symbol id="v-order" viewBox="0 0 20 20"><path d="M10 2v16M4 18h12" stroke="currentColor" strokeWidth="2.6" fill="none" /></symbol>
      <symbol id="v-early" viewBox="0 0 20 20"><path d="M16 3v14L4 10z" fill="none" stroke="currentColor" strokeWidth="2.2" /></symbol>
      <symbol id="v-late" viewBox="0 0 20 20"><path d="M4 3v14l12-7z" fill="currentColor" stroke="currentColor" strokeWidth="2.2" /></symbol>
      <symbol id="v-no-time" viewBox="0 0 20 20"><circle cx="10" cy="10" r="7.4" fill="none" stroke="currentColor" strokeWidth="2" /><path d="M6 10h8" stroke="currentColor" strokeWidth="2.4" /></symbol>
      <symbol id="v-clock-doubt" viewBox="0 0 20 20"><circle cx="10" cy="10" r="7.6" fill="none" stroke="currentColor" strokeWidth="2" /><path d="M4 10q3-4 6 0t6 0" fill="none" stroke="currentColor" strokeWidth="2" /></symbol>
      <symbol id="v-site" viewBox="0 0 20 20"><path d="M10 1v18M1 10h18" stroke="currentColor" strokeWidth="1.6" /><circle cx="10" cy="10" r="5" fill="none" stroke="currentColor" strokeWidth="2" /></symbol>
      <symbol id="v-elsewhere" viewBox="0 0 20 20"><path d="M7 3v14M0 10h14" stroke="currentColor" strokeWidth="1.6" /><circle cx="16" cy="4" r="3" fill="currentColor" /></symbol>
      <symbol id="v-no-place" viewBox="0 0 20 20"><path d="M10 1v5M10 14v5M1 10h5M14 10h5" stroke="currentColor" strokeWidth="1.8" /></symbol>
      <symbol id="v-file" viewBox="0 0 20 20"><path d="M4 2h8l4 4v12H4zM12 2v4h4" fill="none" stroke="currentColor" strokeWidth="2" /></symbol>
      <symbol id="v-edited" viewBox="0 0 20 20"><path d="M4 2h8l4 4v12H4z" fill="none" stroke="currentColor" strokeWidth="2" strokeDasharray="3.6 2.4" /><path d="M2 18L18 4" stroke="currentColor" strokeWidth="2.4" /></symbol>
      <symbol id="v-repeat" viewBox="0 0 20 20"><path d="M2 2h10v12H2z" fill="none" stroke="currentColor" strokeWidth="2" /><path d="M7 6h11v12H7z" fill="currentColor" stroke="currentColor" strokeWidth="2" /></symbol>
      <symbol id="v-look-alike" viewBox="0 0 20 20"><path d="M2 2h10v12H2z" fill="none" stroke="currentColor" strokeWidth="2" /><path d="M7 6h11v12H7z" fill="none" stroke="currentColor" strokeWidth="2" strokeDasharray="3 2.2" /></symbol>
      <symbol id="v-tag" viewBox="0 0 20 20"><path d="M2 5h16v12H2z" fill="none" stroke="currentColor" strokeWidth="2" /><path d="M10 5V1" stroke="currentColor" strokeWidth="1.6" /><path d="M6 9h5v5H6z" fill="currentColor" /></symbol>
      <symbol id="v-tag-other" viewBox="0 0 20 20"><path d="M2 5h16v12H2z" fill="none" stroke="currentColor" strokeWidth="2" /><path d="M10 5V1" stroke="currentColor" strokeWidth="1.6" /><path d="M4 17L16 5" stroke="currentColor" strokeWidth="2.4" /></symbol>
      <symbol id="v-tag-none" viewBox="0 0 20 20"><path d="M2 5h16v12H2z" fill="none" stroke="currentColor" strokeWidth="1.6" strokeDasharray="3 2.3" /><path d="M10 5V1" stroke="currentColor" strokeWidth="1.6" /></symbol>
      <symbol id="v-uniform" viewBox="0 0 20 20"><circle cx="10" cy="10" r="8" fill="none" stroke="currentColor" strokeWidth="2.2" /><path d="M5 10h10" stroke="currentColor" strokeWidth="2.2" /></symbol>
      <symbol id="v-streaks" viewBox="0 0 20 20"><circle cx="10" cy="10" r="8" fill="none" stroke="currentColor" strokeWidth="2.2" /><path d="M4 8q3-3.4 6 0t6 0M4 13q3-3.4 6 0t6 0" fill="none" stroke="currentColor" strokeWidth="1.9" /></symbol>
    </>
  );
}

function SheetSymbols() {
  return (
    <>
      <symbol id="brand" viewBox="0 0 26 26"><rect x="8" y="8" width="10" height="10" fill="currentColor" /><path d="M15.6 2.3A11 11 0 1 1 10.4 2.3" fill="none" stroke="currentColor" strokeWidth="2.6" /><path d="M10.4 6.6V.2M15.6 6.6V.2" stroke="currentColor" strokeWidth="1.6" /></symbol>
      <symbol id="i-back" viewBox="0 0 24 24"><path d="M15 4L7 12l8 8" fill="none" stroke="currentColor" strokeWidth="3" /></symbol>
      <symbol id="i-camera" viewBox="0 0 24 24"><path d="M2 7h5l2-3h6l2 3h5v13H2z" fill="none" stroke="currentColor" strokeWidth="2.4" /><circle cx="12" cy="13" r="4" fill="none" stroke="currentColor" strokeWidth="2.4" /></symbol>
    </>
  );
}

/** Signs that are placed by their origin with `use x y`: a fluid drawing can then put them at a percentage of its width. */
function DrawingSigns() {
  return (
    <>
      <path id="g-slash" d="M-4.5 4.5L4.5 -4.5" fill="none" stroke="currentColor" strokeWidth="1.5" />
      <path id="g-slash-bold" d="M-5 5L5 -5" fill="none" stroke="currentColor" strokeWidth="2.6" />
      <path id="g-scale-break" d="M-6 0l3 -5 5 10 3 -5" fill="var(--sheet)" stroke="currentColor" strokeWidth="1.25" />
      <path id="g-time-break" d="M0 -9l4 5 -8 8 4 5" fill="none" stroke="var(--rule-strong)" strokeWidth="1" />
      <path id="g-flag" d="M0 0V-15H9V-8H1.6V0z" fill="var(--released)" stroke="var(--released)" strokeWidth="1" />
      <path id="g-cross" d="M-5 -5L5 5M5 -5L-5 5" fill="none" stroke="var(--rejected)" strokeWidth="2.8" />
      <path id="g-reopened" d="M0 0V-15q2.5 -2.6 5 0t5 0V-8q-2.5 2.6 -5 0t-5 0" fill="var(--doubt-wash)" stroke="var(--doubt)" strokeWidth="1.6" />
      <path id="g-whisker-end" d="M0 -4V4" fill="none" stroke="currentColor" strokeWidth="1.5" />
      <g id="g-double-end"><path d="M0 -6V6M3.5 -6V6" fill="none" stroke="currentColor" strokeWidth="1.5" /></g>
      <path id="g-arrow-left" d="M6 -4L0 0L6 4" fill="none" stroke="currentColor" strokeWidth="1.5" />
      <path id="g-arrow-right" d="M-6 -4L0 0L-6 4" fill="none" stroke="currentColor" strokeWidth="1.5" />
    </>
  );
}
