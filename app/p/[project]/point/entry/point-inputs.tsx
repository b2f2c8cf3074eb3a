import type { PointId } from "./actions";

/**
 * Which point a form is about, as fields of the form. An action bound to it in the browser's own components would be another
 * action with each drawing, and a page sent without scripts would never end being drawn.
 */
export function PointInputs({ point }: { point: PointId }) {
  return (
    <>
      <input type="hidden" name="project" value={point.project} />
      <input type="hidden" name="sheet" value={point.sheet} />
      <input type="hidden" name="line" value={point.line} />
    </>
  );
}
