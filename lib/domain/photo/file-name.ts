import { claimText } from "#lib/domain/photo/claim-text";

/** Longest file name kept, in characters. Common practice, no source. */
const NAME_LIMIT = 100;

export interface FileName {
  /** Fit to be shown beside the photo; null when nothing is left. It never becomes part of a path. */
  readonly name: string | null;
  /** True when something had to be taken out. */
  readonly changed: boolean;
}

/**
 * Cleans the name that a phone or a person gave a file: folders, control characters, leading dots and characters that some
 * systems refuse all go.
 */
export function cleanFileName(given: string): FileName {
  const last = given.split(/[/\\]/).at(-1) ?? "";
  const safe = (claimText(last).text ?? "").replace(/[<>:"|?*]/g, "·").replace(/^\.+/, "").trim();
  const name = Array.from(safe).slice(0, NAME_LIMIT).join("");
  return { name: name === "" ? null : name, changed: name !== given };
}

/** The part after the last dot, in small letters; null without one. */
export function extensionOf(name: string): string | null {
  return /\.([a-z0-9]{1,8})$/i.exec(name)?.[1]?.toLowerCase() ?? null;
}
