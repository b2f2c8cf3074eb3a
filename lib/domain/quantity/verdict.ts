/** What a measured value is worth against its requirement. The words are shown as they stand. */
export const VALUE_VERDICTS = ["meets", "meets, inside uncertainty", "fails", "cannot tell", "not measured"] as const;
export type ValueVerdict = (typeof VALUE_VERDICTS)[number];
