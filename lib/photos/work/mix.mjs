/**
 * The colours of the mix inside a marked circle.
 * @param {{ path: string }} job
 */
export async function readMix(job) {
  throw new Error(`Nothing reads ${job.path} yet.`);
}
