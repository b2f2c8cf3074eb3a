/**
 * Names that image editors write into the software field of what they save. Cameras and phones write a firmware version
 * there, which is no edit.
 * From memory; an editor missing here only goes unnoticed.
 */
const EDITORS = [
  "photoshop", "lightroom", "adobe", "gimp", "paint", "pixelmator", "affinity", "snapseed", "picasa", "photo editor", "photoscape", "acdsee", "capture one",
  "darktable", "rawtherapee", "irfanview", "xnview", "imagemagick", "graphicsmagick", "canva", "picsart", "vsco", "facetune", "luminar", "photopea", "corel",
] as const;

/** True when a text of the file names an image editor, in any case of letters. */
export function editorNamed(software: string): boolean {
  const lower = software.toLowerCase();
  return EDITORS.some((name) => lower.includes(name));
}
