import { afterEach, expect, it, vi } from "vitest";
import { z } from "zod";
import { DomainError, REFUSAL_CODES, type RefusalCode } from "#lib/domain/refusal";
import { problemOf, ProblemSchema, shapeFaults, unauthenticated } from "#lib/edge/problem";
import { refusalOf } from "#lib/edge/form-state";

const STATUS: Record<RefusalCode, number> = { invalid: 422, "not-allowed": 403, "not-found": 404, conflict: 409, blocked: 409 };

afterEach(() => vi.restoreAllMocks());

it.each(REFUSAL_CODES)("answers a refusal %s as a problem of RFC 9457 with its own type", async (code) => {
  const faults = [{ field: "gapMm", message: "Give a number." }];
  const response = problemOf(new DomainError(code, "Mend one thing.", faults));
  expect(response.status).toBe(STATUS[code]);
  expect(response.headers.get("content-type")).toBe("application/problem+json");
  expect(ProblemSchema.parse(await response.json())).toMatchObject({ type: `urn:lastlook:problem:${code}`, status: STATUS[code], detail: "Mend one thing.", errors: faults });
});

it("gives blocked and conflict one status and two types", async () => {
  const typeOf = async (code: RefusalCode): Promise<string> => ProblemSchema.parse(await problemOf(new DomainError(code, "No.")).json()).type;
  expect(await typeOf("blocked")).not.toBe(await typeOf("conflict"));
});

it("answers a bug with a reference that stands in the log, and with nothing of the bug itself", async () => {
  const log = vi.spyOn(console, "error").mockImplementation(() => undefined);
  const response = problemOf(new TypeError("secret path and table name"));
  const text = await response.text();
  const { detail, status } = ProblemSchema.parse(JSON.parse(text));
  const reference = /[0-9a-f]{8}-[0-9a-f-]{27}/.exec(detail)?.[0] ?? "no reference";
  expect(status).toBe(500);
  expect(text).not.toMatch(/secret|TypeError|\.ts/);
  expect(log.mock.calls.flat().map(String).join(" ")).toContain(reference);
});

it("says how to sign in when somebody has no session", async () => {
  const response = unauthenticated();
  expect(response.status).toBe(401);
  expect(response.headers.get("www-authenticate")).toContain("Bearer");
});

it("names the member of a body that has not the asked shape", () => {
  const read = z.object({ values: z.array(z.object({ text: z.string() })) }).safeParse({ values: [{ text: "1" }, { text: 2 }] });
  expect(read.success ? [] : shapeFaults(read.error).map(({ field }) => field)).toEqual(["values.1.text"]);
});

it("turns a refusal into what a form shows, and lets a bug pass", async () => {
  expect(await refusalOf(async () => undefined)).toBeNull();
  expect(await refusalOf(async () => { throw new DomainError("blocked", "Not yet.", [{ field: null, message: "Point 4 is open." }]); })).toEqual({
    message: "Not yet.", faults: [{ field: null, message: "Point 4 is open." }],
  });
  await expect(refusalOf(async () => { throw new RangeError("bug"); })).rejects.toThrow(RangeError);
});
