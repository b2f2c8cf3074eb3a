/**
 * Reads what takes longer than a receipt may: codes on tags, and of a HEIC its pixels.
 * @param {{ path: string }} job
 */
export async function study(job) {
  throw new Error(`Nothing reads ${job.path} yet.`);
}
