import { canonicalBytes } from "#lib/records/canonical";

/** Canonical JSON as text, for the body columns. */
export function canonicalText(value: unknown): string {
  return canonicalBytes(value).toString("utf8");
}
