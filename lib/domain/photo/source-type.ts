/** What the declared source of a picture comes to. */
export type SourceKind = "generated" | "edited" | "screen";

/**
 * The digital source types that say something else than "taken with a camera".
 * Source: IPTC NewsCodes, digital source type (http://cv.iptc.org/newscodes/digitalsourcetype/); the grouping is ours.
 */
const KINDS: ReadonlyMap<string, SourceKind> = new Map(Object.entries({
  trainedalgorithmicmedia: "generated",
  compositewithtrainedalgorithmicmedia: "generated",
  algorithmicmedia: "generated",
  compositesynthetic: "generated",
  datadrivenmedia: "generated",
  virtualrecording: "generated",
  digitalart: "generated",
  digitalcreation: "generated",
  softwareimage: "generated",
  composite: "edited",
  humanedits: "edited",
  minorhumanedits: "edited",
  algorithmicallyenhanced: "edited",
  screencapture: "screen",
} satisfies Record<string, SourceKind>));

/**
 * Reads a digital source type, given as its address ("http://cv.iptc.org/newscodes/digitalsourcetype/trainedAlgorithmicMedia"),
 * as a short code ("digsrctype:trainedAlgorithmicMedia") or as the bare word.
 *
 * @returns Null for one that says nothing against a camera (digitalCapture, compositeCapture and so on), or that is not known.
 */
export function sourceKind(value: string): SourceKind | null {
  const word = value.trim().split(/[/:#]/).at(-1) ?? "";
  return KINDS.get(word.toLowerCase()) ?? null;
}
