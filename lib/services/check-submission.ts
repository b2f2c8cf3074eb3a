import type { ReasonCode } from "#lib/domain/point/history";
import { DomainError } from "#lib/domain/refusal";
import { fileRecord } from "#lib/db/journal";
import { inProject, type Asking } from "#lib/services/ask";
import { reasonFaults } from "#lib/services/reason-fault";
import { refreshAfter } from "#lib/services/refresh";
import { getLine, loadSheet } from "#lib/services/sheet";

export interface CheckInput {
  id: string;
  sheet: string;
  line: string;
  submissionId: string;
  outcome: "checked" | "sent back";
  codes: ReasonCode[];
  words: string;
}

/** The QC manager's own sign-off on what the crew sent, or its return with reasons. */
export async function checkSubmission(asking: Asking, input: CheckInput): Promise<void> {
  await inProject(asking, "check submission", async (tx, member, at) => {
    const sheet = await loadSheet(tx, asking.project, input.sheet, at);
    const { standing } = getLine(sheet, input.line).status;
    const { trail } = standing;
    if (trail?.submission.submissionId !== input.submissionId || standing.released) {
      throw new DomainError("conflict", "This submission does not stand any more. Load the point again.");
    }
    if (trail.submission.by === member.personId || trail.submission.enteredBy.includes(member.personId)) throw new DomainError("not-allowed", "You sent it; another QC manager checks it.");
    if (standing.checked && input.outcome === "checked") throw new DomainError("conflict", "It is checked already.");
    if (input.outcome === "sent back") {
      const faults = reasonFaults(input.codes, input.words);
      if (faults.length > 0) throw new DomainError("invalid", "Say why it is sent back.", faults);
    }
    const { id, line, submissionId, outcome, codes } = input;
    await fileRecord(tx, asking.house.key, {
      projectId: asking.project.id,
      actor: member.personId,
      at,
      body: { kind: "check", id, sheet: sheet.id, line, submissionId, by: member.personId, outcome, codes, words: input.words.trim() },
    });
    await refreshAfter(tx, asking.project, sheet, at);
  });
}
