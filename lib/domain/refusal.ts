export const REFUSAL_CODES = ["invalid", "not-allowed", "not-found", "conflict", "blocked"] as const;
export type RefusalCode = (typeof REFUSAL_CODES)[number];

/** One thing to mend; `field` names the form field or JSON member it belongs to. */
export interface Fault {
  field: string | null;
  message: string;
}

/** The one way in which a service says no: a code from a closed list and words for the person on the pile. */
export class DomainError extends Error {
  constructor(
    readonly code: RefusalCode,
    message: string,
    readonly faults: readonly Fault[] = [],
  ) {
    super(message);
    this.name = "DomainError";
  }
}
