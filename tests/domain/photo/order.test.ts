import fc from "fast-check";
import { describe, expect, it } from "vitest";

import type { DerivedInstant } from "#lib/domain/photo/derived-instant";
import { orderVerdict } from "#lib/domain/photo/order";
import { at } from "#tests/domain/photo/claims-factory";

const day = (time: string) => at(`2026-10-20T${time}Z`);
const clock = (instant: number) => new Date(instant).toISOString().slice(11, 19);
const taken = (uncertaintySeconds: number | null, ...times: string[]): DerivedInstant => ({
  instant: times.length === 1 ? day(times[0]!) : null,
  hypotheses: times.map(day),
  basis: times.length === 0 ? "NONE" : "EXIF_OFFSET",
  uncertaintySeconds,
  cameraSays: null,
  cameraOffsetSeconds: null,
  cameraDriftSeconds: null,
  correctedBySeconds: null,
  flags: [],
});
const WINDOW = { from: day("09:05:00"), to: day("10:40:00") };
const RECEIVED = day("20:00:00");

describe("the order verdict", () => {
  it.each([
    [taken(60, "10:12:00"), "in order", null, "taken 10:12:00 ± 60 s, window 09:05:00 to 10:40:00: in order"],
    [taken(60, "10:40:30"), "cannot tell", null, "taken 10:40:30 ± 60 s, window closes 10:40:00: cannot tell"],
    [taken(60, "11:12:00"), "too late", 1920, "taken 11:12:00 ± 60 s, window closes 10:40:00: too late"],
    [taken(60, "09:03:59"), "too early", 61, "taken 09:03:59 ± 60 s, window opens 09:05:00: too early"],
    [taken(60, "09:04:00"), "cannot tell", null, "taken 09:04:00 ± 60 s, window opens 09:05:00: cannot tell"],
    [taken(60, "09:06:00"), "in order", null, "taken 09:06:00 ± 60 s, window 09:05:00 to 10:40:00: in order"],
    [taken(60, "10:39:00"), "in order", null, "taken 10:39:00 ± 60 s, window 09:05:00 to 10:40:00: in order"],
    [taken(60, "10:39:01"), "cannot tell", null, "taken 10:39:01 ± 60 s, window closes 10:40:00: cannot tell"],
    [taken(60, "10:41:00"), "cannot tell", null, "taken 10:41:00 ± 60 s, window closes 10:40:00: cannot tell"],
    [taken(60, "10:41:01"), "too late", 61, "taken 10:41:01 ± 60 s, window closes 10:40:00: too late"],
    [taken(4000, "09:50:00"), "cannot tell", null, "taken 09:50:00 ± 4000 s, window 09:05:00 to 10:40:00: cannot tell"],
    [taken(2.15, "10:12:00"), "in order", null, "taken 10:12:00 ± 2.2 s, window 09:05:00 to 10:40:00: in order"],
    [taken(60, "10:12:00", "11:12:00"), "cannot tell", null, "taken 10:12:00 or 11:12:00 ± 60 s, window closes 10:40:00: cannot tell"],
    [taken(60, "11:12:00", "12:12:00"), "too late", 1920, "taken 11:12:00 or 12:12:00 ± 60 s, window closes 10:40:00: too late"],
    [taken(60, "07:12:00", "08:12:00"), "too early", 3180, "taken 07:12:00 or 08:12:00 ± 60 s, window opens 09:05:00: too early"],
    [taken(60, "20:01:01"), "clock in doubt", 61, "taken 20:01:01 ± 60 s, received 20:00:00: clock in doubt"],
    [taken(60, "10:12:00", "21:12:00"), "in order", null, "taken 10:12:00 ± 60 s, window 09:05:00 to 10:40:00: in order"],
    [taken(null), "no time", null, "no usable time: no time"],
  ] as const)("%#: %s", (derived, verdict, bySeconds, words) => {
    expect(orderVerdict(derived, WINDOW, RECEIVED, clock)).toEqual({ verdict, bySeconds, words });
  });

  it("judges against receipt where nothing comes before", () => {
    expect(orderVerdict(taken(60, "00:00:00"), { from: null, to: RECEIVED }, RECEIVED, clock)).toEqual({
      verdict: "in order",
      bySeconds: null,
      words: "taken 00:00:00 ± 60 s, window closes 20:00:00: in order",
    });
  });

  it("finds nothing in order in a window that closed before it opened, because the work was hidden meanwhile", () => {
    const closed = { from: day("13:00:00"), to: day("11:00:00") };
    expect(orderVerdict(taken(60, "12:00:00"), closed, RECEIVED, clock)).toMatchObject({ verdict: "too late", bySeconds: 3600 });
    expect(orderVerdict(taken(60, "10:00:00"), closed, RECEIVED, clock).verdict).toBe("too early");
  });

  it("doubts the clock, not the photo, when a phone's clock was found wrong and the readings differ", () => {
    const derived: DerivedInstant = { ...taken(120, "10:12:00", "11:12:00"), flags: [{ code: "METADATA_CONFLICT", measured: "phone clock 3600 s behind the server", limit: "120 s" }] };
    expect(orderVerdict(derived, WINDOW, RECEIVED, clock).verdict).toBe("clock in doubt");
  });

  it("says opens or closes by the bound that is missed", () => {
    expect(orderVerdict(taken(60, "11:34:20"), { from: day("11:34:00"), to: day("15:00:00") }, RECEIVED, clock).words).toBe("taken 11:34:20 ± 60 s, window opens 11:34:00: cannot tell");
  });
});

