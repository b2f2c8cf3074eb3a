import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Revision } from "#lib/domain/requirement/set";
import { differenceView, type DifferenceView } from "#lib/services/difference-view";
import { addOverride } from "#lib/services/override-pile";
import { refusedWith } from "#tests/services/refused";
import { issue, keepDraft, look, nextRevision, reviewed, stricter } from "#tests/services/revised-project";
import { smallProject, type SmallProject, type Who } from "#tests/services/small-project";

let small: SmallProject;
let c: Revision;
const view = async (letters: { from?: string; to?: string } = {}, who: Who = "engineer"): Promise<DifferenceView | null> =>
  differenceView(small.house.db.read, small.project, await small.member(who), letters, small.clock.now);

beforeAll(async () => {
  small = await smallProject();
});
afterAll(() => small.close());

describe("two revisions side by side", () => {
  it("are none where there is one", async () => {
    expect(await view()).toBeNull();
    expect(await refusedWith(view({ to: "C" }))).toMatchObject({ code: "not-found" });
    expect(await refusedWith(view({ from: "A" }))).toMatchObject({ code: "not-found" });
  });

  it("show the draft with every signed value against both limits, worst first, and what each answer would do", async () => {
    await small.bringToLastLook("02-A");
    await small.sendPreparation("02-B", ["2.6", "2.6", "2.7", "3.0"]);
    await addOverride(small.as("engineer"), {
      id: "own", pileId: "02-C", override: { line: "13", drawing: "S-9", words: "Slow mixer.", change: { kind: "quantity", quantity: "mixed", rule: { form: "min", limit: "8", unit: "min", inclusive: true } } },
    });
    c = await nextRevision(small, stricter);
    await keepDraft(small, c);
    const shown = (await view())!;
    expect(shown).toMatchObject({
      title: "Revision B against C", finding: "3 changes: of 3 signed points 1 would fail, 1 needs a value", counts: { wouldFail: 1, needsValue: 1, stillMeets: 1, noValue: 9 },
      standing: { is: "not reviewed", because: "Revision C is not reviewed yet. The QC manager reviews it first." },
    });
    expect(await refusedWith(issue(small, await look(small, c), {}))).toMatchObject({ code: "blocked", message: expect.stringContaining("not reviewed yet") });
    const [preparation, survey, resin] = shown.changes;
    expect(preparation).toMatchObject({ number: 1, title: "Profile", place: "4 Surface preparation, Steel H pile", covers: "H:4", none: "No value yet: 02-C, 02-D.", own: [] });
    expect(preparation?.figures).toMatchObject([
      {
        axis: { unit: "mil", was: { min: "1.5", max: "4" }, now: { min: "2.5", max: "4" } },
        rows: [
          { mark: "02-A", standsAt: "11 Cover-up release", value: "2.4", shown: "Profile, face 1: 2.4 mil", finding: "would fail", amount: "0.1 mil short", retroactive: "in doubt: 4 to 10" },
          { mark: "02-B", standsAt: "4 Surface preparation", value: "2.6", finding: "still meets", amount: "", retroactive: "no change" },
        ],
      },
    ]);
    expect(survey?.figures).toMatchObject([{ axis: null, rows: [{ mark: "02-A", value: null, shown: "not measured", finding: "needs a value", amount: "never taken", retroactive: "in doubt: 5, 10" }] }]);
    expect(resin).toMatchObject({ figures: [{ rows: [] }], none: "No value yet: 02-A … D (4 piles).", own: ["02-C keeps its own: Slow mixer (S-9)"] });
    expect(preparation?.options.map(({ applies, consequence }) => [applies, consequence])).toEqual([
      ["piles that start", "2 piles in work keep B and say so; 2 piles not started take C."],
      ["open points", "2 open points take C: 4 on 02-C, 02-D. Nothing signed is touched."],
      ["retroactive", "1 in doubt (02-A), 1 still meets. 2 points that stand on them too. Open points at once."],
    ]);
    expect(resin?.options.at(-1)?.consequence).toBe("Nothing is signed: the same, but at once.");
  });

  it("offer the answers to the engineer once it is reviewed, and to nobody else", async () => {
    await reviewed(small, c);
    const seen = await look(small, c);
    expect((await view())?.standing).toMatchObject({ is: "reviewed", impactDigest: seen.digest, reviewedBy: "Hedda Lorne", ownAnswer: true });
    expect((await view({}, "qc"))?.standing).toMatchObject({ is: "reviewed", ownAnswer: false });
    expect((await view({}, "crew"))?.standing).toMatchObject({ ownAnswer: false });
  });

  it("keep what was shown when one is approved, with what was answered", async () => {
    await issue(small, await look(small, c), { "4": "retroactive" });
    const shown = (await view({ from: "B", to: "C" }))!;
    expect(shown).toMatchObject({ counts: { wouldFail: 1, needsValue: 1, stillMeets: 1, noValue: null }, standing: { is: "approved", by: "Bram Selwick", reviewedBy: "Hedda Lorne", words: "Maker's letter." } });
    expect(shown.changes.map(({ answer, options }) => [answer, options])).toEqual([["Retroactive", []], ["From now, piles that start", []], ["From now, piles that start", []]]);
    expect(shown.changes[0]?.figures.at(-1)?.rows.map(({ mark, finding, retroactive }) => [mark, finding, retroactive])).toEqual([["02-A", "would fail", "was put in doubt"], ["02-B", "still meets", "was left as signed"]]);
    expect((await view())?.title).toBe("Revision B against C");
  });

  it("compare only what they ask for where others lie between them", async () => {
    const d = await nextRevision(small, (line) => (line.line === "15" ? { ...line, name: "Wrap, pressed" } : line));
    await keepDraft(small, d);
    const shown = (await view({ from: "B", to: "D" }))!;
    expect([shown.standing.is, shown.finding, shown.changes.every(({ options, answer }) => options.length === 0 && answer === null)]).toEqual(["apart", "4 changes", true]);
    expect((await view({ to: "D" }))?.title).toBe("Revision C against D");
  });
});
