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
  /** How much larger than the chart it is drawn; null where it is not. */
  scaleWords: string | null;
  project: string;
  pointHref: string;
}

/** The photos of one point at another scale, one drawing for each window they have to lie in. */
export function PointDetail({ row, zone, now, scaleWords, project, pointHref }: PointDetailProps) {
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
        const { from, to } = photos[0]!.window;
        const hiddenFirst = from !== null && to !== null && to <= from;
        return (
          <PhotoWindowDetail
            key={`${from} ${to}`}
            title={hiddenFirst ? "Hidden before the window opens: no photo can lie in order" : windowTitle(from, to, zone)}
            note={[scaleWords, "whiskers 95 %"].filter(Boolean).join(", ")}
            from={from === null ? null : { at: from, label: `${formatWhen(from, zone, { short: true })} window opens` }}
            to={to === null ? null : { at: to, label: `hidden ${formatWhen(to, zone, { short: true })}` }}
            now={now}
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

/** What the detail of a point enlarges in the chart, and how many times; null where the point has no photo to draw. */
export function enlargement({ line, photos }: SequenceRowView, now: Instant, chart: TimeScale): { line: string; letter: string; span: TimeSpan; words: string | null } | null {
  const [own] = windowsOf(photos);
  const [first] = own ?? [];
  if (!own || !first || own.every(({ readings }) => readings.length === 0)) return null;
  const scale = windowScale(own.map(drawnPhoto), first.window.from, first.window.to ?? now);
  const times = Math.round((scale.hour * DETAIL_WIDTH) / (chart.hour * NOMINAL_WIDTH));
  return { line, letter: "A", span: { from: scale.segments[0]!.from, to: scale.segments.at(-1)!.to }, words: times > 1 ? `${times} times the chart` : null };
}

function windowsOf(photos: readonly SequencePhotoView[]): SequencePhotoView[][] {
  const groups = new Map<string, SequencePhotoView[]>();
  for (const photo of photos) {
    const key = `${photo.window.from} ${photo.window.to}`;
    groups.set(key, [...(groups.get(key) ?? []), photo]);
  }
  return [...groups.values()];
}

function windowTitle(from: Instant | null, to: Instant | null, zone: string): string {
  if (from === null) return to === null ? "Nothing has to come before or after" : `Window until ${formatWhen(to, zone)}`;
  return to === null ? `Window from ${formatWhen(from, zone)}` : `Window from ${formatWhen(from, zone)} to ${formatWhen(to, zone)}`;
}
