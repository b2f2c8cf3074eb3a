import { buildPlan, overridesAt, requirementSet, revisionInForce } from "#lib/domain/plan/plan";
import { DomainError, type Fault } from "#lib/domain/refusal";
import { fileRecord } from "#lib/db/journal";
import { listPiles, listSchedules, type Pile } from "#lib/db/pile";
import { listRevisions, type ApprovedRevision } from "#lib/db/project";
import { PileFactsSchema, type PileFacts, type ScheduleBody } from "#lib/records/kind";
import { inProject, type Asking } from "#lib/services/ask";
import { projectNewPiles, refreshSheet } from "#lib/services/refresh";

export type ScheduleInput = Omit<ScheduleBody, "kind" | "by" | "changed"> & { changed: { pileId: string; now: PileFacts }[] };

/** What the drawings say of a pile that stands, in the form in which a schedule says it. */
export function factsOf({ bent, row, mark, type, latitude, longitude, overrides, drawn, words }: Pile): PileFacts {
  return { bent, row, mark, type, latitude: degrees(latitude), longitude: degrees(longitude), overrides: overridesAt(overrides, null), drawn, words };
}

/** Degrees as the record writes them: plain digits, to a hundredth of a millimetre. */
export function degrees(value: number | null): string | null {
  return value === null ? null : String(Number(value.toFixed(10)));
}

/**
 * Brings a schedule in as one act: every pile of it or none. A later one is a change order: piles that it leaves out go out of scope
 * with their records, and nothing that was signed is touched.
 */
export async function importSchedule(asking: Asking, input: ScheduleInput): Promise<{ seq: number }> {
  return inProject(asking, "import piles", async (tx, member, at) => {
    const { project, house } = asking;
    const [piles, revisions] = await Promise.all([listPiles(tx, project.id), listRevisions(tx, project.id)]);
    const revision = revisionInForce(revisions, at) ?? revisions[0];
    if (!revision) throw new DomainError("blocked", "No requirement revision is approved yet. The engineer approves one first.");
    if (input.added.length + input.changed.length + input.removed.length === 0) throw new DomainError("invalid", "This schedule changes nothing.");
    if (piles.length > 0 && !input.changeOrder && input.changed.length + input.removed.length > 0) {
      throw new DomainError("invalid", "Name the change order.", [{ field: "changeOrder", message: "Give the number of the change order that changes or takes out piles." }]);
    }
    const faults = scheduleFaults(input, piles, revision);
    if (faults.length > 0) throw new DomainError("invalid", faults.length === 1 ? "1 pile stops the schedule. Nothing was brought in." : `${faults.length} piles stop the schedule. Nothing was brought in.`, faults);

    const standing = new Map(piles.map((pile) => [pile.id, pile]));
    const changed = input.changed.flatMap(({ pileId, now }) => {
      const pile = standing.get(pileId);
      return pile ? [{ pileId, was: factsOf(pile), now }] : [];
    });
    const { seq } = await fileRecord(tx, house.key, { projectId: project.id, actor: member.personId, at, body: { kind: "schedule", ...input, changed, by: member.personId } });
    const added = new Set(input.added.map(({ id }) => id));
    await projectNewPiles(tx, project, (await listPiles(tx, project.id)).filter(({ id }) => added.has(id)), at);
    for (const { pileId } of [...input.changed, ...input.removed]) await refreshSheet(tx, project, pileId, at);
    return { seq };
  });
}

