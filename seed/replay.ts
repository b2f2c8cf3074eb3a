import type { Instant } from "#lib/domain/instant";
import type { Asking } from "#lib/services/ask";
import type { House } from "#lib/services/house";
import type { Project } from "#lib/db/project";
import type { PhotoJob, PhotoMaker } from "#seed/photo/maker-pool";

/** Where the acts of a project are played: as anybody, at the instant that the clock is set to. */
export interface Stage {
  house: House;
  project: Project;
  clock: { at: Instant };
  as(person: string): Asking;
}

/** One thing that somebody did, by a service, at an instant. */
export interface Act {
  at: Instant;
  what: string;
  /** Photos that have to be made for it. */
  photos: PhotoJob[];
  run(stage: Stage, photos: Buffer[]): Promise<void>;
}

export const act = (at: Instant, what: string, run: Act["run"], photos: PhotoJob[] = []): Act => ({ at, what, photos, run });

/** A house whose records are made at the instant of the act that is played; everything else is the real one. */
export function houseAt(house: House, clock: { at: Instant }): House {
  return { ...house, now: async () => clock.at };
}

/** Photos that are being made ahead of the act that needs them: enough to keep the makers busy, few enough to be held. */
const AHEAD = 64;

/** Plays acts in the order of their instants. What a service refuses stops the play, with the act that was refused. */
export async function replay(stage: Stage, acts: readonly Act[], maker: PhotoMaker, onProgress: (done: number, of: number) => void = () => undefined): Promise<void> {
  const ordered = acts.map((one, index) => ({ one, index })).sort((a, b) => a.one.at - b.one.at || a.index - b.index).map(({ one }) => one);
  const making = new Map<Act, Promise<Buffer[]>>();
  let asked = 0;
  let held = 0;
  for (const [index, now] of ordered.entries()) {
    while (asked < ordered.length && (asked <= index || held < AHEAD)) {
      const next = ordered[asked++];
      if (!next) break;
      const made = Promise.all(next.photos.map((job) => maker.make(job)));
      made.catch(() => undefined); // reported where it is awaited
      making.set(next, made);
      held += next.photos.length;
    }
    const photos = (await making.get(now)) ?? [];
    making.delete(now);
    held -= photos.length;
    stage.clock.at = now.at;
    try {
      await now.run(stage, photos);
    } catch (error) {
      const faults = error instanceof Error && "faults" in error ? ` ${JSON.stringify(error.faults)}` : "";
      throw new Error(`${now.what}, ${new Date(now.at).toISOString()}: ${error instanceof Error ? error.message : String(error)}${faults}`, { cause: error });
    }
    onProgress(index + 1, ordered.length);
  }
}
