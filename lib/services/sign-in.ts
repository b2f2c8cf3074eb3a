import { createHash, randomBytes } from "node:crypto";
import { hash, verify } from "@node-rs/argon2";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { DomainError } from "#lib/domain/refusal";
import { deleteSession, deleteSessionsBefore, findCredential, findSession, saveSession } from "#lib/db/session";
import type { Asking } from "#lib/services/ask";
import type { House } from "#lib/services/house";

/** A session lasts a shift and a bit, so that a phone handed on does not stay signed in for days. */
const SESSION_HOURS = 14;
/** Wrong passwords for one name before it rests, and for how long. */
const TRIES = 10;
const REST_MINUTES = 5;

// OWASP Password Storage Cheat Sheet, Argon2id: 19 MiB, 2 passes, 1 lane.
const ARGON2ID = { memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;

export function hashPassword(password: string): Promise<string> {
  return hash(password, ARGON2ID);
}

const failures = new Map<string, Instant[]>();

function refuseIfResting(signIn: string, now: Instant): void {
  for (const [name, tries] of failures) {
    const recent = tries.filter((at) => now - at < REST_MINUTES * MINUTE);
    if (recent.length > 0) failures.set(name, recent);
    else failures.delete(name);
  }
  const recent = failures.get(signIn) ?? [];
  if (recent.length >= TRIES) throw new DomainError("blocked", `Too many wrong passwords. Wait ${REST_MINUTES} minutes and try again.`);
}

function noteFailure(signIn: string, now: Instant): void {
  failures.set(signIn, [...(failures.get(signIn) ?? []), now]);
}

// Verified against when the name is unknown, so that the answer takes as long as for a known one.
let decoy: Promise<string> | undefined;

export interface OpenedSession {
  token: string;
  personId: string;
  expiresAt: Instant;
}

/** Signs a person in. The token is given once; only its digest is kept. */
export async function signIn(house: House, input: { signIn: string; password: string; agent: string }): Promise<OpenedSession> {
  const name = input.signIn.trim().toLowerCase();
  const now = house.realNow();
  refuseIfResting(name, now);
  const credential = await findCredential(house.db.read, { signIn: name });
  decoy ??= hashPassword(randomBytes(16).toString("hex"));
  const right = await verify(credential?.passwordHash ?? (await decoy), input.password);
  if (!credential || !right) {
    noteFailure(name, now);
    throw new DomainError("not-allowed", "Name or password is not right. Check both and try again.");
  }
  failures.delete(name);
  return openSession(house, credential.personId, input.agent);
}

export async function openSession(house: House, personId: string, agent: string): Promise<OpenedSession> {
  const now = house.realNow();
  const token = randomBytes(32).toString("base64url");
  const expiresAt = now + SESSION_HOURS * HOUR;
  await house.db.write(async (tx) => {
    await deleteSessionsBefore(tx, now);
    await saveSession(tx, { tokenHash: tokenHash(token), personId, createdAt: now, expiresAt, agent: agent.slice(0, 200) });
  });
  return { token, personId, expiresAt };
}

/** Who a session token belongs to; null when it is unknown or has run out. */
export async function sessionPerson(house: House, token: string): Promise<string | null> {
  const session = await findSession(house.db.read, tokenHash(token));
  return session && session.expiresAt > house.realNow() ? session.personId : null;
}

export async function signOut(house: House, token: string): Promise<void> {
  await house.db.write((tx) => deleteSession(tx, tokenHash(token)));
}

/** Asks for the password again at a sign-off, since a phone may lie open. */
export async function confirmPassword({ house, personId }: Asking, password: string): Promise<void> {
  const credential = await findCredential(house.db.read, { personId });
  const now = house.realNow();
  refuseIfResting(personId, now);
  if (!credential || password === "" || !(await verify(credential.passwordHash, password))) {
    if (password !== "") noteFailure(personId, now);
    const message = password === "" ? "Type your password to sign." : "The password is not right. Nothing was signed.";
    throw new DomainError("invalid", message, [{ field: "password", message }]);
  }
}

function tokenHash(token: string): string {
  return createHash("sha256").update(token).digest("hex");
}
