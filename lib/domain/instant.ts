/** A moment, as milliseconds since 1970-01-01T00:00:00Z. Every comparison of times in the domain is on instants. */
export type Instant = number;

export const SECOND = 1_000;
export const MINUTE = 60 * SECOND;
export const HOUR = 60 * MINUTE;
