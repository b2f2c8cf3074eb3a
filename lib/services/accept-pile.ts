import { DomainError } from "#lib/domain/refusal";
import { fileRecord } from "#lib/db/journal";
import { inProject, type Asking } from "#lib/services/ask";
import { refreshSheet } from "#lib/services/refresh";
import { confirmPassword } from "#lib/services/sign-in";
import { loadSheet } from "#lib/services/sheet";

/** The owner's acceptance of a pile whose last point is released and of which nothing is in doubt or expired. */
export async function acceptPile(asking: Asking, input: { id: string; pileId: string; words: string; password: string }): Promise<void> {
  await confirmPassword(asking, input.password);
  await inProject(asking, "accept pile", async (tx, member, at) => {
    const sheet = await loadSheet(tx, asking.project, input.pileId, at);
    if (!sheet.pile) throw new DomainError("not-found", "There is no such pile.");
    if (sheet.pile.state === "accepted") throw new DomainError("conflict", `Pile ${sheet.pile.mark} is accepted already.`);
    const open = sheet.lines.filter(({ line }) => !["released", "not applicable"].includes(sheet.folded.get(line)?.state ?? "not open"));
    const last = sheet.lines.at(-1);
    const final = sheet.history.decisions.findLast((decision) => decision.line === last?.line && decision.outcome === "release");
    if (open.length > 0 || !final) {
      throw new DomainError(
        "blocked",
        `Pile ${sheet.pile.mark} cannot be accepted yet.`,
        open.map(({ line, name }) => ({ field: null, message: `Point ${line}, ${name}, is ${sheet.folded.get(line)?.state ?? "not open"}.` })),
      );
    }
    await fileRecord(tx, asking.house.key, {
      projectId: asking.project.id,
      actor: member.personId,
      at,
      body: {
        kind: "acceptance",
        id: input.id,
        pileId: sheet.pile.id,
        by: member.personId,
        organisation: member.organisation,
        finalDecision: final.digest,
        words: input.words.trim(),
        attestation: "server-attested",
        acceptedAt: new Date(at).toISOString(),
      },
    });
    await refreshSheet(tx, asking.project, sheet.pile.id, at);
  });
}
