import { formatWhen } from "#lib/domain/clock/site-time";
import { PHOTO_LIMITS, PHOTO_LIMIT_DEFAULTS, PhotoLimitsSchema, type PhotoLimitName, type PhotoLimits } from "#lib/domain/photo/limits";
import type { Tx } from "#lib/db/client";
import { listPhotoLimits } from "#lib/db/photo-limits";
import { listMembers, type Project } from "#lib/db/project";
import { limitNames } from "#lib/services/set-photo-limits";

export interface PhotoLimitRow {
  name: PhotoLimitName;
  title: string;
  unit: string;
  value: number;
  normal: number;
  least: number;
  most: number;
  /** What goes past it, and where the number comes from. */
  words: string;
}

export interface PhotoLimitChange {
  by: string;
  when: string;
  words: string;
  changes: { title: string; from: string; to: string }[];
}

export interface PhotoLimitsView {
  lead: string;
  groups: { title: string; limits: PhotoLimitRow[] }[];
  /** Newest first. */
  history: PhotoLimitChange[];
}

/** The limits as people look for them. */
const GROUPS: readonly { title: string; names: readonly PhotoLimitName[] }[] = [
  { title: "What is taken", names: ["maxBytesMb", "maxMegapixels", "minSidePx", "maxMetadataKb"] },
  { title: "What is flagged in a file", names: ["largeMetadataKb", "trailingBytes", "blankLevels", "lowDetailLevels", "thumbnailBits"] },
  { title: "Used before", names: ["lookAlikeBits", "burstSeconds"] },
  { title: "How well a time is known, ±", names: ["exifOffsetSeconds", "gpsDeltaSeconds", "cameraReferenceSeconds", "gpsOnlySeconds", "siteZoneSeconds", "deviceSeconds"] },
  { title: "When times disagree", names: ["driftSeconds", "sameExposureSeconds"] },
  { title: "Streaks in the mix", names: ["streakDeltaE", "streakSharePct"] },
];

/** The limits that hold for what is received now, and who changed what. */
export async function photoLimitsView(tx: Tx, project: Project): Promise<PhotoLimitsView> {
  const [records, members] = await Promise.all([listPhotoLimits(tx, project.id), listMembers(tx, project.id)]);
  const steps = records.map((record) => ({ ...record, limits: PhotoLimitsSchema.parse(record.limits) }));
  const now = steps.at(-1)?.limits ?? PHOTO_LIMIT_DEFAULTS;
  const changed = limitNames().filter((name) => now[name] !== PHOTO_LIMIT_DEFAULTS[name]).length;
  const grouped = new Set(GROUPS.flatMap(({ names }) => names));
  const rest = limitNames().filter((name) => !grouped.has(name));
  return {
    lead: `${limitNames().length} limits, ${changed === 0 ? "all at their defaults" : `${changed} changed from ${changed === 1 ? "its default" : "their defaults"}`}.`,
    groups: [...GROUPS, ...(rest.length > 0 ? [{ title: "Other", names: rest }] : [])].map(({ title, names }) => ({ title, limits: names.map((name) => rowOf(name, now)) })),
    history: steps.map(({ by, at, words, limits }, step): PhotoLimitChange => {
      const before = steps[step - 1]?.limits ?? PHOTO_LIMIT_DEFAULTS;
      const moved = limitNames().filter((name) => limits[name] !== before[name]);
      return {
        by: members.find(({ personId }) => personId === by)?.name ?? by, when: formatWhen(at, project.zone), words,
        changes: moved.map((name) => ({ title: PHOTO_LIMITS[name].title, from: withUnit(before[name], name), to: withUnit(limits[name], name) })),
      };
    }).reverse(),
  };
}

function rowOf(name: PhotoLimitName, now: PhotoLimits): PhotoLimitRow {
  return { name, ...PHOTO_LIMITS[name], value: now[name] };
}

function withUnit(value: number, name: PhotoLimitName): string {
  return `${value} ${PHOTO_LIMITS[name].unit}`;
}
