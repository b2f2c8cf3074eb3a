import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DIGIT_KEYS, FRACTION_KEYS, keyed, type Key } from "../../app/p/[project]/point/entry/keyed";
import { parseMeasured } from "#lib/domain/quantity/measured";

const press = (...keys: Key[]): string => keys.reduce(keyed, "");

describe("the keypad", () => {
  it.each<[Key[], string]>([
    [["3", "2", "½", "¼", "⅛"], "32 7/8"],
    [["½"], "1/2"],
    [["½", "½"], "1"],
    [["6", "½", "¼", "¼"], "7"],
    [["7", "1⁄16"], "7 1/16"],
    [["7", "⅛", "⅛"], "7 1/4"],
    [["3", "3", ".", "6"], "33.6"],
    [[".", "5"], "0.5"],
    [["1", ".", "."], "1."],
    [["0", "7"], "7"],
    [["3", "2", "½", "9"], "32 1/2"],
    [["3", ".", "5", "½"], "3.5"],
    [["3", "2", "½", "del"], "32"],
    [["3", "2", "del"], "3"],
    [["del"], ""],
  ])("makes of %j the value %s", (keys, text) => {
    expect(press(...keys)).toBe(text);
  });

  it("never makes a text that cannot be read as a length, once a digit or fraction stands", () => {
    const keys = fc.array(fc.constantFrom<Key>(...DIGIT_KEYS, ...(Object.keys(FRACTION_KEYS) as Key[]), "del"), { maxLength: 20 });
    fc.assert(
      fc.property(keys, (pressed) => {
        const text = press(...pressed);
        fc.pre(text !== "" && !text.endsWith("."));
        expect(parseMeasured(text, { dimension: "length", unit: "in" }).ok).toBe(true);
      }),
    );
  });
});
