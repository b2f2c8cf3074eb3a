/**
 * Names that image editors write into the software field of what they save. Cameras and phones write a firmware version
 * there, which is no edit.
 * From memory; an editor missing here only goes unnoticed.
 */
const EDITORS = [
  "photoshop", "lightroom", "adobe", "gimp", "paint", "painttool", "paintshop", "pixelmator", "affinity", "snapseed", "picasa", "photo editor", "photoscape", "acdsee",
  "capture one", "capture nx", "dxo", "darktable", "rawtherapee", "irfanview", "xnview", "imagemagick", "graphicsmagick", "canva", "picsart", "vsco", "facetune", "luminar",
  "photopea", "corel", "krita", "procreate", "photofiltre", "fotor", "pixlr", "polarr", "meitu", "faststone", "windows photo", "microsoft photo", "photos", "digikam",
  "showfoto", "shotwell", "gthumb", "nomacs", "zoner", "topaz", "remini", "inkscape", "google photos", "movavi",
] as const;

/** A name stands by itself: "sprint 3" names no "paint", "canvas" no "canva". */
const NAMED = new RegExp(`(?<![a-z])(?:${EDITORS.map((name) => name.replaceAll(" ", "[ _-]?")).join("|")})(?![a-z])`, "i");

/** True when a text of the file names an image editor, in any case of letters. */
export function editorNamed(text: string): boolean {
  return NAMED.test(text);
}

/**
 * What a file's history notes when its picture was worked on. Made, copied, printed and published are no edits.
 * Source: ISO 16684-2 (XMP), ResourceEvent, action (from memory).
 */
const EDITS: ReadonlySet<string> = new Set(["saved", "edited", "converted", "cropped", "filtered", "formatted", "resized", "derived"]);

/** The edits that a history names ("created, saved; Program 5"), in its order. */
export function editsIn(history: string): readonly string[] {
  const [steps = ""] = history.split(";");
  return steps.split(", ").filter((step) => EDITS.has(step.trim().toLowerCase()));
}
