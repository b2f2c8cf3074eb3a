import { overrideKey } from "#lib/domain/plan/override";
import { buildPlan, overridesAt, type Override } from "#lib/domain/plan/plan";
import { DomainError } from "#lib/domain/refusal";
import { findFiled } from "#lib/db/filed-record";
import { canonicalText } from "#lib/db/json-text";
import { fileRecord } from "#lib/db/journal";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import type { RecordOf } from "#lib/records/kind";
import { inProject, type Asking } from "#lib/services/ask";
import { refreshSheet } from "#lib/services/refresh";
import { loadSheet, type Sheet } from "#lib/services/sheet";

export interface OverrideInput {
  id: string;
  pileId: string;
  override: Override;
}

export interface OverrideReceipt {
  id: string;
  digest: string;
  seq: number;
}

/** Changes a requirement on one pile by its drawing. It holds for points that are not signed; what is signed stays. */
export async function addOverride(asking: Asking, input: OverrideInput): Promise<OverrideReceipt> {
  return changePile(asking, input, false, refuseUnusable);
}

/** Takes a requirement of one pile back: the type's holds again for points that are not signed. */
export async function endOverride(asking: Asking, input: OverrideInput): Promise<OverrideReceipt> {
  return changePile(asking, input, true, ({ pile }, override) => {
    const text = canonicalText(override);
    const holds = overridesAt(pile?.overrides ?? [], null).some((one) => canonicalText(one) === text);
    if (!holds) throw new DomainError("conflict", `This requirement of pile ${pile?.mark ?? ""} does not hold any more. Load the pile again.`);
  });
}

async function changePile(asking: Asking, { id, pileId, override }: OverrideInput, ends: boolean, refuse: (sheet: Sheet, override: Override) => void): Promise<OverrideReceipt> {
  return inProject(asking, "change requirement", async (tx, member, at) => {
    const { project, house } = asking;
    const body: RecordOf<"override"> = { kind: "override", id, pileId, override, ends, by: member.personId };
    const sent = sha256(canonicalBytes(body));
    const before = await findFiled(tx, project.id, sent);
    if (before) return { id, digest: sent, seq: before.seq };
    const sheet = await loadSheet(tx, project, pileId, at);
    if (!sheet.pile) throw new DomainError("not-found", "There is no such pile.");
    if (sheet.pile.scope === "out") throw new DomainError("blocked", `Pile ${sheet.pile.mark} is out of scope by a change order. Nothing more is changed there.`);
    refuse(sheet, override);
    const { seq, digest } = await fileRecord(tx, house.key, { projectId: project.id, actor: member.personId, at, body });
    await refreshSheet(tx, project, sheet.id, at);
    return { id, digest, seq };
  });
}

/** An override that no open point of the pile would use is refused, never kept aside. */
function refuseUnusable({ pile, lines, folded }: Sheet, override: Override): void {
  const { line: id, change } = override;
  const mark = pile?.mark ?? "";
  const fault = (message: string): never => {
    throw new DomainError("invalid", message, [{ field: "requirement", message }]);
  };
  const holding = overridesAt(pile?.overrides ?? [], null).find((one) => overrideKey(one) === overrideKey(override));
  if (holding) fault(`Drawing ${holding.drawing} changes this on pile ${mark} already. End that one first.`);
  if (change.kind === "jacket") return;
  const line = lines.find((one) => one.line === id);
  if (!line || line.notApplicable) return fault(`Point ${id} does not apply on pile ${mark}.`);
  if (folded.get(id)?.standing.trail) {
    throw new DomainError("conflict", `Point ${id} of pile ${mark} is signed and stays as it was signed. A drawing reaches it after it is reopened or rejected.`);
  }
  if (buildPlan({ lines: [line] }, { mark, overrides: [override] }).stray.length > 0) fault(`Point ${id} of pile ${mark} has no such requirement.`);
}
