import { DomainError } from "#lib/domain/refusal";
import { fileRecord } from "#lib/db/journal";
import { inProject, type Asking } from "#lib/services/ask";
import { refreshAfter } from "#lib/services/refresh";
import { getLine, loadSheet } from "#lib/services/sheet";

/** Takes a submission back before it is decided. It stays in the record with the reason. */
export async function withdrawSubmission(
  asking: Asking,
  input: { id: string; sheet: string; line: string; submissionId: string; words: string },
): Promise<void> {
  await inProject(asking, "withdraw submission", async (tx, member, at) => {
    const sheet = await loadSheet(tx, asking.project, input.sheet, at);
    const { standing } = getLine(sheet, input.line).status;
    if (standing.trail?.submission.submissionId !== input.submissionId) throw new DomainError("conflict", "This submission does not stand any more. Load the point again.");
    if (standing.trail.decisions.length > 0) throw new DomainError("conflict", "This submission has been decided and can no longer be withdrawn.");
    if (standing.trail.submission.by !== member.personId && !member.roles.includes("QC manager")) {
      throw new DomainError("not-allowed", "Only who sent it, or the QC manager, can withdraw it.");
    }
    const words = input.words.trim();
    if (words === "") throw new DomainError("invalid", "Say why it is withdrawn.", [{ field: "words", message: "Say why it is withdrawn." }]);
    const { id, submissionId, line } = input;
    await fileRecord(tx, asking.house.key, {
      projectId: asking.project.id,
      actor: member.personId,
      at,
      body: { kind: "withdrawal", id, sheet: sheet.id, line, submissionId, by: member.personId, words },
    });
    await refreshAfter(tx, asking.project, sheet, at);
  });
}
