import { expect, it } from "vitest";
import { HOUR, MINUTE, SECOND } from "#lib/domain/instant";
import { cameraInstant } from "#lib/domain/photo/camera-instant";

const ZONE = "America/Halifax"; // UTC −04:00 in December, the clocks go back on 2026-11-01 at 05:00 UTC
const AT = Date.parse("2026-12-02T08:00:00-04:00");
const of = (cameraSays: string | null, { instant = AT as number | null, uncertaintySeconds = 2 as number | null } = {}) => cameraInstant({ instant, cameraSays, uncertaintySeconds }, ZONE);

it.each<[string, string | null, number | null]>([
  ["on the site's time", "2026:12:02 08:00:00", null],
  ["off by no more than the uncertainty", "2026:12:02 08:00:02", null],
  ["fast by minutes", "2026:12:02 08:07:30", AT + 7.5 * MINUTE],
  ["left on summer time", "2026:12:02 09:00:00", AT + HOUR],
  ["on UTC", "2026:12:02 12:00:00", AT + 4 * HOUR],
  ["never set", "2016:01:01 00:00:10", Date.parse("2016-01-01T00:00:10-04:00")],
  ["silent", null, null],
  ["unreadable", "0000:00:00 00:00:00", null],
])("of a camera that is %s", (_, says, shown) => expect(of(says)).toBe(shown));

it("is none where the instant cannot be told", () => expect(of("2026:12:02 09:00:00", { instant: null })).toBeNull());

it("is held against the uncertainty of the instant, and against a second at the least", () => {
  expect(of("2026:12:02 08:01:30", { uncertaintySeconds: 120 })).toBeNull();
  expect(of("2026:12:02 08:00:01", { uncertaintySeconds: null })).toBeNull();
  expect(of("2026:12:02 08:00:03", { uncertaintySeconds: null })).toBe(AT + 3 * SECOND);
});

it("is held against what is asked for at the least", () => {
  const shown = { instant: AT, uncertaintySeconds: 2 };
  expect(cameraInstant({ ...shown, cameraSays: "2026:12:02 08:00:03" }, ZONE, MINUTE)).toBeNull();
  expect(cameraInstant({ ...shown, cameraSays: "2026:12:02 08:07:30" }, ZONE, MINUTE)).toBe(AT + 7.5 * MINUTE);
});

it("is no correction where the clocks show the same time a second time", () => {
  for (const offset of ["-03:00", "-04:00"]) expect(of("2026:11:01 01:30:00", { instant: Date.parse(`2026-11-01T01:30:00${offset}`) })).toBeNull();
});
