import Ajv2020 from "ajv/dist/2020";
import { describe, expect, it } from "vitest";
import { call, filesOf, handlersOf, templateOf } from "#tests/access/call";

interface Operation {
  summary: string;
  security?: unknown[];
  parameters?: { name: string; in: string; required: boolean }[];
  requestBody?: { content: Record<string, { schema: Record<string, unknown> }> };
  responses: Record<string, { description: string }>;
}
interface Document {
  openapi: string;
  info: { title: string; version: string };
  components: { schemas: Record<string, Record<string, unknown>>; securitySchemes: Record<string, unknown> };
  paths: Record<string, Record<string, Operation>>;
}

async function document(): Promise<Document> {
  return (await (await call("/api/openapi.json", { method: "GET" })).json()) as Document;
}

async function operations(): Promise<{ path: string; method: string; operation: Operation }[]> {
  const { paths } = await document();
  return Object.entries(paths).flatMap(([path, methods]) => Object.entries(methods).map(([method, operation]) => ({ path, method, operation })));
}

describe("the description of the API", () => {
  it("is OpenAPI 3.1 and describes every handler under /api, and nothing else", async () => {
    const { openapi, paths } = await document();
    const handlers = await Promise.all(filesOf("app/api", /\/route\.ts$/).map(async (file) => Object.keys(await handlersOf(file)).map((method) => `${method.toLowerCase()} ${templateOf(file)}`)));
    expect(openapi).toMatch(/^3\.1\./);
    expect(Object.entries(paths).flatMap(([path, methods]) => Object.keys(methods).map((method) => `${method} ${path}`)).sort()).toEqual(handlers.flat().sort());
  });

  it("declares every part of a path as a parameter, once", async () => {
    for (const { path, operation } of await operations()) {
      const declared = (operation.parameters ?? []).filter((one) => one.in === "path").map(({ name }) => name);
      expect(declared).toEqual([...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name));
    }
  });

  it("answers each operation with one success and the problem of RFC 9457", async () => {
    for (const { operation } of await operations()) {
      expect(Object.keys(operation.responses).filter((status) => status.startsWith("2"))).toHaveLength(1);
      expect(JSON.stringify(operation.responses.default)).toContain("#/components/schemas/Problem");
    }
  });

  it("carries schemas that a validator of JSON Schema 2020-12 takes, and that judge as the handlers do", async () => {
    const ajv = new Ajv2020({ strict: false, validateFormats: false });
    const bodies = (await operations()).flatMap(({ path, operation }) => {
      const schema = operation.requestBody?.content["application/json"]?.schema;
      return schema ? [{ path, judge: ajv.compile(schema) }] : [];
    });
    expect(bodies.length).toBeGreaterThan(7);
    for (const { judge } of bodies) expect(judge({})).toBe(false);
    const session = bodies.find(({ path }) => path === "/api/v1/sessions");
    expect(session?.judge({ signIn: "ora", password: "x" })).toBe(true);
    expect(session?.judge({ signIn: "ora", password: "x", more: 1 })).toBe(false);
  });
});
