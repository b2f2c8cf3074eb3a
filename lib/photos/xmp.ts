const ENTITIES: Readonly<Record<string, string>> = { "&amp;": "&", "&lt;": "<", "&gt;": ">", "&quot;": '"', "&apos;": "'" };

/** The usual prefix of each set of properties. A file may bind another one to the same address. Source: ISO 16684-1 and the IPTC photo metadata standard. */
const NAMESPACES: Readonly<Record<string, string>> = {
  xmp: "http://ns.adobe.com/xap/1.0/",
  exif: "http://ns.adobe.com/exif/1.0/",
  tiff: "http://ns.adobe.com/tiff/1.0/",
  photoshop: "http://ns.adobe.com/photoshop/1.0/",
  stEvt: "http://ns.adobe.com/xap/1.0/sType/ResourceEvent#",
  Iptc4xmpExt: "http://iptc.org/std/Iptc4xmpExt/2008-02-29/",
};

/**
 * The value of one simple property of an XMP packet, asked for under its usual prefix ("xmp:CreateDate"): written as an
 * attribute, as an element, as the first entry of a list, or as the address that an element points to.
 * Null when it is not there.
 *
 * Read here, not by the library that reads Exif: that one makes numbers of texts ("15.10" becomes 15.1), leaves entities as
 * they are, and takes time that grows with the square of the packet.
 *
 * @source ISO 16684-1 (XMP), simple properties (from memory).
 */
export function xmpProperty(packet: string, name: string): string | null {
  return xmpValues(packet, name, 1)[0] ?? null;
}

/** Every value of a property in the order of the packet, up to `most` of them. */
export function xmpValues(packet: string, name: string, most: number): readonly string[] {
  const written = asBound(packet, name);
  const values: string[] = [];
  let looks = 0;
  for (let at = packet.indexOf(written); at !== -1 && values.length < most && looks < MOST_LOOKS; at = packet.indexOf(written, at + written.length), looks += 1) {
    const before = packet[at - 1] ?? "";
    const rest = packet.slice(at + written.length, at + written.length + VALUE_WINDOW);
    const value = before === "<" ? elementValue(rest) : /\s/.test(before) ? attributeValue(rest) : null;
    if (value !== null) values.push(value.replace(/&(?:amp|lt|gt|quot|apos);/g, (entity) => ENTITIES[entity] ?? entity));
  }
  return values;
}

/** A name that stands in a packet more often than this is there to cost time. */
const MOST_LOOKS = 2000;

/** A wanted value is a date or a short text; nothing longer is looked at, characters. */
const VALUE_WINDOW = 1024;

function asBound(packet: string, name: string): string {
  const [prefix = "", property = ""] = name.split(":");
  const at = packet.indexOf(`"${NAMESPACES[prefix]}"`);
  const quoted = at === -1 ? packet.indexOf(`'${NAMESPACES[prefix]}'`) : at;
  const bound = quoted === -1 ? null : /xmlns:([\w.-]{1,40})\s?=\s?$/.exec(packet.slice(Math.max(0, quoted - 60), quoted));
  return `${bound?.[1] ?? prefix}:${property}`;
}

function attributeValue(rest: string): string | null {
  const match = /^\s?=\s?(?:"([^"]*)"|'([^']*)')/.exec(rest);
  return match === null ? null : (match[1] ?? match[2] ?? "");
}

// Nothing here may match a stretch in two ways: a hostile packet would make it take the square of its length.
function elementValue(rest: string): string | null {
  const [tag, attributes = ""] = /^((?:\s[^>]*)?)>/.exec(rest) ?? [];
  if (tag === undefined) return null;
  const address = /\srdf:resource\s?=\s?(?:"([^"]*)"|'([^']*)')/.exec(attributes);
  if (address !== null) return address[1] ?? address[2] ?? "";
  const content = rest.slice(tag.length);
  const listed = /^\s*<rdf:(?:Alt|Seq|Bag)[^>]*>\s*<rdf:li[^>]*>([^<]*)</.exec(content) ?? /^([^<]*)</.exec(content);
  return listed === null ? null : (listed[1] ?? "").trim();
}
