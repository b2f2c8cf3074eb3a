import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { MINUTE } from "#lib/domain/instant";
import type { Asking } from "#lib/services/ask";
import { entryView } from "#lib/services/entry-view";
import { receiveDocument } from "#lib/services/receive-document";
import { standingSubmission } from "#lib/services/decide-point";
import { CODE, crewProject, decide, MORNING, type CrewProject } from "#tests/services/crew-project";
import { sendSoundWork } from "#tests/services/whole-pile";

const dataDir = mkdtempSync(path.join(tmpdir(), "lastlook-document-"));
const clock = { now: MORNING };
const REPORT = Buffer.from("%PDF-1.4\n% approved submittals\n%%EOF\n");
let project: CrewProject;
let qc: Asking;

async function* once(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}

const attach = () => receiveDocument(qc, { sheet: CODE, line: "P1", use: "submittals", title: "Approved submittals", stream: once(REPORT) });
const received = async () => {
  const view = await entryView(project.house.db.read, qc, await project.sheet(CODE), "P1", await project.member("qc"));
  return view.documents.flatMap((document) => document.received.map(({ id }) => id));
};

beforeAll(async () => {
  project = await crewProject(dataDir, () => clock.now);
  qc = await project.as("qc");
});
afterAll(async () => {
  await project.house.db.close();
  rmSync(dataDir, { recursive: true, force: true });
});

describe("a document that a point asks for", () => {
  it("is one receipt when it is sent twice for one attempt", async () => {
    const [first, second] = [await attach(), await attach()];
    expect(second).toEqual(first);
    expect(await received()).toEqual([first.id]);
  });

  it("is asked for anew after a rejection, and the same file may be sent again", async () => {
    clock.now += 30 * MINUTE;
    await sendSoundWork(qc, { sheet: CODE, line: "P1", began: clock.now - 20 * MINUTE, ended: clock.now });
    clock.now += MINUTE;
    await decide(project, clock, CODE, "P1", "engineer", "reject", ["DOC"], "Revision 2 is wanted for the resin.");
    expect(await received()).toEqual([]);

    clock.now += MINUTE;
    const again = await attach();
    expect(await received()).toEqual([again.id]);
    await sendSoundWork(qc, { sheet: CODE, line: "P1", began: clock.now, ended: clock.now });
    const standing = await standingSubmission(project.house.db.read, await project.sheet(CODE), "P1");
    expect(standing?.submission.attempt).toBe(2);
    expect(standing?.submission.documents.map(({ id }) => id)).toContain(again.id);
  });
});
