import { randomUUID } from "node:crypto";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Override } from "#lib/domain/plan/plan";
import { assemblePackage } from "#lib/services/closeout-package";
import { decisionView } from "#lib/services/decision-view";
import { addOverride, endOverride } from "#lib/services/override-pile";
import { pileView } from "#lib/services/pile-view";
import { receivedView } from "#lib/services/received-view";
import { expectRebuilt } from "#tests/services/rebuilt";
import { refusedWith } from "#tests/services/refused";
import { smallProject, type SmallProject, type Who } from "#tests/services/small-project";

let small: SmallProject;
const begin = async (): Promise<void> => void (small = await smallProject());
const close = (): Promise<void> => small.close();

const profile = (min: string): Override => ({
  line: "4", drawing: "S-114 rev. 2", words: "Old coating stays in the flange.",
  change: { kind: "quantity", quantity: "profile", rule: { form: "each", of: "face", count: 4, sample: null, rule: { form: "range", min, max: "4.0", unit: "mil", inclusiveMin: true, inclusiveMax: true } } },
});
const wait: Override = { line: "11", drawing: "S-114 rev. 2", words: "Sheltered.", change: { kind: "wait", from: "4", hours: "72" } };
const jacket: Override = { line: "15", drawing: "S-115", words: "Short jacket.", change: { kind: "jacket", field: "heightIn", value: "30" } };
const add = (override: Override, pileId = "02-A", who: Who = "engineer") => addOverride(small.as(who), { id: randomUUID(), pileId, override });
const end = (override: Override, pileId = "02-A", who: Who = "engineer") => endOverride(small.as(who), { id: randomUUID(), pileId, override });
const limit = async (mark: string): Promise<unknown> => {
  const rule = (await small.sheet(mark)).lines.find(({ line }) => line === "4")?.quantities[0]?.rule;
  return rule?.form === "each" && rule.rule.form === "range" ? rule.rule.min : null;
};

