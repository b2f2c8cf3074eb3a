import { describe, expect, it } from "vitest";
import type { Override } from "#lib/domain/plan/plan";
import { applyAnswers, type SchedulePile } from "#lib/domain/schedule/apply-answers";
import { compareSchedule, type ScheduleDifference } from "#lib/domain/schedule/compare";
import { readRows } from "#lib/domain/schedule/read-rows";
import { proposed, SETS, sheet } from "./sheet";

interface Standing extends SchedulePile {
  id: string;
}
const pile = (mark: string, changes: Partial<Standing> = {}): Standing => ({
  id: `pile-${mark}`, bent: mark.slice(0, 2), row: mark.slice(3), mark, type: "H", latitude: "44.001", longitude: "-63.5", overrides: [], drawn: null, words: "", ...changes,
});

function against(standing: Standing[], rows: string[][]): ScheduleDifference<Standing> {
  const grid = sheet(rows);
  const mapping = proposed(grid);
  const { ready, aside } = applyAnswers(readRows(grid, mapping), {}, { sets: SETS, site: null, markColumn: 0 }, "Schedule 2");
  expect(aside).toEqual([]);
  return compareSchedule(ready.map((one) => one.pile), standing, mapping, SETS);
}
const marks = ({ added, removed, changed, same }: ScheduleDifference<Standing>) => ({
  added: added.map(({ mark }) => mark), removed: removed.map(({ mark }) => mark), changed: changed.map(({ was }) => was.mark), same: same.map(({ mark }) => mark),
});

describe("a schedule against the piles that stand", () => {
  it("tells added, removed, changed and same piles apart, and keeps the piles themselves", () => {
    const difference = against([pile("11-A"), pile("11-B"), pile("11-C")], [["Mark", "Type"], ["11-A", "H"], ["11-B", "C"], ["11-D", "H"]]);
    expect(marks(difference)).toEqual({ added: ["11-D"], removed: ["11-C"], changed: ["11-B"], same: ["11-A"] });
    expect(difference.changed[0]).toMatchObject({ was: { id: "pile-11-B" }, changes: [{ field: "type", was: "H", now: "C" }] });
  });

  it("finds nothing to do in a schedule that was brought in already", () => {
    const rows = [["Mark", "Type", "Height (ft)", "Top El (ft)", "Bars", "Lat", "Lon", "Remarks"], ["11-A", "H", "3.25", "4.5", "8-#5", "44.0010", "-63.50", "bracket"], ["11-B", "H", "3.5", "", "", "", "", ""]];
    const first = against([], rows).added.map((one): Standing => ({ ...one, id: one.mark }));
    expect(marks(against(first, rows))).toEqual({ added: [], removed: [], changed: [], same: ["11-A", "11-B"] });
  });

  it("leaves alone what no column speaks of", () => {
    const own: Override = { line: "18", change: { kind: "quantity", quantity: "width", rule: { form: "min", limit: "3", unit: "in", inclusive: true } }, drawing: "S-9", words: "Wider seal." };
    const was = pile("11-A", { overrides: [own], drawn: { top: { value: "4.5", unit: "ft" }, bottom: null }, words: "bracket" });
    expect(marks(against([was], [["Mark", "Type"], ["11-A", "H"]])).same).toEqual(["11-A"]);
    const { changed } = against([was], [["Mark", "Type", "Height (in)"], ["11-A", "H", "40"]]);
    expect(changed[0]?.now).toMatchObject({ latitude: "44.001", words: "bracket", drawn: was.drawn });
    expect(changed[0]?.now.overrides[0]).toEqual(own);
  });

  it("shows each field with its old and new value", () => {
    const { changed } = against(
      [pile("11-A", { bent: "12", drawn: { top: { value: "4.5", unit: "ft" }, bottom: null } })],
      [["Mark", "Bent", "Type", "Top El (ft)", "Bars", "Lat", "Lon"], ["11-A", "11", "H", "4.75", "6-#5", "44.002", "-63.5"]],
    );
    expect(changed[0]?.changes).toEqual([
      { field: "bent", was: "12", now: "11" },
      { field: "position", was: "44.001, -63.5", now: "44.002, -63.5" },
      { field: "top elevation", was: "4.5 ft", now: "4.75 ft" },
      { field: "requirement", was: "7 quantity size: the type's", now: "7 quantity size: #5" },
    ]);
  });

  it("takes back an override of a column whose cell is empty now", () => {
    const header = ["Mark", "Type", "Height (in)"];
    const before = against([], [header, ["11-A", "H", "40"]]).added.map((one): Standing => ({ ...one, id: one.mark }));
    const { changed } = against(before, [header, ["11-A", "H", ""]]);
    expect(changed[0]?.now.overrides).toEqual([]);
    expect(changed[0]?.changes.map(({ was, now }) => [was, now])).toEqual([["jacket heightIn: 40", "jacket heightIn: the type's"], ["12 quantity height: 40 in ± 0.25", "12 quantity height: the type's"]]);
  });

  it("proposes that a pile in the place of another was renumbered", () => {
    const difference = against([pile("11-A")], [["Mark", "Bent", "Row", "Type"], ["P11A", "11", "A", "H"]]);
    expect(marks(difference)).toMatchObject({ added: ["P11A"], removed: ["11-A"] });
    expect(difference.renumbered).toMatchObject([{ was: { id: "pile-11-A" }, now: { mark: "P11A" } }]);
  });
});
