import { DomainError, type Fault } from "#lib/domain/refusal";

/** What a form is told after it was sent: null before, and when all went well. */
export type FormState = { message: string; faults: readonly Fault[]; values?: Record<string, string> } | null;

/**
 * Runs a service's work and turns its refusal into what the form shows. Null when it went well.
 * Anything else that is thrown is a bug, or Next's redirect, and goes on.
 */
export async function refusalOf(work: () => Promise<unknown>): Promise<FormState> {
  try {
    await work();
    return null;
  } catch (error) {
    if (error instanceof DomainError) return { message: error.message, faults: error.faults };
    throw error;
  }
}