describe("a requirement of one pile only", () => {
  beforeEach(begin);
  afterEach(close);

  it("holds for what is not signed, on that pile alone, and what is signed while it holds stays under it when it ends", async () => {
    await add(profile("2.5"));
    expect([await limit("02-A"), await limit("02-B")]).toEqual(["2.5", "1.5"]);
    await small.sendPreparation("02-A", ["2.6", "2.6", "2.7", "3.0"]);
    await end(profile("2.5"));
    expect(await limit("02-A")).toBe("2.5");
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "reject", { codes: ["WORK"], words: "Streaks." });
    expect(await limit("02-A")).toBe("1.5");
  });

  it("never reaches what is signed, until it is open again", async () => {
    await small.sendPreparation("02-A", ["2.0", "2.6", "2.7", "3.0"]);
    expect(await refusedWith(add(profile("2.5")))).toMatchObject({ code: "conflict" });
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "reject", { codes: ["WORK"], words: "Streaks." });
    await add(profile("2.5"));
    expect(await limit("02-A")).toBe("2.5");
  });

  it("stands with its drawing wherever the value is: pile, entry, decision, package", async () => {
    await add(profile("2.5"));
    await add(wait);
    await add(jacket);
    await small.sendPreparation("02-A", ["2.6", "2.6", "2.7", "3.0"]);
    const sheet = await small.sheet("02-A");
    const inspector = await small.member("inspector");
    const pile = await pileView(small.house.db.read, sheet, inspector);
    expect(pile.overrides.map(({ line, was, now, drawing }) => [line, was, now, drawing])).toEqual([
      ["4", "1.5 … 4.0 mil", "2.5 … 4.0 mil", "S-114 rev. 2"], ["11", "24 h", "72 h", "S-114 rev. 2"], ["15", "42", "30", "S-115"],
    ]);
    expect([pile.elevation.heightIn, pile.mayOverride]).toEqual([30, null]);
    const decision = await decisionView(small.house.db.read, sheet, "4", inspector);
    expect(decision.values[0]?.override).toEqual({ words: "Old coating stays in the flange, S-114 rev. 2", was: "1.5 … 4.0 mil" });
    const received = await receivedView(small.house.db.read, sheet, "4", await small.member("crew"));
    expect(received?.values[0]?.override).toEqual({ drawing: "S-114 rev. 2", was: "1.5 … 4.0 mil" });
    const issue = { number: 1, kind: "interim" as const, issuedAt: "2026-12-02T12:00:00-04:00", issuedBy: { name: "x", organisation: "y" }, scope: "whole" as const };
    const { input } = await assemblePackage(small.house.db.read, small, issue, small.clock.now);
    const packed = input.piles.find(({ mark }) => mark === "02-A");
    expect(packed?.points[0]?.quantities[0]?.requirementWords).toBe("2.5 … 4.0 mil (this pile only: S-114 rev. 2; type: 1.5 … 4.0 mil)");
    expect(packed?.facts[0]?.words).toContain("× 30 in");
    const column = async (table: string, name: string): Promise<Set<unknown>> => {
      const { columns, rows } = input.tables.find((one) => one.name === table)!;
      const found = new Set<unknown>();
      for await (const row of rows) found.add(row[columns.findIndex((one) => one.name === name)]);
      return found;
    };
    expect(await column("measurements", "thisPileOnly")).toEqual(new Set(["S-114 rev. 2: Old coating stays in the flange."]));
    expect(await column("points", "revision")).toEqual(new Set(["B"]));
  });

  it("is offered to the engineer for open points, and the ones that hold to be taken back", async () => {
    await small.sendPreparation("02-A", ["2.6", "2.6", "2.7", "3.0"]);
    await add(wait);
    const choices = (await pileView(small.house.db.read, await small.sheet("02-A"), await small.member("engineer"))).mayOverride;
    expect(choices?.requirements.map(({ value }) => value)).toEqual(["5|quantity|left", "10|quantity|each-ring", "13|quantity|mixed", "15|quantity|layers"]);
    expect(choices?.holding).toEqual([{ value: "0", label: "11: Sheltered. (S-114 rev. 2)" }]);
  });

  it("is one record when it is sent twice, and the same again from the log alone", async () => {
    const input = { id: randomUUID(), pileId: "02-A", override: profile("2.5") };
    const first = await addOverride(small.as("engineer"), input);
    small.later(2);
    expect(await addOverride(small.as("engineer"), input)).toEqual(first);
    await end(profile("2.5"));
    await add(profile("2.0"));
    expect(await limit("02-A")).toBe("2.0");
    await expectRebuilt(small.house);
  });
});

describe("it is refused", () => {
  beforeAll(async () => {
    await begin();
    await add(wait);
  });
  afterAll(close);

  it.each<[string, Override]>([
    ["at a point that the pile has not", { ...profile("2.5"), line: "9" }],
    ["for a quantity that the point has not", { ...profile("2.5"), change: { kind: "quantity", quantity: "salt", rule: { form: "max", limit: "5", unit: "µg/cm²", inclusive: true } } }],
    ["for a wait that the point has not", { ...wait, line: "13" }],
    ["where another drawing changes it already", { ...wait, drawing: "S-200" }],
  ])("%s", async (_what, override) => {
    expect(await refusedWith(add(override))).toMatchObject({ code: "invalid", faults: [{ field: "requirement" }] });
  });

  it.each(["qc", "inspector", "crew", "owner"] as const)("to anybody but the engineer: %s", async (who) => {
    expect(await refusedWith(add(profile("2.5"), "02-B", who))).toMatchObject({ code: "not-allowed" });
    expect(await refusedWith(end(wait, "02-A", who))).toMatchObject({ code: "not-allowed" });
  });

  it("to end what does not hold, or on a pile that is not there", async () => {
    expect(await refusedWith(end({ ...wait, words: "Other words." }))).toMatchObject({ code: "conflict" });
    expect(await refusedWith(end(wait, "02-B"))).toMatchObject({ code: "conflict" });
    expect(await refusedWith(add(wait, "99-Z"))).toMatchObject({ code: "not-found" });
  });

  it("on a pile that is out of scope", async () => {
    await small.house.db.write((tx) => tx.pile.update({ where: { id: "02-D" }, data: { scope: "out" } }));
    expect(await refusedWith(add(wait, "02-D"))).toMatchObject({ code: "blocked" });
  });
});
