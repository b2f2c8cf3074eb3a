import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import type { z } from "zod";
import { DomainError } from "#lib/domain/refusal";
import { refusalOf, type FormState } from "#lib/edge/form-state";

/** Reads a form against its schema; each fault is tied to its field. */
export function readForm<T>(schema: z.ZodType<T>, form: FormData): T {
  const result = schema.safeParse(Object.fromEntries([...form.entries()].filter(([name]) => !name.startsWith("$"))));
  if (result.success) return result.data;
  const faults = result.error.issues.map(({ path, message }) => ({ field: String(path[0] ?? ""), message }));
  throw new DomainError("invalid", faults.length === 1 ? "1 thing stops this from being recorded." : `${faults.length} things stop this from being recorded.`, faults);
}

/** Does the work of a form; when it is refused, gives back what was typed. */
export async function answerForm(form: FormData, work: () => Promise<unknown>): Promise<FormState> {
  const refusal = await refusalOf(work);
  if (!refusal) return null;
  const typed = [...form.entries()].filter(([name, value]) => typeof value === "string" && !name.startsWith("$") && name !== "password" && name !== "id");
  return { ...refusal, values: Object.fromEntries(typed.map(([name, value]) => [name, String(value)])) };
}

/**
 * Leads to a sheet after it was changed, and has it drawn anew: an address that differs from the one shown only behind
 * the "#" (after a link to a field, say) would otherwise be taken for the same sheet.
 */
export function showAgain(path: string): never {
  revalidatePath(path.split("?")[0] ?? path);
  redirect(path);
}
