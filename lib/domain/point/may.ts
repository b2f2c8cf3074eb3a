import type { Member } from "#lib/domain/access/member";
import type { Standing } from "#lib/domain/point/attempt";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { Role } from "#lib/domain/requirement/set";

/**
 * The role in which a member submits at a point, or null when none of theirs may. Who is QC manager and crew lead sends
 * as the QC manager: nobody else is there to check it, and who decides has to know.
 */
export function submittingRole(line: PlanLine, member: Member): Role | null {
  if (line.submits.includes("QC manager") && member.roles.includes("QC manager")) return "QC manager";
  return line.submits.find((role) => member.roles.includes(role)) ?? null;
}

/**
 * The role in which a member decides a point, or null when none of theirs may. Where a value fails and the plan line
 * names who decides then, it is theirs to decide; the others may still reject.
 */
export function decidingRole(line: PlanLine, member: Member, worst: ValueVerdict | null): Role | null {
  const named: Role[] = worst === "fails" ? [...line.release.whenFails, ...line.release.roles] : line.release.roles;
  return named.find((role) => member.roles.includes(role)) ?? null;
}

/**
 * Why a member may not decide what stands at a point; null when they may.
 *
 * - Nobody who submitted or entered a value in the attempt decides it, whatever roles they hold.
 * - A hold point is decided by an organisation independent of the contractor's.
 * - A witness or record point is decided by the role that the plan line names. Where a QC manager sent what the QC
 *   manager decides, another one or an inspector does.
 */
export function mayNotDecide(line: PlanLine, standing: Standing, member: Member, worst: ValueVerdict | null): string | null {
  const attempt = standing.attempts.findLast(({ submissions }) => submissions.length > 0);
  const hands = new Set(attempt?.submissions.flatMap(({ submission }) => [submission.by, ...submission.enteredBy]));
  if (hands.has(member.personId)) return "You sent or entered values in this attempt, so somebody else has to decide it.";
  if (line.kind === "H" && member.part === "contractor") return "A hold point is released by an organisation independent of the contractor's.";
  if (decidingRole(line, member, worst)) return null;
  const ownQc = line.release.roles.includes("QC manager") && attempt?.submissions.at(-1)?.submission.byRole === "QC manager";
  if (ownQc && member.roles.includes("inspector")) return null;
  return `This point is decided by: ${line.release.roles.join(line.release.all ? " and " : " or ")}.`;
}

/**
 * Whether the QC manager's check has to stand before a point is released: it does where somebody else releases what
 * the crew sent. What the QC manager sent is checked by being sent.
 */
export function needsCheck(line: PlanLine, standing: Standing): boolean {
  return !line.release.roles.includes("QC manager") && standing.trail?.submission.byRole !== "QC manager" && !line.line.startsWith("P");
}
