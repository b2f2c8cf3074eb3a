/** Where a photo stands against the window it has to lie in. */
export const ORDER_VERDICTS = ["in order", "too early", "too late", "cannot tell", "no time", "clock in doubt"] as const;
export type OrderVerdict = (typeof ORDER_VERDICTS)[number];

/** Where a photo was taken against the site. */
export const PLACE_VERDICTS = ["at site", "elsewhere", "place cannot tell", "no place"] as const;
export type PlaceVerdict = (typeof PLACE_VERDICTS)[number];

/** What the file is: as a camera wrote it, saved by an editor, a file or picture that is on record already, or one that looks like it. */
export const FILE_VERDICTS = ["original", "edited", "repeat", "look-alike"] as const;
export type FileVerdict = (typeof FILE_VERDICTS)[number];

/** Which pile's printed tag was read out of the picture. */
export const TAG_VERDICTS = ["this pile's tag read", "another pile's tag", "no tag read"] as const;
export type TagVerdict = (typeof TAG_VERDICTS)[number];

/** Whether the mix in the picture has one colour. */
export const STREAK_VERDICTS = ["uniform", "streaks", "cannot tell"] as const;
export type StreakVerdict = (typeof STREAK_VERDICTS)[number];
