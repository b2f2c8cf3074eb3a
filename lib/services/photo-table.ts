import { PHOTO_LIMITS, type PhotoLimitName } from "#lib/domain/photo/limits";
import type { Table } from "#lib/closeout/package-input";
import type { PhotoRecords } from "#lib/db/photo-record";
import { number, table, text, time, whole } from "#lib/services/table-column";

interface Write {
  name(id: string | null): string;
  iso(utc: string | number): string;
}

/** What was recorded about photos beside their receipt, as tables of a package. */
export function photoRecordTables({ clockPhotos, cameraClocks, likenessAnswers, streakChecks, limits }: PhotoRecords, { name, iso }: Write): Table[] {
  return [
    table("camera-clocks", "How the clock of each camera ran, as confirmed", [
      text("camera", "Make, model and serial or sender"), text("confirmedBy", "Who confirmed it"), time("confirmedAt", "When"), whole("references", "Photos that tell"), text("words", "What was said with it"),
    ], cameraClocks.map((one) => [one.camera, name(one.by), iso(one.confirmedAt), one.references.length, one.words])),
    table("camera-references", "What a camera's clock showed when the true time was known", [
      text("camera", "Make, model and serial or sender"), text("source", "What gave the true time"), text("photo", "Id of the photo"), text("wall", "What the camera's clock showed, without zone"), time("at", "The true time, UTC"),
    ], cameraClocks.flatMap(({ camera, references }) => references.map((one) => [camera, one.source, one.photo, one.wall, one.at]))),
    table("clock-photos", "Photos of the clock page", [
      text("camera", "Make, model and serial or sender"), text("sha256", "SHA-256 of the file as received"), time("shown", "The time that the page showed, UTC"), time("receivedAt", "When the server received it"), text("by", "Who sent it"),
    ], clockPhotos.map((one) => [one.camera, one.sha256, one.shown, iso(one.receivedAt), name(one.by)])),
    table("look-alikes", "What decision makers said of photos that look alike", [
      text("photo", "Id of the later photo"), text("other", "Id of the earlier photo"), text("answer", "The answer"), text("words", "Its reason"), text("by", "Who answered"), text("role", "As what"), time("answeredAt", "When"),
    ], likenessAnswers.map((one) => [one.photoId, one.otherId, one.answer, one.words, name(one.by), one.role, iso(one.answeredAt)])),
    table("mix-checks", "Checks of mixes for streaks: an aid, the person who looks decides", [
      text("photo", "Id of the photo"), text("sha256", "SHA-256 of the file as received"), text("verdict", "uniform / streaks / cannot tell"), text("reason", "Why it cannot be told"), number("sharePct", "Share that differs, per cent"),
      number("contrastDeltaE", "How much, CIEDE2000"), text("by", "Who checked"), time("checkedAt", "When"),
    ], streakChecks.map((one) => [one.photoId, one.sha256, one.verdict, one.reason, one.sharePct, one.contrastDeltaE, name(one.by), iso(one.checkedAt)])),
    table("photo-limits", "Limits that photos received after this were held against; before, the defaults", [
      time("setAt", "When they were set"), text("by", "Who set them"), text("limit", "What is limited"), number("value", "The limit"), text("unit", "Its unit"), number("default", "The default"), text("words", "Why"),
    ], limits.flatMap((one) => Object.entries(PHOTO_LIMITS).map(([key, { title, unit, normal }]) => [iso(one.at), name(one.by), title, one.limits[key as PhotoLimitName], unit, normal, one.words]))),
  ];
}
