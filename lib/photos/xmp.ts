const ENTITIES: Readonly<Record<string, string>> = { "&amp;": "&", "&lt;": "<", "&gt;": ">", "&quot;": '"', "&apos;": "'" };

/**
 * The value of one simple property of an XMP packet, written as an attribute or as an element, under its usual prefix
 * ("xmp:CreateDate").
 * Null when it is not there.
 *
 * Read here, not by the library that reads Exif: that one makes numbers of texts ("15.10" becomes 15.1), leaves entities as
 * they are, and takes time that grows with the square of the packet.
 *
 * @source ISO 16684-1 (XMP), simple properties (from memory).
 */
export function xmpProperty(packet: string, name: string): string | null {
  for (let at = packet.indexOf(name); at !== -1; at = packet.indexOf(name, at + name.length)) {
    const before = packet[at - 1] ?? "";
    const rest = packet.slice(at + name.length, at + name.length + VALUE_WINDOW);
    const value = before === "<" ? /^>([^<]*)</.exec(rest) : /^\s?=\s?(?:"([^"]*)"|'([^']*)')/.exec(rest);
    if (value !== null && (before === "<" || /\s/.test(before))) {
      return (value[1] ?? value[2] ?? "").replace(/&(?:amp|lt|gt|quot|apos);/g, (entity) => ENTITIES[entity] ?? entity);
    }
  }
  return null;
}

/** A wanted value is a date or a short text; nothing longer is looked at, characters. */
const VALUE_WINDOW = 1024;
