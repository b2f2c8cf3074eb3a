import { DomainError } from "#lib/domain/refusal";

/** The refusal that a service's work ends in; it is an error of the test when it ends in none. */
export async function refusedWith(work: Promise<unknown>): Promise<DomainError> {
  try {
    await work;
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    return error;
  }
  throw new Error("It was not refused.");
}
