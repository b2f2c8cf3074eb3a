import { describe, expect, it } from "vitest";
import { calendarEntries, type CalendarClock } from "#lib/domain/clock/calendar";
import { HOUR } from "#lib/domain/instant";

const SINCE = Date.parse("2026-12-02T20:30:00Z");
const cure: CalendarClock = {
  kind: "cure", line: "17", from: "16", name: null, since: SINCE, at: SINCE + 27 * HOUR, bound: "earliest", state: "runs", sheet: "7d0c", mark: "02-A", what: "Jacket cure", changedAt: SINCE + HOUR,
};
const wait: CalendarClock = { ...cure, kind: "maximum wait", line: "19", from: "18", at: SINCE + 9 * HOUR, bound: "latest", what: "Seal checked" };
const window = { from: SINCE, to: SINCE + 4 * HOUR, opens: "tide" as const, closes: "tide" as const, project: "p1", changedAt: SINCE - HOUR };

describe("a calendar's entries", () => {
  it("say of a cure that its time is the earliest and no permission", () => {
    expect(calendarEntries([cure], [])).toEqual([
      { uid: `cure_17_16_${SINCE}_7d0c@lastlook`, start: SINCE + 27 * HOUR, end: null, summary: "02-A, point 17: Jacket cure, earliest", description: "Earliest, not a permission.", changedAt: SINCE + HOUR },
    ]);
  });

  it("keep their UID when the instant moves or the pile is marked anew, and have another for another attempt, point or pile", () => {
    const uid = (change: Partial<CalendarClock>) => calendarEntries([{ ...cure, ...change }], [])[0]?.uid;
    expect(uid({ at: SINCE + 40 * HOUR, mark: "02-B", changedAt: SINCE + 5 * HOUR })).toBe(uid({}));
    const others = [uid({}), uid({ since: SINCE + 1 }), uid({ line: "22" }), uid({ sheet: "7d0d" }), uid({ kind: "maturity" }), uid({ from: "15" })];
    expect(new Set(others).size).toBe(others.length);
  });

  it("are in order of time, with the tide as stretches", () => {
    expect(calendarEntries([cure, wait], [window]).map(({ start, end, summary }) => [(start - SINCE) / HOUR, end === null ? null : (end - SINCE) / HOUR, summary])).toEqual([
      [0, 4, "Water under the working level"], [9, null, "02-A, point 19: Seal checked, latest"], [27, null, "02-A, point 17: Jacket cure, earliest"],
    ]);
  });

  it("say what has to be redone where a wait cannot be met, and where a table ends", () => {
    expect(calendarEntries([{ ...wait, state: "cannot be met" }], [])[0]).toMatchObject({
      summary: "02-A, point 19: Seal checked, cannot be met",
      description: "Latest: what comes after it does not meet the requirement. It cannot be met by going on: point 18 has to be redone.",
    });
    expect(calendarEntries([], [{ ...window, closes: "table" }])[0]?.description).toContain("may be longer");
  });

  it("are none for what stands still", () => {
    expect(calendarEntries([{ ...cure, at: null, state: "stopped" }, { ...cure, kind: "tide", line: null, from: null, since: null }], [])).toEqual([]);
  });
});
