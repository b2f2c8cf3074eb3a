import { randomUUID } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { findPile, listPiles, listPointRows, listSchedules, type Pile } from "#lib/db/pile";
import type { PileFacts } from "#lib/records/kind";
import { factsOf, importSchedule, undoSchedule, type ScheduleInput } from "#lib/services/import-schedule";
import { expectRebuilt } from "#tests/services/rebuilt";
import { refusedWith } from "#tests/services/refused";
import { CODE, smallProject } from "#tests/services/small-project";

let small: Awaited<ReturnType<typeof smallProject>>;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

const facts = (bent: string, row: string, more: Partial<PileFacts> = {}): PileFacts => ({
  bent, row, mark: `${bent}-${row}`, type: "H", latitude: "44.00001", longitude: "-63.50002", overrides: [], drawn: null, words: "", ...more,
});
const schedule = (parts: Partial<ScheduleInput> = {}): ScheduleInput => ({
  id: randomUUID(), title: "piles.xlsx", sha256: "a".repeat(64), rows: 1, changeOrder: null, added: [], changed: [], removed: [], words: "", ...parts,
});
const added = (...piles: PileFacts[]) => piles.map((pile) => ({ id: `new-${pile.mark}`, ...pile }));
const tx = () => small.house.db.read;
const pileOf = async (mark: string): Promise<Pile> => (await findPile(tx(), CODE, { mark }))!;

describe("a schedule", () => {
  it("brings 180 piles in as one act, each with its points, and the log gives the same tables again", async () => {
    const piles = Array.from({ length: 30 }, (_, bent) => ["A", "B", "C", "D", "E", "F"].map((row) => facts(String(11 + bent), row))).flat();
    await importSchedule(small.as("qc"), schedule({ rows: 180, added: added(...piles) }));
    expect(await listPiles(tx(), CODE)).toHaveLength(184);
    const rows = await listPointRows(tx(), CODE);
    expect(rows.filter(({ sheet }) => sheet === "new-11-A")).toEqual(rows.filter(({ sheet }) => sheet === "new-40-F").map((row) => ({ ...row, sheet: "new-11-A" })));
    expect(rows.filter(({ sheet }) => sheet === "new-40-F").length).toBeGreaterThan(3);
    await expectRebuilt(small.house);
  });

  it.each([
    ["a mark that stands", [facts("02", "A", { bent: "05", row: "Z" })], "There is a pile 02-A already."],
    ["one mark twice", [facts("05", "A"), facts("05", "B", { mark: "05-A" })], "There is a pile 05-A already."],
    ["two piles at one place", [facts("05", "A"), facts("05", "A", { mark: "X-1" })], "X-1: pile 05-A stands in bent 05, row A."],
    ["a type that no set has", [facts("05", "A"), facts("05", "B", { type: "Q" })], "05-B: revision B has no pile type Q."],
    ["an override of nothing", [facts("05", "A", { overrides: [{ line: "99", drawing: "S-1", words: "x", change: { kind: "wait", from: "4", hours: "2" } }] })], "05-A: drawing S-1 changes something at point 99 that type H does not have."],
  ])("with %s is refused whole, with the pile named", async (_what, piles, message) => {
    const error = await refusedWith(importSchedule(small.as("qc"), schedule({ added: added(...piles) })));
    expect(error.faults.map((fault) => fault.message)).toContain(message);
    expect(await listPiles(tx(), CODE)).toHaveLength(4);
    expect(await listSchedules(tx(), CODE)).toEqual([]);
  });

  it("is the administrator's and the QC manager's to bring in", async () => {
    expect(await refusedWith(importSchedule(small.as("crew"), schedule({ added: added(facts("05", "A")) })))).toMatchObject({ code: "not-allowed" });
  });

  it("is taken back as one act, until work begins on any of its piles", async () => {
    const input = schedule({ added: added(facts("05", "A"), facts("05", "B")) });
    await importSchedule(small.as("qc"), input);
    expect(await refusedWith(undoSchedule(small.as("qc"), { id: randomUUID(), scheduleId: input.id, words: " " }))).toMatchObject({ code: "invalid" });
    await undoSchedule(small.as("qc"), { id: randomUUID(), scheduleId: input.id, words: "Wrong drawing." });
    expect(await listPiles(tx(), CODE)).toHaveLength(4);
    expect(await listSchedules(tx(), CODE)).toMatchObject([{ undone: true }]);
    expect(await refusedWith(undoSchedule(small.as("qc"), { id: randomUUID(), scheduleId: input.id, words: "again" }))).toMatchObject({ code: "blocked" });

    const second = schedule({ added: added(facts("05", "A", { mark: "05-A" })).map((pile) => ({ ...pile, id: "begun" })) });
    await importSchedule(small.as("qc"), second);
    await small.sendPreparation("begun");
    expect(await refusedWith(undoSchedule(small.as("qc"), { id: randomUUID(), scheduleId: second.id, words: "no" }))).toMatchObject({ code: "blocked", message: expect.stringContaining("Work has begun on 05-A") });
  });
});

describe("a change order", () => {
  it("takes a pile out of scope with its records, and nothing more is sent there", async () => {
    expect(await refusedWith(importSchedule(small.as("qc"), schedule({ removed: [{ pileId: "02-D", words: "Deleted." }] })))).toMatchObject({ code: "invalid", faults: [{ field: "changeOrder" }] });
    const order = schedule({ changeOrder: "CO-2", removed: [{ pileId: "02-D", words: "Deleted." }] });
    await importSchedule(small.as("qc"), order);
    expect(await pileOf("02-D")).toMatchObject({ scope: "out", state: "out of scope" });
    expect(await refusedWith(small.submit("crew", "02-D", "4", {}))).toMatchObject({ message: expect.stringContaining("out of scope by a change order") });
    expect(await refusedWith(importSchedule(small.as("qc"), schedule({ changeOrder: "CO-3", removed: [{ pileId: "02-D", words: "Again." }] })))).toMatchObject({ code: "invalid" });

    await undoSchedule(small.as("qc"), { id: randomUUID(), scheduleId: order.id, words: "It stays." });
    expect(await pileOf("02-D")).toMatchObject({ scope: "in", state: "not started" });
  });

  it("changes what the drawings say of a pile, and undone gives it back as it was", async () => {
    const before = factsOf(await pileOf("02-C"));
    const override = { line: "5", drawing: "S-9", words: "Heavy section.", change: { kind: "quantity", quantity: "left", rule: { form: "min", limit: "90", unit: "%", inclusive: true } } } as const;
    const order = schedule({ changeOrder: "CO-1", changed: [{ pileId: "02-C", now: { ...before, latitude: "44.1", longitude: "-63.4", overrides: [override] } }] });
    await importSchedule(small.as("qc"), order);
    expect(factsOf(await pileOf("02-C"))).toMatchObject({ latitude: "44.1", overrides: [override] });
    expect((await small.sheet("02-C")).lines.find(({ line }) => line === "5")?.quantities[0]?.override?.drawing).toBe("S-9");
    await undoSchedule(small.as("qc"), { id: randomUUID(), scheduleId: order.id, words: "No." });
    expect(factsOf(await pileOf("02-C"))).toEqual(before);
  });
});
