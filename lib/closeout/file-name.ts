import { isDeviceName } from "#lib/closeout/manifest";

/** What a photo's or document's name in the package is made from. */
export interface NameParts {
  /** Mark of the pile, or null for a point of the project. */
  mark: string | null;
  /** Number of the plan line: "7", "P4". */
  line: string;
  attempt: number;
  /** What the photo shows, or the document's title. */
  subject: string;
  /** Milliseconds UTC; null when no time is known. Documents have none: leave it out. */
  takenAt?: number | null;
  mediaType: string;
}

export type FileKind = "photos" | "clock-photos" | "documents" | "view";

// The ending says what the bytes are, whatever the sender called the file.
const ENDING: Record<string, string> = {
  "image/jpeg": "jpg",
  "image/png": "png",
  "image/webp": "webp",
  "image/heic": "heic",
  "image/heif": "heif",
  "application/pdf": "pdf",
};

/**
 * Gives out paths below data/, such as `piles/05-C/photos/07-a1-bar-3-20261203T161200Z.jpg`: only a–z, A–Z, 0–9, dot and hyphen, each once even where
 * capitals do not count. A second file of the same name gets -2, so the order of asking decides, and a sorted list gives the same names again.
 */
export class FileNames {
  private readonly taken = new Set<string>();

  /** Throws for a media type that a package does not hold. */
  next(kind: FileKind, parts: NameParts): string {
    const ending = ENDING[parts.mediaType];
    if (!ending) throw new Error(`A package holds no files of type ${parts.mediaType}.`);
    const stem = [pointPart(parts.line), `a${parts.attempt}`, safePart(parts.subject, "photo"), timePart(parts.takenAt)].filter((part) => part !== "").join("-");
    const folder = `${pileFolder(parts.mark)}/${kind}`;
    for (let n = 1; ; n++) {
      const path = `${folder}/${stem}${n === 1 ? "" : `-${n}`}.${ending}`;
      if (this.taken.has(path.toLowerCase())) continue;
      this.taken.add(path.toLowerCase());
      return path;
    }
  }
}

/** Folder of a pile below data/, or of the project itself. */
export function pileFolder(mark: string | null): string {
  return mark === null ? "project" : `piles/${safeMark(mark)}`;
}

/** A pile mark as a folder name: safe characters only, capitals, dots and hyphens kept, so that 5.C and 5-C stay apart. */
export function safeMark(mark: string): string {
  const safe = plainLetters(mark)
    .replace(/[^A-Za-z0-9.-]+/g, "-")
    .slice(0, 40)
    .replace(/^[.-]+|[.-]+$/g, "");
  return safe === "" || isDeviceName(safe) ? `pile-${safe}`.replace(/-$/, "") : safe;
}

function safePart(text: string, otherwise: string): string {
  const safe = plainLetters(text)
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, 48)
    .replace(/^-+|-+$/g, "");
  return safe || otherwise;
}

// é becomes e: the accent is a mark of its own once decomposed.
const plainLetters = (text: string): string => text.normalize("NFKD").replace(/\p{Mark}/gu, "");

// Two digits, so that a folder sorted by name stands in plan order.
const pointPart = (line: string): string => (/^\d$/.test(line) ? `0${line}` : safeMark(line));

function timePart(takenAt: number | null | undefined): string {
  if (takenAt === undefined) return "";
  if (takenAt === null) return "no-time";
  return new Date(takenAt).toISOString().replace(/[-:]|\.\d+/g, "");
}
