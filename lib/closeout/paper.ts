/** Width and height, mm. Source: ISO 216 (A4), ANSI/ASME Y14.1 (Letter), from memory. */
export const PAPERS = { A4: [210, 297], Letter: [215.9, 279.4] } as const;
export type Paper = keyof typeof PAPERS;

/** Pile tags on a page: two beside each other, four rows. */
export const TAG_COLUMNS = 2;
export const TAG_ROWS = 4;
export const TAGS_A_PAGE = TAG_COLUMNS * TAG_ROWS;
