import type { Instant } from "#lib/domain/instant";
import type { Member, Part } from "#lib/domain/access/member";
import { RevisionSchema, type Revision, type Role } from "#lib/domain/requirement/set";
import type { RevisionBody } from "#lib/records/kind";
import { DomainError } from "#lib/domain/refusal";
import type { Tx } from "#lib/db/client";

export interface Project {
  id: string;
  code: string;
  name: string;
  place: string;
  zone: string;
  site: { latitude: number; longitude: number; radiusM: number; assumedErrorM: number };
  shift: { startsAt: string; hours: number };
  /** First day of work, YYYY-MM-DD in the site's zone. */
  startsOn: string;
  /** Where a demonstration's own clock starts; null where the project runs on real time. */
  clockFrom: Instant | null;
}

export interface ApprovedRevision {
  letter: string;
  digest: string;
  revision: Revision;
  approvedBy: string;
  approvedAt: Instant;
  appliesFrom: Instant;
  /** Place in the log of its approval. */
  seq: number;
  terms: Pick<RevisionBody, "reviewedBy" | "words" | "answers" | "impact">;
}

type ProjectRow = NonNullable<Awaited<ReturnType<Tx["project"]["findUnique"]>>>;

function toProject(row: ProjectRow): Project {
  const settings = JSON.parse(row.settings) as { site: Record<"latitude" | "longitude", string> & { radiusM: number; assumedErrorM: number } } & Pick<
    Project,
    "shift" | "startsOn"
  >;
  return {
    id: row.id,
    code: row.code,
    name: row.name,
    place: row.place,
    zone: row.zone,
    site: { ...settings.site, latitude: Number(settings.site.latitude), longitude: Number(settings.site.longitude) },
    shift: settings.shift,
    startsOn: settings.startsOn,
    clockFrom: row.clockFrom?.getTime() ?? null,
  };
}

/** Throws `not-found` where there is none: another project's code says no more than one that does not exist. */
export async function getProject(tx: Tx, code: string): Promise<Project> {
  const row = await tx.project.findUnique({ where: { code } });
  if (!row) throw new DomainError("not-found", "There is no such project.");
  return toProject(row);
}

export async function getProjectById(tx: Tx, id: string): Promise<Project> {
  const row = await tx.project.findUnique({ where: { id } });
  if (!row) throw new DomainError("not-found", "There is no such project.");
  return toProject(row);
}

export async function listProjectsOf(tx: Tx, personId: string): Promise<Project[]> {
  const memberships = await tx.membership.findMany({ where: { personId, closedAt: null }, select: { projectId: true } });
  const rows = await tx.project.findMany({ where: { id: { in: memberships.map(({ projectId }) => projectId) } }, orderBy: { code: "asc" } });
  return rows.map(toProject);
}

export async function listProjects(tx: Tx): Promise<Project[]> {
  return (await tx.project.findMany({ orderBy: { code: "asc" } })).map(toProject);
}

export interface Organisation {
  id: string;
  name: string;
  part: Part;
}

export async function listOrganisations(tx: Tx, projectId: string): Promise<Organisation[]> {
  const rows = await tx.organisation.findMany({ where: { projectId }, orderBy: { name: "asc" } });
  return rows.map(({ id, name, part }) => ({ id, name, part: part as Part }));
}

export type MemberOnFile = Member & { left: boolean };

/** Everybody who is or was a member: names stay on the record after people leave. */
export async function listMembers(tx: Tx, projectId: string): Promise<MemberOnFile[]> {
  const [memberships, organisations] = await Promise.all([tx.membership.findMany({ where: { projectId } }), listOrganisations(tx, projectId)]);
  const people = await tx.person.findMany({ where: { id: { in: memberships.map(({ personId }) => personId) } } });
  return memberships
    .flatMap((membership): MemberOnFile[] => {
      const person = people.find(({ id }) => id === membership.personId);
      const organisation = organisations.find(({ id }) => id === membership.organisationId);
      if (!person || !organisation) return [];
      return [
        {
          personId: person.id,
          name: person.name,
          projectId,
          organisationId: organisation.id,
          organisation: organisation.name,
          part: organisation.part,
          roles: JSON.parse(membership.roles) as Role[],
          left: membership.closedAt !== null,
        },
      ];
    })
    .sort((a, b) => a.name.localeCompare(b.name, "en"));
}

/** The person as a current member of the project, or null. Asked before everything else, so it is one query. */
export async function findMember(tx: Tx, projectId: string, personId: string): Promise<Member | null> {
  const [row] = await tx.$queryRaw<Record<"name" | "organisationId" | "organisation" | "part" | "roles", string>[]>`
    SELECT person."name", organisation."id" AS "organisationId", organisation."name" AS "organisation", organisation."part", membership."roles"
    FROM "Membership" AS membership
    JOIN "Person" AS person ON person."id" = membership."personId"
    JOIN "Organisation" AS organisation ON organisation."id" = membership."organisationId" AND organisation."projectId" = membership."projectId"
    WHERE membership."projectId" = ${projectId} AND membership."personId" = ${personId} AND membership."closedAt" IS NULL`;
  return row ? { personId, projectId, ...row, part: row.part as Part, roles: JSON.parse(row.roles) as Role[] } : null;
}

/** The revision that a project is opened with changes nothing. */
const NO_TERMS: ApprovedRevision["terms"] = { reviewedBy: null, words: "", answers: [], impact: [] };

const parsedRevisions = new Map<string, Revision>();

/** Approved revisions, oldest first. A revision never changes, so its parsed form is kept by digest. */
export async function listRevisions(tx: Tx, projectId: string): Promise<ApprovedRevision[]> {
  const rows = await tx.revision.findMany({ where: { projectId }, orderBy: { appliesFrom: "asc" } });
  return rows.map(({ letter, digest, body, approvedBy, approvedAt, appliesFrom, seq, terms }) => {
    const revision = parsedRevisions.get(digest) ?? RevisionSchema.parse(JSON.parse(body));
    parsedRevisions.set(digest, revision);
    return { letter, digest, revision, approvedBy, approvedAt: approvedAt.getTime(), appliesFrom: appliesFrom.getTime(), seq, terms: { ...NO_TERMS, ...(JSON.parse(terms) as Partial<ApprovedRevision["terms"]>) } };
  });
}
