import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { HOUR, MINUTE } from "#lib/domain/instant";
import type { RefusalCode } from "#lib/domain/refusal";
import type { Role } from "#lib/domain/requirement/set";
import { listMembers } from "#lib/db/project";
import { readArchive } from "#lib/db/archive";
import { sha256 } from "#lib/records/canonical";
import { acceptInvitation, invitePerson, openInvitation } from "#lib/services/invite-person";
import { addMember, closeMembership } from "#lib/services/open-project";
import { confirmPassword, sessionPerson, signIn, signOut } from "#lib/services/sign-in";
import { refusedWith } from "#tests/services/refused";
import { CODE, PASSWORD, smallProject, type SmallProject } from "#tests/services/small-project";

let small: SmallProject;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

async function refusal(work: Promise<unknown>): Promise<{ code: RefusalCode; message: string; fields: (string | null)[] }> {
  const error = await refusedWith(work);
  return { code: error.code, message: error.message, fields: error.faults.map(({ field }) => field) };
}

const agent = "a phone";
const enter = (name: string, password: string) => signIn(small.house, { signIn: name, password, agent });

describe("signing in", () => {
  it("takes the name in any case, and gives a token that says who it is until it is given back", async () => {
    const { token, personId } = await enter("  Crew ", PASSWORD);
    expect(personId).toBe("crew");
    expect(await sessionPerson(small.house, token)).toBe("crew");
    expect(await sessionPerson(small.house, `${token}x`)).toBeNull();
    await signOut(small.house, token);
    expect(await sessionPerson(small.house, token)).toBeNull();
  });

  it("keeps no token, only its digest", async () => {
    const { token } = await enter("crew", PASSWORD);
    const rows = await small.house.db.read.session.findMany();
    expect(rows.map(({ tokenHash }) => tokenHash)).toEqual([sha256(token)]);
  });

  it("runs out after a shift and a bit", async () => {
    const { token, expiresAt } = await enter("crew", PASSWORD);
    expect(expiresAt).toBe(small.clock.now + 14 * HOUR);
    small.clock.now = expiresAt;
    expect(await sessionPerson(small.house, token)).toBeNull();
  });

  it("says the same of a wrong password and of a name that nobody has", async () => {
    const [wrong, unknown] = [await refusal(enter("crew", "guess")), await refusal(enter("nobody", "guess"))];
    expect(wrong).toEqual(unknown);
    expect(wrong).toMatchObject({ code: "not-allowed" });
  });

  it("rests after ten wrong passwords for one name, and for that name alone", async () => {
    for (let i = 0; i < 10; i += 1) await refusal(enter("owner", "guess"));
    expect(await refusal(enter("owner", PASSWORD))).toMatchObject({ code: "blocked" });
    expect((await enter("engineer", PASSWORD)).personId).toBe("engineer");
    small.clock.now += 5 * MINUTE;
    expect((await enter("owner", PASSWORD)).personId).toBe("owner");
  });

  it("is asked again at a sign-off", async () => {
    await confirmPassword(small.as("inspector"), PASSWORD);
    expect(await refusal(confirmPassword(small.as("inspector"), "guess"))).toMatchObject({ code: "invalid", fields: ["password"] });
    expect(await refusal(confirmPassword(small.as("inspector"), ""))).toMatchObject({ message: "Type your password to sign." });
  });
});

