import { barTape, holeClean, holeDepth, resinReturn } from "#seed/photo/draw/bar-view";
import { loggerScreen, lossMap, lotLabel, mix, report, scaleReading, specimens } from "#seed/photo/draw/bench-view";
import { bottomSeal, coatedStrip, defect, jacketCut, overlap, seam, seamFull, ties, topEdge, wrapEdge } from "#seed/photo/draw/jacket-view";
import { coverUpOverview, faceClean, finalFace, pileFace, pileTag, spacerRingView, strippedFace, surfaceOverview, workArea } from "#seed/photo/draw/pile-view";
import { annulusTop, bottomNoLeak, groutTop, liftAfter, liftBefore, liftTop, sealTest } from "#seed/photo/draw/ring-view";
import { clamp, gaugeOnMetal, paintMarks, surfaceCloseup, torqueWrench } from "#seed/photo/draw/steel-view";
import type { Painter } from "#seed/photo/shot";

export const PAINTERS = {
  "work-area": workArea,
  "pile-tag": pileTag,
  "pile-face": pileFace,
  "face-clean": faceClean,
  "surface-closeup": surfaceCloseup,
  "surface-overview": surfaceOverview,
  "gauge-on-metal": gaugeOnMetal,
  "loss-map": lossMap,
  "hole-depth": holeDepth,
  "hole-clean": holeClean,
  "bar-tape": barTape,
  "resin-return": resinReturn,
  "lot-label": lotLabel,
  clamp,
  "torque-wrench": torqueWrench,
  "paint-marks": paintMarks,
  "spacer-ring": spacerRingView,
  "cover-up-overview": coverUpOverview,
  "jacket-cut": jacketCut,
  "scale-reading": scaleReading,
  mix,
  "coated-strip": coatedStrip,
  "wrap-edge": wrapEdge,
  overlap,
  "annulus-top": annulusTop,
  ties,
  seam,
  "seam-full": seamFull,
  "logger-screen": loggerScreen,
  "bottom-seal": bottomSeal,
  "seal-test": sealTest,
  "lift-top": liftTop,
  "bottom-no-leak": bottomNoLeak,
  "lift-before": liftBefore,
  "lift-after": liftAfter,
  "grout-top": groutTop,
  specimens,
  "stripped-face": strippedFace,
  defect,
  "top-edge": topEdge,
  "final-face": finalFace,
  report,
} as const satisfies Record<string, Painter>;

export type Scene = keyof typeof PAINTERS;
/** Everything a photo can show, in the order of the work. */
export const SCENES = Object.keys(PAINTERS) as readonly Scene[];
