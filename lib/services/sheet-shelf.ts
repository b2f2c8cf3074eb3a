import { SECOND, type Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";
import { LastUsed } from "#lib/db/last-used";
import { lastActBesidePhotos } from "#lib/db/journal";
import type { Project } from "#lib/db/project";
import { loadSheetParts, sheetOf, type Sheet, type SheetParts } from "#lib/services/sheet";

/** So many sheets are kept, those used last. Common practice, no source. */
const MOST_KEPT = 16;

/** A sheet stands as it was folded for so long, though its waits run on. Common practice, no source. */
const GOOD_FOR = 30 * SECOND;

/**
 * Keeps the last used sheets. Photos come many to a sheet and change nothing of it: it is loaded again once the log has an
 * entry of any other kind. The entry is known by its digest, so that one that was taken back with its transaction is never
 * mistaken for the one that came in its place.
 */
export class SheetShelf {
  readonly #kept = new LastUsed<{ entry: string | null; parts: SheetParts; sheet: Sheet }>(MOST_KEPT);

  /** The sheet at an instant, or as it was within half a minute of it. */
  async sheet(tx: Tx, project: Project, id: string, at: Instant): Promise<Sheet> {
    const key = `${project.id} ${id}`;
    const entry = await lastActBesidePhotos(tx, project.id);
    const there = this.#kept.get(key);
    const good = there !== undefined && there.entry === entry;
    if (good && Math.abs(at - there.sheet.at) <= GOOD_FOR) return there.sheet;
    const parts = good ? there.parts : await loadSheetParts(tx, project, id);
    const sheet = sheetOf(project, parts, at);
    this.#kept.set(key, { entry, parts, sheet });
    return sheet;
  }
}
