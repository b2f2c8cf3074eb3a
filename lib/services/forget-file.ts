import { findHolder } from "#lib/db/evidence";
import { removeOriginal } from "#lib/photos/store";
import type { House } from "#lib/services/house";

/**
 * Removes a file that came in and belongs to nothing: its record was refused, or nobody wanted it. One that any record or
 * card of any project holds stays.
 *
 * @param shown When its renditions are there, so that none is written after this.
 */
export async function forgetFile({ db, dataDir }: House, { sha256, shown }: { sha256: string; shown?: Promise<void> }): Promise<void> {
  await shown;
  // Inside a transaction, so that nobody files a record for the same bytes meanwhile.
  await db.write(async (tx) => {
    if (!(await findHolder(tx, sha256))) await removeOriginal(dataDir, sha256);
  });
}