function scheduleFaults({ added, changed, removed }: ScheduleInput, piles: readonly Pile[], { letter, revision }: ApprovedRevision): Fault[] {
  const standing = new Map(piles.map((pile) => [pile.id, pile]));
  const moving = new Set(changed.map(({ pileId }) => pileId));
  const marks = new Map<string, string>();
  const places = new Map<string, string>();
  for (const pile of piles) if (!moving.has(pile.id)) take(pile);
  return [
    ...[...added, ...changed.map(({ now }) => now)].flatMap((facts) => [...placeFaults(facts), ...requirementFaults(facts)]),
    ...changed.flatMap(({ pileId, now }) => changeFaults(standing.get(pileId), now)),
    ...removed.flatMap(({ pileId }) => (standing.get(pileId)?.scope === "in" ? [] : [{ field: null, message: "A pile that is taken out is not in scope any more. Compare the schedule again." }])),
  ];

  function take({ mark, bent, row }: Pick<PileFacts, "mark" | "bent" | "row">): void {
    marks.set(mark, mark);
    places.set(`${bent} ${row}`, mark);
  }
  function placeFaults(facts: PileFacts): Fault[] {
    const there = places.get(`${facts.bent} ${facts.row}`);
    const found = [
      ...(marks.has(facts.mark) ? [{ field: facts.mark, message: `There is a pile ${facts.mark} already.` }] : []),
      ...(there && there !== facts.mark ? [{ field: facts.mark, message: `${facts.mark}: pile ${there} stands in bent ${facts.bent}, row ${facts.row}.` }] : []),
    ];
    take(facts);
    return found;
  }
  function requirementFaults(facts: PileFacts): Fault[] {
    const [misread] = PileFactsSchema.safeParse(factsAlone(facts)).error?.issues ?? [];
    if (misread) return [{ field: facts.mark, message: `${facts.mark}: ${FIELD_WORDS[String(misread.path[0])] ?? "something"} cannot be kept as it is written.` }];
    const set = requirementSet(revision, facts.type);
    if (!set) return [{ field: facts.mark, message: `${facts.mark}: revision ${letter} has no pile type ${facts.type}.` }];
    return buildPlan(set, facts).stray.map(({ drawing, line }) => ({ field: facts.mark, message: `${facts.mark}: drawing ${drawing} changes something at point ${line} that type ${facts.type} does not have.` }));
  }
}

function factsAlone({ bent, row, mark, type, latitude, longitude, overrides, drawn, words }: PileFacts): PileFacts {
  return { bent, row, mark, type, latitude, longitude, overrides, drawn, words };
}

const FIELD_WORDS: Record<string, string> = {
  bent: "the bent, up to six letters and digits,", row: "the row, up to four letters and digits,", mark: "the mark, up to fifteen letters, digits, points and hyphens,",
  type: "the type, one letter,", latitude: "the latitude", longitude: "the longitude", overrides: "a requirement of this pile", drawn: "an elevation", words: "the note",
};

function changeFaults(pile: Pile | undefined, now: PileFacts): Fault[] {
  if (!pile) return [{ field: now.mark, message: `${now.mark} does not stand in the project. Compare the schedule again.` }];
  if (pile.scope === "out") return [{ field: now.mark, message: `${now.mark} is out of scope by a change order. Give the new pile another mark.` }];
  if (pile.startedAt !== null && pile.type !== now.type) return [{ field: now.mark, message: `Work has begun on ${pile.mark}, so it stays of type ${pile.type}.` }];
  return [];
}

/** Why a schedule cannot be taken back; null where it can: until work begins on any of its piles, and while it is the last. */
export function whyNotUndone(schedule: { id: string; added: readonly { id: string }[]; changed: readonly { pileId: string }[]; removed: readonly { pileId: string }[]; undone: boolean; seq: number }, schedules: readonly { seq: number; undone: boolean }[], piles: readonly Pile[]): string | null {
  if (schedule.undone) return "It was taken back already.";
  if (schedules.some(({ seq, undone }) => seq > schedule.seq && !undone)) return "A later schedule stands on it. Take that one back first.";
  const touched = new Set([...schedule.added.map(({ id }) => id), ...schedule.changed.map(({ pileId }) => pileId)]);
  const begun = piles.find(({ id, startedAt }) => touched.has(id) && startedAt !== null);
  return begun ? `Work has begun on ${begun.mark}. Change or take out single piles by a change order.` : null;
}

/** Takes a schedule back as one act: its piles leave the plan, what it changed stands as before; the record of both stays. */
export async function undoSchedule(asking: Asking, input: { id: string; scheduleId: string; words: string }): Promise<void> {
  await inProject(asking, "import piles", async (tx, member, at) => {
    const { project, house } = asking;
    const [schedules, piles] = await Promise.all([listSchedules(tx, project.id), listPiles(tx, project.id)]);
    const schedule = schedules.find(({ id }) => id === input.scheduleId);
    if (!schedule) throw new DomainError("not-found", "There is no such schedule.");
    const because = whyNotUndone(schedule, schedules, piles);
    if (because) throw new DomainError("blocked", because);
    if (input.words.trim() === "") throw new DomainError("invalid", "Say why it is taken back.", [{ field: "words", message: "Say why the schedule is taken back." }]);
    await fileRecord(tx, house.key, { projectId: project.id, actor: member.personId, at, body: { kind: "schedule undone", id: input.id, scheduleId: schedule.id, by: member.personId, words: input.words.trim() } });
    for (const { pileId } of [...schedule.changed, ...schedule.removed]) await refreshSheet(tx, project, pileId, at);
  });
}
