import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { MINUTE, type Instant } from "#lib/domain/instant";
import type { PointStatus } from "#lib/domain/point/fold";
import { batchScale, batchView } from "#lib/services/batch-view";
import type { Sheet } from "#lib/services/sheet";
import { crewProject, MORNING, type CrewProject } from "#tests/services/crew-project";

let folder: string;
let crew: CrewProject;
beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), "lastlook-batch-"));
  crew = await crewProject(folder, () => MORNING);
});
afterAll(async () => {
  await crew.house.db.close();
  rmSync(folder, { recursive: true, force: true });
});

const celsius = (quantity: string, number: string) => ({ kind: "measured" as const, quantity, item: null, instrumentId: null, measured: { text: `${number} °C`, number, unit: "°C" as const, si: String(Number(number) + 273.15), resolution: "0.1" } });

/** The sheet with work standing at points of the batch: line to when it began and ended, minutes after the morning. */
async function withWork(work: Record<string, [number, number]>, parts = [celsius("part-a", "20"), celsius("air", "10")]): Promise<Sheet> {
  const sheet = await crew.sheet("02-A");
  const folded = new Map(sheet.folded);
  const submissions = new Map(sheet.history.submissions);
  for (const [line, [began, ended]] of Object.entries(work)) {
    const status = folded.get(line)!;
    const submission = { submissionId: `s${line}`, workBegan: MORNING + began * MINUTE, workEnded: MORNING + ended * MINUTE };
    folded.set(line, { ...status, standing: { ...status.standing, trail: { submission, withdrawn: null, checks: [], decisions: [] } } } as unknown as PointStatus);
    submissions.set(`s${line}`, { entries: line === "13" ? parts : [], lots: line === "13" ? [{ use: "resin-a", lotId: "lot-resin A" }] : [] } as never);
  }
  return { ...sheet, folded, history: { ...sheet.history, submissions } };
}
const view = async (...given: Parameters<typeof withWork>) => batchView(await withWork(...given));

// The set's resin lasts 60 min at 20 °C and half as long for each 10 °C more.
describe("a batch of resin over the points it goes through", () => {
  it("is none before it is mixed", async () => expect(await view({})).toBeNull());

  it("says by when it has to be wrapped and tied", async () => {
    expect(await view({ 13: [0, 10] })).toMatchObject({ headline: "To be wrapped and tied by Wed 08:40", lots: "A-783", bad: false, lines: ["13", "14", "15", "16"] });
  });

  it("is in time so far, and then all of it", async () => {
    expect(await view({ 13: [0, 10], 14: [12, 20], 15: [22, 45] })).toMatchObject({ headline: "In time so far, 25 min left when the last was sent" });
    expect(await view({ 13: [0, 10], 14: [12, 20], 15: [22, 45], 16: [46, 70] })).toMatchObject({ headline: "All of it ended inside the pot life, 0 min left", bad: false });
  });

  it("is past its pot life where each point alone looks fine", async () => {
    const late = await view({ 13: [0, 10], 14: [12, 20], 15: [22, 45], 16: [46, 71] });
    expect(late).toMatchObject({ headline: "Point 16 ended 1 min past the pot life", bad: true });
    expect(late!.work.map(({ line }) => line)).toEqual(["13", "14", "15", "16"]);
  });

  it("is shorter by the warmest of its parts and the air", async () => {
    expect(await view({ 13: [0, 10] }, [celsius("part-a", "20"), celsius("air", "30")])).toMatchObject({ headline: "To be wrapped and tied by Wed 08:10" });
  });

  it("cannot be told without a temperature, and says so", async () => {
    expect(await view({ 13: [0, 10], 15: [22, 45] }, [])).toMatchObject({ headline: "Cannot tell: no temperature of the batch was read", unknown: true, latest: null });
  });

  it("is drawn from its beginning to after its last end, in order", async () => {
    const batch = (await view({ 13: [0, 10], 15: [22, 45], 16: [46, 90] }))!;
    const place = batchScale(batch);
    const ends: Instant[] = [...batch.work.flatMap(({ began, ended }) => [began, ended]), batch.latest!];
    expect(place(MORNING)).toBe(0);
    expect(Math.max(...ends.map(place))).toBeLessThan(1);
  });
});
