/** One file of the bag: path from the bag's top, with its digest and size. */
export interface ListedFile {
  path: string;
  sha256: string;
  bytes: number;
}

/** A path as a manifest writes it: percent-encoded CR, LF and %. @source RFC 8493, 2.1.3. */
export function manifestPath(path: string): string {
  return path.replaceAll("%", "%25").replaceAll("\r", "%0D").replaceAll("\n", "%0A");
}

/** The text of a manifest: digest, two spaces, path; sorted by path in byte order, so that the same files always give the same text. */
export function manifestText(files: readonly ListedFile[]): string {
  const lines = files.map(({ path, sha256 }) => ({ path: manifestPath(path), sha256 }));
  lines.sort((a, b) => Buffer.compare(Buffer.from(a.path), Buffer.from(b.path)));
  return lines.map(({ path, sha256 }) => `${sha256}  ${path}\n`).join("");
}

/** bagit.txt of a BagIt 1.0 bag. @source RFC 8493, 2.1.1. */
export const BAGIT_TEXT = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";

/** bag-info.txt; a value stays on its line. @source RFC 8493, 2.2.2. */
export function bagInfoText(entries: readonly (readonly [label: string, value: string])[]): string {
  return entries.map(([label, value]) => `${label}: ${value.replace(/\s+/g, " ").trim()}\n`).join("");
}

/** Payload-Oxum: bytes and number of the payload's files. */
export function payloadOxum(files: readonly ListedFile[]): string {
  return `${files.reduce((sum, { bytes }) => sum + bytes, 0)}.${files.length}`;
}

/** Names that Windows keeps for devices, with any ending. */
export const isDeviceName = (part: string): boolean => /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i.test(part);

/**
 * What makes a path unfit for a package that is opened on any machine, or null.
 * @source RFC 8493, 5; the reserved names are those of Windows.
 */
export function pathProblem(path: string): string | null {
  if (!/^[A-Za-z0-9._/-]+$/.test(path)) return "has characters that not every machine takes";
  const parts = path.split("/");
  if (parts.some((part) => part === "" || part === "." || part === "..")) return "does not stay in its folder";
  if (parts.some((part) => isDeviceName(part) || part.endsWith("."))) return "is a device name somewhere";
  return path.length > 180 ? "is longer than 180 characters" : null;
}
