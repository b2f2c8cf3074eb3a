/** The colours of paper, named by job: black and hatches carry every state, so that it survives a black-and-white copy. */
export const PRINT = {
  ink: "#000000",
  inkSoft: "#222222",
  rule: "#888888",
  paper: "#ffffff",
  /** Planned, required, waiting. */
  held: "#003a66",
  /** Fails or is refused. */
  rejected: "#8f1206",
  /** In doubt, expired, cannot be told. */
  doubt: "#4a2c00",
} as const;