describe("whatever readings there are", () => {
  const minutes = fc.integer({ min: -600, max: 900 });
  const readings = fc.array(minutes, { minLength: 1, maxLength: 5 });
  const u = fc.integer({ min: 0, max: 7200 });
  const window = fc.record({ opens: fc.option(minutes), lasts: fc.integer({ min: -60, max: 600 }) });
  const derivedOf = (times: readonly number[], uncertaintySeconds: number): DerivedInstant => ({ ...taken(uncertaintySeconds), hypotheses: times.map((minute) => day("09:00:00") + minute * 60_000), basis: "SITE_ZONE_ASSUMED" });
  const windowOf = ({ opens, lasts }: { opens: number | null; lasts: number }) => ({ from: opens === null ? null : day("09:00:00") + opens * 60_000, to: day("09:00:00") + ((opens ?? 0) + lasts) * 60_000 });

  it("one more never turns a photo into one that is in order", () => {
    fc.assert(
      fc.property(readings, minutes, u, window, (times, more, uncertainty, bounds) => {
        const verdict = (all: readonly number[]) => orderVerdict(derivedOf(all, uncertainty), windowOf(bounds), RECEIVED, clock).verdict;
        if (verdict([...times, more]) === "in order" && verdict(times) !== "clock in doubt") expect(verdict(times)).toBe("in order");
      }),
      { numRuns: 2000 },
    );
  });

  it("a wider uncertainty never does, unless it lets in what was later than receipt", () => {
    fc.assert(
      fc.property(readings, u, u, window, (times, one, other, bounds) => {
        const verdict = (uncertainty: number) => orderVerdict(derivedOf(times, uncertainty), windowOf(bounds), RECEIVED, clock).verdict;
        const [narrow, wide] = [Math.min(one, other), Math.max(one, other)];
        if (verdict(wide) === "in order") expect(["in order", "clock in doubt"]).toContain(verdict(narrow));
      }),
      { numRuns: 2000 },
    );
  });

  it("shifting them, the window and receipt by one constant changes nothing", () => {
    fc.assert(
      fc.property(readings, u, window, fc.integer({ min: -1e9, max: 1e9 }), (times, uncertainty, bounds, shift) => {
        const [derived, { from, to }] = [derivedOf(times, uncertainty), windowOf(bounds)];
        const moved = { ...derived, hypotheses: derived.hypotheses.map((instant) => instant + shift) };
        const { verdict, bySeconds } = orderVerdict(derived, { from, to }, RECEIVED, clock);
        expect(orderVerdict(moved, { from: from === null ? null : from + shift, to: to + shift }, RECEIVED + shift, clock)).toMatchObject({ verdict, bySeconds });
      }),
    );
  });
});
