/** Places on the form for requirements of one pile only. */
export const OVERRIDE_PLACES = [1, 2, 3, 4] as const;

export const overrideName = (place: number, part: "requirement" | "first" | "second" | "drawing" | "words") => `override.${place}.${part}`;
