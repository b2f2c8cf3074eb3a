import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { SequencePhotoView, SequenceRowView } from "#lib/services/sequence-view";
import { Empty } from "../../../../../_ui/empty";
import { KindMark } from "../../../../../_ui/mark";
import { PhotoWindowDetail, type WindowPhoto } from "../../../../../_ui/photo-window";
import type { TimeScale, TimeSpan } from "../../../../../_ui/sequence-layout";
import { NOMINAL_WIDTH } from "../../../../../_ui/sequence-span";
import { windowScale } from "../../../../../_ui/sequence-window";

interface PointDetailProps {
  row: SequenceRowView;
  zone: string;
  now: Instant;
  /** How wide an hour is in the chart, as a share of its width. */
  chartHour: number;
  project: string;
  pointHref: string;
}

/** The photos of one point at another scale, one drawing for each window they have to lie in. */
export function PointDetail({ row, zone, now, chartHour, project, pointHref }: PointDetailProps) {
  const counted = row.photos.filter(({ verdict }) => verdict === "in order").length;
  return (
    <section className="sequence-detail" id="detail" aria-label={`Photos of point ${row.line}`}>
      <h2>
        <span className="bubble" aria-hidden="true">A</span>
        <span>{row.line} <KindMark kind={row.kind} /> {row.name}</span>
        <span className="letter">{row.photos.length > 0 ? `${counted} of ${row.photos.length} photos in order` : "no photos"}</span>
        <a href={pointHref}>Open the point</a>
      </h2>
      {row.photos.length === 0 && <Empty title="No photo has been received for this point.">{row.note ?? "When the crew sends some, each stands here against its window."}</Empty>}
      {windowsOf(row.photos).map((photos) => {
        if (photos.every(({ readings }) => readings.length === 0)) return <p key={`${photos[0]!.id} no time`} className="doubtful">Nothing says when {photos.length === 1 ? "this photo was" : "these photos were"} taken: {photos.map(({ id, label }, place) => <span key={id}>{place > 0 && ", "}<a href={`/p/${project}/photos/${id}`}>{label}</a></span>)}.</p>;
        const { from, to } = photos[0]!.window;
        const hiddenFirst = from !== null && to !== null && to <= from;
        return (
          <PhotoWindowDetail
            key={`${from} ${to}`}
            title={hiddenFirst ? "Hidden before the window opens: no photo can lie in order" : windowTitle(from, to, zone)}
            note={[timesWords(photos, ends(row, now), chartHour), "whiskers 95 %"].filter(Boolean).join(", ")}
            from={from === null ? null : { at: from, label: `${formatWhen(from, zone, { short: true })} window opens` }}
            to={to === null ? null : { at: to, label: `hidden ${formatWhen(to, zone, { short: true })}` }}
            now={ends(row, now)}
            photos={photos.map((photo) => ({ ...drawnPhoto(photo), href: `/p/${project}/photos/${photo.id}` }))}
            zone={zone}
            formatTime={(at) => formatWhen(at, zone, { short: true, seconds: true })}
            times
          />
        );
      })}
    </section>
  );
}

function drawnPhoto({ label, readings, uncertaintyMs, verdict, cameraAt }: SequencePhotoView): WindowPhoto {
  const [first = null] = readings;
  return { label, at: readings.length === 1 ? first : null, readings, uncertaintyMs, verdict, ...(cameraAt === null ? {} : { cameraAt }) };
}

/** Width of a detail on a desk, px. */
const DETAIL_WIDTH = 800;

/** Once the point is decided, what has happened since says nothing about its photos. */
function ends({ state }: SequenceRowView, now: Instant): Instant | null {
  return state === "released" ? null : now;
}

function scaleOf(photos: readonly SequencePhotoView[], now: Instant | null): TimeScale {
  const { from = null, to = null } = photos[0]?.window ?? {};
  return windowScale(photos.map(drawnPhoto), from, to ?? now);
}

/** "26 times the chart", where it is larger. */
function timesWords(photos: readonly SequencePhotoView[], now: Instant | null, chartHour: number): string | null {
  const times = Math.round((scaleOf(photos, now).hour * DETAIL_WIDTH) / (chartHour * NOMINAL_WIDTH));
  return times > 1 ? `${times} times the chart` : null;
}

/** What of the chart the detail of a point enlarges: all its windows with their photos. Null where no photo has a time. */
export function enlargedSpan(row: SequenceRowView, now: Instant): TimeSpan | null {
  const segments = windowsOf(row.photos).filter((own) => own.some(({ readings }) => readings.length > 0)).flatMap((own) => scaleOf(own, ends(row, now)).segments);
  return segments.length === 0 ? null : { from: Math.min(...segments.map(({ from }) => from)), to: Math.max(...segments.map(({ to }) => to)) };
}

/** Photos by their windows, in each by when they were taken; those without a time last. */
function windowsOf(photos: readonly SequencePhotoView[]): SequencePhotoView[][] {
  const groups = new Map<string, SequencePhotoView[]>();
  for (const photo of photos) {
    const key = `${photo.window.from} ${photo.window.to}`;
    groups.set(key, [...(groups.get(key) ?? []), photo]);
  }
  const first = ({ readings: [one] }: SequencePhotoView): number => one ?? Number.POSITIVE_INFINITY;
  return [...groups.values()].map((own) => own.sort((a, b) => (first(a) === first(b) ? 0 : first(a) - first(b))));
}

function windowTitle(from: Instant | null, to: Instant | null, zone: string): string {
  if (from === null) return to === null ? "Nothing has to come before or after" : `Window until ${formatWhen(to, zone)}`;
  return to === null ? `Window from ${formatWhen(from, zone)}` : `Window from ${formatWhen(from, zone)} to ${formatWhen(to, zone)}`;
}
