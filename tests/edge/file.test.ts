import { createHash, randomUUID } from "node:crypto";
import { readdirSync, rmSync } from "node:fs";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import sharp from "sharp";
import { openSession } from "#lib/services/sign-in";
import { call, handlersOf, problem, serveFrom, type Call } from "#tests/access/call";
import { smallProject, type SmallProject } from "#tests/services/small-project";

const PHOTOS = "/api/v1/projects/{project}/points/{sheet}/{line}/photos";
const AT = { project: "small", sheet: "02-A", line: "4" };

let site: SmallProject;
let bearer: string;
let picture: Buffer<ArrayBuffer>;

async function noise(mean: number): Promise<Buffer<ArrayBuffer>> {
  return Buffer.from(await sharp({ create: { width: 640, height: 480, channels: 3, background: "#777", noise: { type: "gaussian", mean, sigma: 30 } } }).jpeg().toBuffer());
}

const sha256 = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");
const send = (parts: Partial<Call> = {}) => call(PHOTOS, { method: "PUT", params: AT, query: "?subject=close-up", bearer, body: picture, ...parts });
const arrivals = (): string[] => readdirSync(path.join(site.house.dataDir, "incoming"));

beforeAll(async () => {
  site = await smallProject();
  serveFrom(site.house);
  bearer = (await openSession(site.house, "crew", "test")).token;
  picture = await noise(120);
});
afterAll(() => site.close());

describe("an upload", () => {
  it("is answered with a receipt that names the digest, and sending it again gives the same receipt", async () => {
    const id = randomUUID();
    const headers = { "content-length": String(picture.length), "x-content-sha256": sha256(picture), "x-file-name": encodeURIComponent("Nahaufnahme – Süd.jpg") };
    const first = await send({ query: `?subject=close-up&id=${id}`, headers });
    expect(first.status).toBe(201);
    const receipt = (await first.json()) as Record<string, unknown>;
    expect(receipt).toMatchObject({ id, sha256: sha256(picture), bytes: picture.length });
    const again = await send({ query: `?subject=close-up&id=${id}`, headers });
    expect(await again.json()).toEqual(receipt);
    expect(arrivals()).toEqual([]);
  });

  it.each<[string, () => Partial<Call>, string]>([
    ["with another digest than was announced", () => ({ headers: { "x-content-sha256": "0".repeat(64) } }), "DIGEST_MISMATCH"],
    ["that broke off", () => ({ headers: { "content-length": String(picture.length + 1) } }), "INTERRUPTED"],
    ["that is announced as larger than 50 MB", () => ({ headers: { "content-length": String(50 * 1024 ** 2 + 1) } }), "TOO_LARGE"],
    ["of nothing", () => ({ body: new Uint8Array(0) }), "EMPTY"],
    ["of words", () => ({ body: "this is no picture, however it is named" }), "NOT_AN_IMAGE"],
  ])("%s is refused and leaves nothing behind", async (_name, parts, code) => {
    const response = await send(parts());
    expect(response.status).toBe(422);
    expect((await problem(response)).errors.map(({ field }) => field)).toEqual([code]);
    expect(arrivals()).toEqual([]);
  });

  it("of more than 50 MB is refused on the way, without an announced length", async () => {
    let sent = 0;
    const chunk = new Uint8Array(1024 ** 2);
    const body = new ReadableStream<Uint8Array>({
      pull: (controller) => {
        sent += chunk.length;
        controller.enqueue(chunk);
      },
    });
    const response = await send({ body });
    expect(response.status).toBe(422);
    expect((await problem(response)).errors[0]?.field).toBe("TOO_LARGE");
    expect(sent).toBeLessThan(60 * 1024 ** 2);
    expect(arrivals()).toEqual([]);
  });

  it("under the id of another photo is refused, and the id has to be one", async () => {
    const id = randomUUID();
    expect((await send({ query: `?subject=close-up&id=${id}`, body: await noise(60) })).status).toBe(201);
    expect((await send({ query: `?subject=close-up&id=${id}`, body: await noise(90) })).status).toBe(409);
    expect((await problem(await send({ query: "?subject=close-up&id=1" }))).errors.map(({ field }) => field)).toEqual(["id"]);
  });

  it("needs its subject, and a readable device header", async () => {
    expect((await problem(await send({ query: "" }))).errors.map(({ field }) => field)).toEqual(["subject"]);
    expect((await problem(await send({ headers: { "x-device": "{" } }))).errors.map(({ field }) => field)).toEqual(["x-device"]);
    expect((await send({ headers: { "x-device": '{"position": "here"}' } })).status).toBe(422);
  });
});

