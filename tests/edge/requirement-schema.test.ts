import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import type { Revision } from "#lib/domain/requirement/set";
import { revisionJsonSchema } from "#lib/edge/schema/requirement";
import { writeRevision } from "#seed/specification";

describe("the published schema of a revision", () => {
  const schema = revisionJsonSchema();
  const validate = new Ajv2020({ strict: false }).compile(schema);
  const spoiled = (change: (revision: Revision) => unknown): unknown => {
    const revision = structuredClone(writeRevision("B"));
    return change(revision) ?? revision;
  };

  it("is JSON Schema 2020-12 and takes a whole revision", () => {
    expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
    expect(validate(writeRevision("B"))).toBe(true);
  });

  it.each([
    ["a number that is no text", (one: Revision): unknown => void Object.assign(one.sets[0]!, { coreWidthIn: 12.045 })],
    ["a limit in words", (one: Revision): unknown => void Object.assign(one.sets[0]!.lines[0]!.quantities[0]!.rule, { limit: "six" })],
    ["a unit that is not known", (one: Revision): unknown => void Object.assign(one.sets[0]!.lines[0]!.quantities[0]!.rule, { unit: "cubits" })],
    ["a member of no meaning", (one: Revision): unknown => ({ ...one, more: true })],
    ["no sets", (one: Revision): unknown => ({ ...one, sets: [] })],
  ] as const)("refuses %s", (_what, change) => {
    expect(validate(spoiled(change))).toBe(false);
  });
});
