/** Where a photo stands against the window it has to lie in. */
export const ORDER_VERDICTS = ["in order", "too early", "too late", "cannot tell", "no time", "clock in doubt"] as const;
export type OrderVerdict = (typeof ORDER_VERDICTS)[number];

/** Where a photo was taken against the site. */
export const PLACE_VERDICTS = ["at site", "elsewhere", "place cannot tell", "no place"] as const;
export type PlaceVerdict = (typeof PLACE_VERDICTS)[number];
