import { UNIT_SYMBOLS, type Unit } from "#lib/domain/quantity/unit";

/** What a column of a schedule can be. */
export const FIELDS = [
  "bent", "row", "mark", "type", "latitude", "longitude", "coordinates", "grid x", "grid y", "top elevation", "bottom elevation", "jacket height",
  "inside diameter", "bars", "requirement", "drawing", "note", "leave out",
] as const;
export type Field = (typeof FIELDS)[number];

/** Fields that hold a length: each column of them says its unit before any value is read. */
export const LENGTH_FIELDS = ["top elevation", "bottom elevation", "jacket height", "inside diameter"] as const satisfies readonly Field[];
export type LengthField = (typeof LENGTH_FIELDS)[number];
export function isLength(field: Field): field is LengthField {
  return (LENGTH_FIELDS as readonly Field[]).includes(field);
}

/** Units of a column: a unit, or feet and inches written in the cells themselves. */
export const COLUMN_UNITS = ["ft-in", ...UNIT_SYMBOLS] as const;
export type ColumnUnit = (typeof COLUMN_UNITS)[number];
/** The units offered for a column of lengths. */
export const LENGTH_UNITS = ["ft-in", "ft", "in", "m", "cm", "mm"] as const satisfies readonly ColumnUnit[];

const UNIT_WORDS: Readonly<Record<string, (typeof LENGTH_UNITS)[number]>> = {
  "ft-in": "ft-in", "ft in": "ft-in", "ft & in": "ft-in", "ft/in": "ft-in", "feet-inches": "ft-in", "feet and inches": "ft-in",
  ft: "ft", "ft.": "ft", feet: "ft", foot: "ft", "'": "ft", in: "in", "in.": "in", ins: "in", inch: "in", inches: "in", '"': "in",
  m: "m", metre: "m", metres: "m", meter: "m", meters: "m", cm: "cm", mm: "mm",
};

/** The unit that words are, with or without brackets: "(ft)", "feet", "ft-in". Null when they are something else. */
export function unitWord(text: string): ColumnUnit | null {
  return UNIT_WORDS[text.normalize("NFKC").toLowerCase().replace(/[[\](){}]/g, "").replace(/\s+/g, " ").trim()] ?? null;
}

/** A header's words and the unit that it names at its end, as in "JKT LENGTH (FT)" or "Height, mm". */
export function headerParts(header: string): { words: string; unit: ColumnUnit | null } {
  const [, before = header, bracketed, after] = /^(.*?)(?:[[({]\s*([^\])}]+?)\s*[\])}]|,\s*(\S+))\s*$/su.exec(header) ?? [];
  const unit = unitWord(bracketed ?? after ?? "");
  return { words: plainWords(unit === null ? header : before), unit };
}

function plainWords(text: string): string {
  return text.normalize("NFKC").toLowerCase().replace(/#/g, " no ").replace(/[^\p{L}\p{N}]+/gu, " ").trim();
}

/** Words that people write over a column. Common practice, no source. */
const HEADER_WORDS: Readonly<Record<Exclude<Field, "requirement" | "leave out">, readonly string[]>> = {
  bent: ["bent", "bent no", "bent number", "bent id"],
  row: ["row", "pile row", "row letter", "row no"],
  mark: ["mark", "pile", "pile no", "pile number", "pile mark", "pile id", "mark no", "piles"],
  type: ["type", "pile type", "pile kind", "kind", "material"],
  latitude: ["lat", "latitude", "lat deg", "latitude deg"],
  longitude: ["lon", "long", "lng", "longitude", "longitude deg", "lon deg"],
  coordinates: ["coordinates", "coordinate", "coords", "lat long", "lat lon", "latitude longitude", "position", "location"],
  "grid x": ["x", "grid x", "x coordinate", "offset x"],
  "grid y": ["y", "grid y", "y coordinate", "offset y"],
  "top elevation": ["top el", "top elev", "top elevation", "top of repair", "top of jacket", "el top", "t o r"],
  "bottom elevation": ["bot el", "bottom el", "bot elev", "bottom elev", "bottom elevation", "bottom of repair", "bottom of jacket", "el bot", "el bottom"],
  "jacket height": ["jkt length", "jkt len", "jkt ht", "jkt height", "jacket length", "jacket height", "jacket ht", "height"],
  "inside diameter": ["jkt dia", "jkt id", "jacket dia", "jacket diameter", "jacket id", "inside dia", "inside diameter", "diameter", "dia"],
  bars: ["bars", "bar", "rebar", "reinf", "reinforcement", "anchor bars"],
  drawing: ["dwg", "dwg no", "drawing", "drawing no", "drawing ref", "drawing reference", "dwg ref", "ref", "reference"],
  note: ["note", "notes", "remark", "remarks", "comment", "comments", "words"],
};

/** The field that a header's words name; null when they name none. */
export function fieldOfWords(words: string): Field | null {
  const found = Object.entries(HEADER_WORDS).find(([, names]) => names.includes(words));
  return found ? (found[0] as Field) : null;
}

/** The unit to read a bare number of a column in; null where feet and inches have to be written out. */
export function bareUnit(unit: ColumnUnit): Unit | null {
  return unit === "ft-in" ? null : unit;
}
