import { claimText } from "#lib/domain/photo/claim-text";
import { NO_CLAIMS, PhotoClaimsSchema } from "#lib/domain/photo/claims";
import type { DeviceClaims, PhotoClaims } from "#lib/domain/photo/claims";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import type { ImageHeader } from "#lib/photos/picture-pool";
import { xmpProperty, xmpValues } from "#lib/photos/xmp";

export interface ReadClaims {
  readonly claims: PhotoClaims;
  /** METADATA_INVALID for what could not be kept as it was. */
  readonly flags: readonly PhotoFlag[];
}

/**
 * Takes the claims out of a picture's metadata, as text and as read. Nothing is turned into a date, a zone or a number
 * of degrees here.
 *
 * @param header  What the file says: {@link readHeader}.
 * @param device  What the phone's page said at capture, already checked.
 */
export function readClaims(header: ImageHeader, device: DeviceClaims = {}): ReadClaims {
  const problems = [...(header.exif?.problems ?? [])];
  const packet = header.xmp === null ? "" : new TextDecoder("utf-8").decode(header.xmp);

  const keep = (field: string, raw: string | null | undefined): string | null => {
    if (raw === null || raw === undefined) return null;
    const { text, intact } = claimText(raw);
    if (!intact) problems.push(`${field} holds more or other characters than can be shown`);
    return text;
  };
  const texts = <Name extends string>(names: Readonly<Record<Name, unknown>>, fields: { readonly [name in Name]?: string }) =>
    Object.fromEntries((Object.keys(names) as Name[]).map((name) => [name, keep(name, fields[name])])) as Record<Name, string | null>;

  const { orientation, ...camera } = texts(NO_CLAIMS.camera, { ...header.exif?.main, ...header.exif?.exif });
  const turned = orientation === null ? null : Number(orientation);
  const turnedRight = turned !== null && Number.isInteger(turned) && turned >= 1 && turned <= 8;
  if (turned !== null && !turnedRight) problems.push(`orientation ${orientation}`);

  const property = (name: string) => keep(name, xmpProperty(packet, name));
  const noted = (...keywords: readonly string[]) => header.notes.find(({ keyword }) => keywords.includes(keyword))?.text;

  const claims = PhotoClaimsSchema.parse({
    camera: { ...camera, orientation: turnedRight ? turned : null },
    gps: texts(NO_CLAIMS.gps, header.exif?.gps ?? {}),
    xmp: {
      createDate: property("xmp:CreateDate"),
      modifyDate: property("xmp:ModifyDate"),
      dateTimeOriginal: property("exif:DateTimeOriginal"),
      creatorTool: property("xmp:CreatorTool"),
      digitalSourceType: property("Iptc4xmpExt:DigitalSourceType"),
      dateCreated: property("photoshop:DateCreated"),
      make: property("tiff:Make"),
      model: property("tiff:Model"),
      history: keep("xmpMM:History", historyOf(packet)),
    },
    png: { software: keep("Software", noted("Software")), comment: keep("Comment", noted("Comment", "Description")) },
    image: { width: header.width, height: header.height },
    device,
  });
  return { claims, flags: problems.map((measured) => ({ code: "METADATA_INVALID", measured, limit: "fields that can be read" })) };
}

/** Steps of a file's history that are looked at; an editor notes every time it saves. */
const MOST_STEPS = 200;

/** Each different step and program once: "saved, converted; Program 5". Null without a history. */
function historyOf(packet: string): string | null {
  const once = (name: string) => [...new Set(xmpValues(packet, name, MOST_STEPS).map((value) => value.slice(0, 60)))].slice(0, 4);
  const steps = once("stEvt:action");
  return steps.length === 0 ? null : [steps.join(", "), ...once("stEvt:softwareAgent").slice(0, 2)].join("; ");
}
