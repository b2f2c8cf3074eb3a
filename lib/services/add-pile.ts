import { buildPlan, requirementSet, revisionInForce } from "#lib/domain/plan/plan";
import { DomainError } from "#lib/domain/refusal";
import { fileRecord } from "#lib/db/journal";
import { findPile, listPiles } from "#lib/db/pile";
import { listRevisions } from "#lib/db/project";
import type { RecordOf } from "#lib/records/kind";
import { inProject, type Asking } from "#lib/services/ask";
import { refreshSheet } from "#lib/services/refresh";

/** Adds one pile to the plan, under the requirement set of its type. */
export async function addPile(asking: Asking, input: Omit<RecordOf<"pile">, "kind">): Promise<void> {
  await inProject(asking, "add pile", async (tx, member, at) => {
    const { project } = asking;
    const fault = (field: string, message: string): never => {
      throw new DomainError("invalid", message, [{ field, message }]);
    };
    if (await findPile(tx, project.id, { mark: input.mark })) fault("mark", `There is a pile ${input.mark} already.`);
    const piles = await listPiles(tx, project.id);
    const there = piles.find(({ bent, row }) => bent === input.bent && row === input.row);
    if (there) fault("row", `Pile ${there.mark} stands in bent ${input.bent}, row ${input.row}.`);
    const revision = revisionInForce(await listRevisions(tx, project.id), at);
    if (!revision) throw new DomainError("blocked", "No requirement revision is approved yet. The engineer approves one first.");
    const set = requirementSet(revision.revision, input.type);
    if (!set) return fault("type", `Revision ${revision.letter} has no pile type ${input.type}.`);
    const [stray] = buildPlan(set, input).stray;
    if (stray) fault("overrides", `Drawing ${stray.drawing} changes something at point ${stray.line} that type ${input.type} does not have, or that another drawing changes already.`);
    await fileRecord(tx, asking.house.key, { projectId: project.id, actor: member.personId, at, body: { kind: "pile", ...input } });
    await refreshSheet(tx, project, input.id, at);
  });
}
