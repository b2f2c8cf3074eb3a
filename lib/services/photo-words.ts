import { PHOTO_FLAGS, weightOf, type FlagWeight } from "#lib/domain/photo/flag";
import type { TimeBasis } from "#lib/domain/photo/derived-instant";
import { fileVerdict } from "#lib/domain/photo/file-verdict";
import type { FileVerdict, OrderVerdict, PlaceVerdict, StreakVerdict, TagVerdict } from "#lib/domain/photo/verdict";
import { secondsWriter, type PhotoView } from "#lib/services/evidence";
import { sizeWords } from "#lib/services/words";

/** What a photo's time rests on, after "taken 15:41:07 ± 2 s, ". */
export const BASIS_WORDS: Record<TimeBasis, string> = {
  EXIF_OFFSET: "by the camera's time and zone",
  GPS_DELTA: "by the camera's time against GPS",
  CAMERA_REFERENCE: "by the camera's confirmed clock",
  GPS_ONLY: "by GPS time alone",
  SITE_ZONE_ASSUMED: "by the camera's time, zone not known",
  DEVICE_CAPTURE: "by the phone's clock",
  NONE: "no time to go by",
};

export interface PhotoWords {
  id: string;
  sha256: string;
  subject: string;
  /** Whether a small picture of it was made. */
  shown: boolean;
  order: OrderVerdict;
  /** The finding against its window as a sentence. */
  orderWords: string;
  taken: string;
  place: PlaceVerdict;
  placeWords: string;
  file: FileVerdict;
  fileWords: string;
  tag: TagVerdict;
  tagWords: string;
  /** Nobody has looked for codes in it yet. */
  beingRead: boolean;
  /** Null where the mix was not checked, or there is none in the picture. */
  streaks: StreakVerdict | null;
  streakWords: string;
  flags: { code: string; title: string; measured: string; limit: string; weight: FlagWeight }[];
}

/** A judged photo in words, ready to be shown. */
export function photoWords({ photo, derived, order, place, flags, tag, streaks }: PhotoView, zone: string): PhotoWords {
  const when = secondsWriter(zone);
  const file = fileVerdict(flags);
  const [first] = derived.hypotheses;
  const readings = derived.instant === null && first !== undefined ? `${derived.hypotheses.length} readings, first ${when(first)}` : first === undefined ? null : when(first);
  return {
    id: photo.id,
    sha256: photo.sha256,
    subject: photo.subject,
    shown: photo.preview === "made",
    order: order.verdict,
    orderWords: order.words,
    taken: readings === null ? "no usable time" : `taken ${readings} ± ${Math.round(derived.uncertaintySeconds ?? 0)} s, ${BASIS_WORDS[derived.basis]}`,
    place: place.verdict,
    placeWords: place.distanceM === null ? "the file and the phone give none" : `${Math.round(place.distanceM)} m from the middle of the site, ± ${Math.round(2 * (place.errorM ?? 0))} m`,
    file: file.verdict,
    fileWords: `${file.verdict === "original" ? "" : `${file.words}; `}${sizeWords(photo.bytes)} ${photo.mediaType.replace("image/", "").toUpperCase()}, as it was sent`,
    tag: tag.verdict,
    tagWords: tag.words,
    beingRead: photo.codes === null && photo.preview === "made",
    streaks: streaks?.verdict ?? null,
    streakWords: streaks === null ? "" : streaks.reason || `${streaks.sharePct.toFixed(1)} % of the mix differs, by ΔE00 ${streaks.contrastDeltaE.toFixed(1)}`,
    flags: flags.map((flag) => ({ code: flag.code, title: PHOTO_FLAGS[flag.code].title, measured: flag.measured, limit: flag.limit, weight: weightOf(flag, order.verdict) })),
  };
}
