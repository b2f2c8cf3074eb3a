import { describe, expect, it } from "vitest";
import { stillHolds, TOO_OLD_MS } from "../../app/p/[project]/cameras/clock/measured-clock";

const measured = { offsetMs: 1_200, uncertaintyMs: 40, wallMs: 1_000_000, counterMs: 5_000 };
const after = (wallMs: number, counterMs = wallMs) => stillHolds(measured, measured.wallMs + wallMs, measured.counterMs + counterMs);

describe("a measured clock holds", () => {
  it.each([
    ["while both clocks of the device go on alike", after(60_000), true],
    ["at the end of its time", after(TOO_OLD_MS), true],
    ["no longer than that", after(TOO_OLD_MS + 1), false],
    ["no more when the device's clock was set forward", after(60_000 + 3_600_000, 60_000), false],
    ["no more when it was set back", after(60_000 - 5_000, 60_000), false],
    ["no more when the counter stood still while the device slept", after(40_000, 2_000), false],
  ])("%s", (_, holds, expected) => {
    expect(holds).toBe(expected);
  });
});