describe("an invitation", () => {
  const invite = (who: "qc" | "admin" | "crew" | "inspector", roles: Role[], organisationId: string, name = "Jory Pell") =>
    invitePerson({ ...small.as("qc"), personId: who }, { name, organisationId, roles });
  const join = (token: string, name = "jory") => acceptInvitation(small.house, token, { signIn: name, password: "ten letters or more", agent });
  beforeEach(() => addMember(small.house, CODE, { personId: "admin", name: "Tove Ansel", organisationId: "works", roles: ["administrator"] }, small.clock.now));

  it("lets one person join once, under a name of their own, and is logged", async () => {
    const { token } = await invite("qc", ["crew lead", "crew member"], "works");
    const { personId, token: session } = await join(token);
    expect(await sessionPerson(small.house, session)).toBe(personId);
    expect((await listMembers(small.house.db.read, CODE)).find((one) => one.personId === personId)).toMatchObject({ name: "Jory Pell", roles: ["crew lead", "crew member"], part: "contractor", left: false });
    expect(await refusal(join(token, "jory2"))).toMatchObject({ code: "not-found" });
    const last = await small.house.db.read.logEntry.findFirstOrThrow({ orderBy: { seq: "desc" } });
    expect(last).toMatchObject({ type: "member joined", actor: personId });
  });

  it("is used by one of two who try at once", async () => {
    const { token } = await invite("qc", ["crew lead"], "works");
    const both = await Promise.allSettled([join(token, "one"), join(token, "two")]);
    expect(both.map(({ status }) => status).sort()).toEqual(["fulfilled", "rejected"]);
  });

  it("runs out after a week", async () => {
    const { token, expiresAt } = await invite("qc", ["crew lead"], "works");
    small.clock.now = expiresAt;
    expect((await openInvitation(small.house, token)).project.code).toBe(CODE);
    small.clock.now = expiresAt + 1;
    expect(await refusal(join(token))).toMatchObject({ code: "not-found" });
  });

  it.each<[string, Role[], string, (string | null)[]]>([
    ["without a role", [], "works", ["roles"]],
    ["into no organisation", ["crew lead"], "nobody", ["organisationId"]],
    ["of an inspector among the contractor's people", ["inspector"], "works", ["roles"]],
    ["of a crew lead among the inspector's people", ["crew lead"], "office", ["roles"]],
    ["of an engineer who is the owner too", ["engineer", "owner"], "desk", ["roles"]],
  ])("%s is refused", async (_what, roles, organisationId, fields) => {
    expect(await refusal(invite("admin", roles, organisationId))).toMatchObject({ code: "invalid", fields });
  });

  it("of an inspector is the administrator's: with such a link a contractor could release its own work", async () => {
    expect(await refusal(invite("qc", ["inspector"], "office"))).toMatchObject({ code: "invalid", fields: ["organisationId"] });
    expect((await openInvitation(small.house, (await invite("admin", ["inspector"], "office")).token)).invitation.roles).toEqual(["inspector"]);
  });

  it("is not for the crew or the inspector to make", async () => {
    expect(await refusal(invite("crew", ["crew lead"], "works"))).toMatchObject({ code: "not-allowed" });
    expect(await refusal(invite("inspector", ["inspector"], "office"))).toMatchObject({ code: "not-allowed" });
  });

  it("with a name that is taken, a bad name or a short password is refused, and can still be used", async () => {
    const { token } = await invite("qc", ["crew lead"], "works");
    expect(await refusal(join(token, "crew"))).toMatchObject({ code: "invalid", fields: ["signIn"] });
    expect(await refusal(join(token, "a b"))).toMatchObject({ code: "invalid", fields: ["signIn"] });
    expect(await refusal(acceptInvitation(small.house, token, { signIn: "jory", password: "short", agent }))).toMatchObject({ code: "invalid", fields: ["password"] });
    await join(token);
  });
});

describe("somebody who leaves", () => {
  const leave = () => closeMembership(small.house, CODE, "crew", "went to sea", small.clock.now);
  const crew = async () => (await listMembers(small.house.db.read, CODE)).find(({ personId }) => personId === "crew");

  it("may ask for nothing any more, and the name stays", async () => {
    await leave();
    expect(await refusal(small.sendPreparation("02-A"))).toMatchObject({ code: "not-found" });
    expect(await crew()).toMatchObject({ name: "Ora Venn", left: true });
  });

  it("may come back and leave again in the same words: each is an entry of the log over one record", async () => {
    await leave();
    await addMember(small.house, CODE, { personId: "crew", name: "Ora Venn", organisationId: "works", roles: ["crew lead"] }, small.clock.now);
    expect(await crew()).toMatchObject({ left: false });
    await leave();
    const entries = await small.house.db.read.logEntry.findMany({ where: { type: "member left" } });
    expect(entries).toHaveLength(2);
    expect(new Set(entries.map(({ refDigest }) => refDigest)).size).toBe(1);
    const { records, logLines } = await readArchive(small.house.db.read, CODE);
    const known = new Set(records.map(({ digest }) => digest));
    expect(known.size).toBe(records.length);
    expect(logLines.every((bytes) => known.has((JSON.parse(Buffer.from(bytes).toString()) as { ref: { digest: string } }).ref.digest))).toBe(true);
  });
});
