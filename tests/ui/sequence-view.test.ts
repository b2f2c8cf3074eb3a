import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { askedView, closer, dayAround, minutes, moved, viewQuery, wider } from "../../app/p/[project]/piles/[mark]/sequence/asked-view";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const zone = "America/Halifax"; // UTC −03:00 until 1 November 2026, 02:00, then −04:00
const at = (text: string): number => Date.parse(text);
const whole = { from: at("2026-10-05T07:00:00-03:00"), to: at("2026-12-03T23:20:00-04:00") };
const ask = (asked: Record<string, string | string[]>) => askedView(asked, { zone, lines: [{ line: "4" }, { line: "11" }], whole });

describe("what was asked to be shown", () => {
  it("is the whole where nothing was asked", () => {
    expect(ask({})).toEqual({ view: null, point: null, problems: [] });
    expect(ask({ from: "", to: " ", point: "" })).toEqual({ view: null, point: null, problems: [] });
  });

  it.each([
    { what: "site times", from: "2026-12-02T09:00", to: "2026-12-02T18:30", wanted: ["2026-12-02T09:00:00-04:00", "2026-12-02T18:30:00-04:00"] },
    { what: "whole days", from: "2026-12-01", to: "2026-12-02", wanted: ["2026-12-01T00:00:00-04:00", "2026-12-03T00:00:00-04:00"] },
    { what: "times with their offset", from: "2026-12-02T09:00-04:00", to: "2026-12-02T14:00Z", wanted: ["2026-12-02T09:00:00-04:00", "2026-12-02T10:00:00-04:00"] },
    { what: "the longer of two meanings in the hour that the clocks repeat", from: "2026-11-01T01:30", to: "2026-11-01T01:30", wanted: ["2026-11-01T01:30:00-03:00", "2026-11-01T01:30:00-04:00"] },
  ])("takes $what", ({ from, to, wanted }) => {
    expect(ask({ from, to })).toEqual({ view: { from: at(wanted[0]!), to: at(wanted[1]!) }, point: null, problems: [] });
  });

  it("reaches to the end of the record, or from its beginning, where one edge was given", () => {
    expect(ask({ from: "2026-12-02T09:00" }).view?.to).toBe(whole.to);
    expect(ask({ to: "2026-12-02T09:00" }).view?.from).toBe(whole.from);
  });

  it.each<{ what: string; asked: Record<string, string>; field: string; says: string }>([
    { what: "no time", asked: { from: "yesterday" }, field: "from", says: "The beginning is not a time." },
    { what: "a day that does not exist", asked: { to: "2026-02-30" }, field: "to", says: "The end is not a time." },
    { what: "an hour that does not exist", asked: { from: "2026-12-02T25:00-04:00" }, field: "from", says: "The beginning is not a time." },
    { what: "a time that the clocks jump over", asked: { from: "2026-03-08T02:30" }, field: "from", says: "The beginning is a time that the clocks on site jump over." },
    { what: "an end before the beginning", asked: { from: "2026-12-02", to: "2026-12-01T12:00" }, field: "to", says: "The end lies before the beginning." },
    { what: "a view too short to show anything", asked: { from: "2026-12-02T09:00", to: "2026-12-02T09:05" }, field: "to", says: "shorter than 15 minutes" },
    { what: "a year that was mistyped", asked: { from: "0206-12-02T09:00", to: "2026-12-02T09:00" }, field: "from", says: "runs from Mon 5 Oct 2026, 07:00 −03:00 to Thu 3 Dec 2026, 23:20 −04:00" },
    { what: "a point that the plan does not have", asked: { point: "99" }, field: "point", says: "no such point" },
  ])("shows the whole and says what is wrong for $what", ({ asked, field, says }) => {
    const { view, problems } = ask(asked);
    expect(view).toBeNull();
    expect(problems).toMatchObject([{ field, message: expect.stringContaining(says) }]);
  });

  it("takes the first of a parameter that comes twice", () => {
    expect(ask({ point: ["4", "11"] }).point).toBe("4");
  });

  it("never throws and never shows nonsense, whatever stands in the address", () => {
    const text = fc.oneof(fc.string(), fc.constantFrom("9999-12-31", "0000-00-00", "2026-12-02T09:00+99:99", "-1", "Infinity", "2026-12-02T09:00"));
    fc.assert(
      fc.property(text, text, text, (from, to, point) => {
        const { view, problems } = ask({ from, to, point });
        if (view) expect(view.to - view.from).toBeGreaterThanOrEqual(15 * MINUTE);
        expect(problems.every(({ message }) => !/NaN|Infinity|undefined/.test(message))).toBe(true);
      }),
    );
  });
});

describe("the steps from one view to the next", () => {
  const view = { from: at("2026-12-02T08:00:00-04:00"), to: at("2026-12-02T16:00:00-04:00") };

  it("show half of it about its middle, down to a quarter of an hour", () => {
    expect(closer(view)).toEqual({ from: view.from + 2 * HOUR, to: view.to - 2 * HOUR });
    expect(closer({ from: 0, to: 20 * MINUTE })).toBeNull();
  });

  it("show half of it about what is looked at, never beyond it", () => {
    expect(closer(view, view.from + 5 * HOUR)).toEqual({ from: view.from + 3 * HOUR, to: view.to - HOUR });
    expect(closer(view, view.from + HOUR)).toEqual({ from: view.from, to: view.from + 4 * HOUR });
    expect(closer(view, view.to + HOUR)).toEqual(closer(view));
  });

  it("show twice of it, and in the end the whole", () => {
    expect(wider(view, whole)).toEqual({ from: view.from - 4 * HOUR, to: view.to + 4 * HOUR });
    expect(wider(whole, whole)).toBeNull();
  });

  it("move half of it, not past the record", () => {
    expect(moved(view, -1, whole)).toEqual({ from: view.from - 4 * HOUR, to: view.to - 4 * HOUR });
    expect(moved({ from: whole.to - HOUR, to: whole.to + 3 * HOUR }, 1, whole)).toBeNull();
  });

  it("know the site's day, which is an hour longer when the clocks go back", () => {
    const { from, to } = dayAround(at("2026-11-01T12:00:00-04:00"), zone);
    expect((to - from) / HOUR).toBe(25);
  });

  it("come back from the address as they went into it, also over a change of the clocks", () => {
    fc.assert(
      fc.property(fc.integer({ min: whole.from, max: whole.to }), fc.integer({ min: 15, max: 9_000 }), (from, long) => {
        const view = minutes({ from, to: from + long * MINUTE });
        expect(ask(Object.fromEntries(new URLSearchParams(viewQuery({ view, point: "4" }, zone))))).toEqual({ view, point: "4", problems: [] });
      }),
    );
  });
});
