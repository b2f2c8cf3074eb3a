import path from "node:path";
import { readdirSync } from "node:fs";
import type { House } from "#lib/services/house";

export type Method = "GET" | "POST" | "PUT" | "DELETE";
export const METHODS: readonly Method[] = ["GET", "POST", "PUT", "DELETE"];

type Handler = (request: Request, context: { params: Promise<Record<string, string>> }) => Promise<Response>;

/** Where the tests say that a call comes from. */
const HOST = "lastlook.example";

export function filesOf(folder: string, name: RegExp): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .map((file) => path.posix.join(folder, file.replaceAll("\\", "/")))
    .filter((file) => name.test(file))
    .sort();
}

/** "app/api/v1/projects/[project]/route.ts" as "/api/v1/projects/{project}". */
export function templateOf(file: string): string {
  return file.replace(/^app/, "").replace(/\/(route|page)\.tsx?$/, "").replace(/\[(\w+)\]/g, "{$1}") || "/";
}

/** The handlers that a route file exports, by method. */
export async function handlersOf(file: string): Promise<Partial<Record<Method, Handler>>> {
  return (await import(path.resolve(file))) as Partial<Record<Method, Handler>>;
}

/** Makes the route handlers of this process work on a test's own house. */
export function serveFrom(house: House): void {
  (globalThis as { lastlookHouse?: House }).lastlookHouse = house;
}

export interface Call {
  method: Method;
  params?: Record<string, string>;
  query?: string;
  bearer?: string;
  cookie?: string;
  headers?: Record<string, string>;
  body?: BodyInit;
}

/** Calls a handler with a request like the one a client sends. */
export async function call(template: string, { method, params = {}, query = "", bearer, cookie, headers = {}, body }: Call): Promise<Response> {
  const handler = (await handlersOf(`app${template.replace(/\{(\w+)\}/g, "[$1]")}/route.ts`))[method];
  if (!handler) throw new Error(`${template} does not export ${method}.`);
  const place = template.replace(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(params[name] ?? name));
  const request = new Request(`http://${HOST}${place}${query}`, {
    method,
    headers: {
      host: HOST,
      ...(bearer ? { authorization: `Bearer ${bearer}` } : {}),
      ...(cookie ? { cookie: `lastlook-session=${cookie}` } : {}),
      ...headers,
    },
    ...(body === undefined ? {} : { body, duplex: "half" }),
  });
  return handler(request, { params: Promise.resolve(params) });
}

export const OWN_ORIGIN = { origin: `http://${HOST}` };

/** A problem answer's own words. */
export async function problem(response: Response): Promise<{ type: string; status: number; detail: string; errors: { field: string | null; message: string }[] }> {
  return (await response.json()) as Awaited<ReturnType<typeof problem>>;
}
