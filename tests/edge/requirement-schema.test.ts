import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { revisionJsonSchema } from "#lib/edge/schema/requirement";
import { writeRevision } from "#seed/specification";

describe("the published schema of a revision", () => {
  const schema = revisionJsonSchema();
  const validate = new Ajv2020({ strict: false }).compile(schema);
  const spoiled = (change: (revision: ReturnType<typeof writeRevision>) => unknown): unknown => {
    const revision = structuredClone(writeRevision("B"));
    return change(revision) ?? revision;
  };

  it("is JSON Schema 2020-12 and takes a whole revision", () => {
    expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
    expect(validate(writeRevision("B"))).toBe(true);
  });

  it.each([
    ["a number that is no text", (one: ReturnType<typeof writeRevision>) => void ((one.sets[0]!.coreWidthIn as unknown) = 12.045)],
    ["a limit in words", (one: ReturnType<typeof writeRevision>) => void Object.assign(one.sets[0]!.lines[0]!.quantities[0]!.rule, { limit: "six" })],
    ["a unit that is not known", (one: ReturnType<typeof writeRevision>) => void Object.assign(one.sets[0]!.lines[0]!.quantities[0]!.rule, { unit: "cubits" })],
    ["a member of no meaning", (one: ReturnType<typeof writeRevision>) => ({ ...one, more: true })],
    ["no sets", (one: ReturnType<typeof writeRevision>) => ({ ...one, sets: [] })],
  ] as const)("refuses %s", (_what, change) => {
    expect(validate(spoiled(change))).toBe(false);
  });
});