describe("a stored photo", () => {
  const read = (place: string, params: Record<string, string>, method: Call["method"] = "GET") => call(`/api/v1/projects/{project}/photos/{photo}/${place}`, { method, params: { project: "small", ...params }, bearer });
  let photo: string;
  beforeAll(async () => {
    photo = ((await (await send()).json()) as { id: string }).id;
  });

  it("comes back byte for byte, as a file to keep and not to run", async () => {
    const response = await read("original", { photo });
    expect(sha256(new Uint8Array(await response.arrayBuffer()))).toBe(sha256(picture));
    expect(response.headers.get("content-type")).toBe("image/jpeg");
    expect(response.headers.get("content-disposition")).toBe(`attachment; filename="${sha256(picture)}.jpg"`);
    expect(response.headers.get("content-security-policy")).toContain("sandbox");
    expect(response.headers.get("x-content-type-options")).toBe("nosniff");
    expect(response.headers.get("cache-control")).toBe("private, max-age=31536000, immutable");
  });

  it("can be asked for its headers alone", async () => {
    const { GET } = await handlersOf("app/api/v1/projects/[project]/photos/[photo]/original/route.ts");
    const request = new Request("http://lastlook.example/", { method: "HEAD", headers: { authorization: `Bearer ${bearer}` } });
    const response = await GET!(request, { params: Promise.resolve({ project: "small", photo }) });
    expect([response.status, response.headers.get("content-length"), response.body]).toEqual([200, String(picture.length), null]);
  });

  it("is shown reduced, in the two sizes that are made and no other", async () => {
    const reduced = (px: string) => call("/api/v1/projects/{project}/renditions/{px}/{sha256}", { method: "GET", params: { project: "small", px, sha256: sha256(picture) }, bearer });
    const response = await reduced("320");
    const { width, format } = await sharp(await response.arrayBuffer()).metadata();
    expect([width, format]).toEqual([320, "jpeg"]);
    expect(response.headers.get("cache-control")).toBe("private, max-age=31536000, immutable");
    expect((await reduced("0320")).status).toBe(404);
    expect((await reduced("../original")).status).toBe(404);
  });

  it("is shown again after its reduced copies were lost", async () => {
    rmSync(path.join(site.house.dataDir, "renditions"), { recursive: true });
    const response = await call("/api/v1/projects/{project}/renditions/{px}/{sha256}", { method: "GET", params: { project: "small", px: "1600", sha256: sha256(picture) }, bearer });
    expect((await sharp(await response.arrayBuffer()).metadata()).format).toBe("jpeg");
  });

  it("does not exist under an id that was never given", async () => {
    expect((await read("original", { photo: "../../keys" })).status).toBe(404);
  });
});

describe("a JSON body", () => {
  const post = (body: BodyInit) => call("/api/v1/projects/{project}/points/{sheet}/{line}/temperatures", { method: "POST", params: AT, bearer, body });

  it.each<[string, BodyInit, RegExp]>([
    ["that is no JSON", "{", /not JSON/],
    ["that is not UTF-8", new Uint8Array([0x22, 0xff, 0x22]), /not JSON/],
    ["of another shape", "[]", /shape/],
    ["with a member that is not known", JSON.stringify({ id: randomUUID(), at: "2026-12-02T08:00", temperature: "12", unit: "°C", more: 1 }), /shape/],
    ["of more than 1 MB", `"${"x".repeat(1024 ** 2)}"`, /larger than 1 MB/],
  ])("%s is refused with the reason", async (_name, body, reason) => {
    const response = await post(body);
    expect(response.status).toBe(422);
    expect((await problem(response)).detail).toMatch(reason);
  });
});

describe("a session over the API", () => {
  const signIn = (body: unknown) => call("/api/v1/sessions", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body) });

  it("is opened with name and password, works as a bearer token, and is over once it is ended", async () => {
    const opened = await signIn({ signIn: "Owner", password: "quiet harbour" });
    expect(opened.status).toBe(201);
    const { token } = (await opened.json()) as { token: string };
    const projects = (await (await call("/api/v1/projects", { method: "GET", bearer: token })).json()) as { projects: { code: string }[] };
    expect(projects.projects.map(({ code }) => code)).toEqual(["small"]);
    expect((await call("/api/v1/sessions/current", { method: "DELETE", bearer: token })).status).toBe(204);
    expect((await call("/api/v1/projects", { method: "GET", bearer: token })).status).toBe(401);
  });

  it("says the same of a wrong name and of a wrong password", async () => {
    const answers = await Promise.all([signIn({ signIn: "nobody", password: "quiet harbour" }), signIn({ signIn: "owner", password: "loud harbour" })]);
    expect(answers.map(({ status }) => status)).toEqual([403, 403]);
    const [one, other] = await Promise.all(answers.map(problem));
    expect(one?.detail).toBe(other?.detail);
  });
});

describe("the state of the installation", () => {
  it("is told with what the database says of itself", async () => {
    const health = (await (await call("/api/health", { method: "GET" })).json()) as Record<string, unknown>;
    expect(health).toMatchObject({ ok: true, pragmas: { journal_mode: "wal", synchronous: 2, foreign_keys: 1, recursive_triggers: 1, busy_timeout: 5000 } });
    expect(health.sqlite).toMatch(/^3\.\d+\.\d+$/);
    expect(health.freeBytes).toBeGreaterThan(0);
  });
});
