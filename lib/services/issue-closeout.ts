import { mkdir } from "node:fs/promises";
import path from "node:path";
import { siteTime } from "#lib/domain/clock/site-time";
import { DomainError } from "#lib/domain/refusal";
import { writePackage } from "#lib/closeout/bag";
import { listCloseouts, saveCloseoutFile } from "#lib/db/closeout";
import { fileRecord, signCurrentHead } from "#lib/db/journal";
import { requireMember, type Asking } from "#lib/services/ask";
import { assemblePackage } from "#lib/services/closeout-package";

export interface IssuedCloseout {
  number: number;
  sha256: string;
  bytes: number;
  path: string;
}

export interface CloseoutInput {
  /** Made where it is asked for, so that asking twice is one issue. */
  id: string;
  kind: "interim" | "final";
}

/** Whoever issues: a member, or the one who operates the server and has its files at hand. */
interface Issuer {
  id: string;
  name: string;
  organisation: string;
}

/** One package is written at a time: each takes its number when it is done. */
let last: Promise<unknown> = Promise.resolve();

function inTurn<T>(work: () => Promise<T>): Promise<T> {
  const next = last.then(work);
  last = next.catch(() => undefined);
  return next;
}

/**
 * Issues a closeout package. "interim" is always possible; "final" is refused with the list of what is open. A later
 * issue never replaces an earlier one. The digest of its tag manifest goes into the log.
 */
export async function issueCloseout(asking: Asking, input: CloseoutInput): Promise<IssuedCloseout> {
  const member = await requireMember(asking.house.db.read, asking, "issue closeout");
  return inTurn(() => issue(asking, { id: member.personId, name: member.name, organisation: member.organisation }, input));
}

/** The same by whoever operates the server; the record names no person. */
export async function issueCloseoutAsOperator(place: Pick<Asking, "house" | "project">, input: CloseoutInput): Promise<IssuedCloseout> {
  return inTurn(() => issue(place, { id: "system", name: "Operator of the server", organisation: place.project.name }, input));
}

async function issue({ house, project }: Pick<Asking, "house" | "project">, issuer: Issuer, { id, kind }: CloseoutInput): Promise<IssuedCloseout> {
  const before = (await listCloseouts(house.db.read, project.id)).find((one) => one.id === id);
  if (before?.file) return { number: before.number, sha256: before.file.sha256, bytes: before.file.bytes, path: path.join(house.dataDir, before.file.path) };

  const at = await house.now(project);
  await house.db.write((tx) => signCurrentHead(tx, house.key, project.id, at));
  const { input, logSize } = await house.db.snapshot(async (tx) => {
    const number = ((await listCloseouts(tx, project.id))[0]?.number ?? 0) + 1;
    const issuedBy = { name: issuer.name, organisation: issuer.organisation };
    return assemblePackage(tx, { house, project }, { number, kind, issuedAt: siteTime(at, project.zone).iso, issuedBy, scope: "whole" }, at);
  });
  if (kind === "final" && input.issue.openItems.length > 0) {
    throw new DomainError(
      "blocked",
      `A final package cannot be issued: ${input.issue.openItems.length} items are open. An interim one can.`,
      input.issue.openItems.map((message) => ({ field: null, message })),
    );
  }
  const folder = path.join(house.dataDir, "closeout", project.code);
  await mkdir(folder, { recursive: true });
  const file = path.join(folder, `${project.code}-issue-${input.issue.number}-${kind}.zip`);
  const written = await writePackage(input, file);
  await house.db.write(async (tx) => {
    await fileRecord(tx, house.key, {
      projectId: project.id,
      actor: issuer.id,
      at: await house.now(project),
      body: {
        kind: "closeout",
        id,
        number: input.issue.number,
        issueKind: kind,
        tagManifestSha256: written.tagmanifestSha256,
        logSize,
        openItems: input.issue.openItems,
        by: issuer.id,
        issuedAt: new Date(at).toISOString(),
      },
    });
    // Relative, so that a data folder can be moved.
    await saveCloseoutFile(tx, { issueId: id, path: path.relative(house.dataDir, file), sha256: written.zipSha256, bytes: written.bytes });
  });
  return { number: input.issue.number, sha256: written.zipSha256, bytes: written.bytes, path: file };
}
