import type { Instant } from "#lib/domain/instant";
import { formatWhen } from "#lib/domain/clock/site-time";
import type { DecisionPhoto } from "#lib/services/decision-photos";
import { PhotoWindowDetail } from "../../../../_ui/photo-window";

/** Rows of one detail: the ones not in order, then as many of the others as still read as a picture. */
const MOST_ROWS = 6;

/** The photos of the point against the window they have to lie in, one detail for each window. */
export function PhotoDetails({ photos, zone, now }: { photos: readonly DecisionPhoto[]; zone: string; now: Instant }) {
  const windows = new Map<string, DecisionPhoto[]>();
  for (const photo of photos) {
    if (photo.windowFrom === null) continue;
    const key = `${photo.windowFrom} ${photo.windowClosed ? photo.windowTo : "open"}`;
    windows.set(key, [...(windows.get(key) ?? []), photo]);
  }
  const when = (at: Instant): string => formatWhen(at, zone, { short: true, seconds: true });
  return [...windows].map(([key, own], position) => {
    const first = own[0]!;
    if (first.windowClosed && first.windowFrom !== null && first.windowTo <= first.windowFrom) {
      return (
        <p key={key} className="doubtful small">
          The work that hides this point began {formatWhen(first.windowTo, zone, { short: true })}, before the window of these photos opens, {formatWhen(first.windowFrom, zone, { short: true })}. No photo can be shown to lie in order.
        </p>
      );
    }
    const shown = [...own.filter(({ order }) => order !== "in order"), ...own.filter(({ order }) => order === "in order")].slice(0, MOST_ROWS);
    const left = own.length - shown.length;
    return (
      <PhotoWindowDetail
        key={key}
        letter={windows.size > 1 ? String.fromCharCode(65 + position) : "A"}
        title="Photos against their window"
        note={left > 0 ? `${left} more in order · whiskers 95 %` : "whiskers 95 %"}
        from={{ at: first.windowFrom ?? now, label: `${formatWhen(first.windowFrom ?? now, zone, { short: true })} window opens` }}
        to={first.windowClosed ? { at: first.windowTo, label: "covered" } : null}
        now={now}
        photos={shown.map(({ label, at, uncertaintyMs, order, numbers, cameraAt }) => ({
          label, at, uncertaintyMs, verdict: order, ...(numbers[0] === undefined ? {} : { flag: numbers[0] }), ...(cameraAt === null ? {} : { cameraAt }),
        }))}
        zone={zone}
        formatTime={when}
      />
    );
  });
}
