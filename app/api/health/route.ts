import { readFileSync } from "node:fs";
import { statfs } from "node:fs/promises";
import path from "node:path";
import { json, openRoute } from "#lib/edge/route";
import { house } from "#lib/services/house";

const versions = JSON.parse(readFileSync(path.join(process.cwd(), "package.json"), "utf8")) as { version: string; dependencies: Record<string, string> };

/** Whether this installation can keep records safely: what the database says of itself, and the room left for originals. */
export const GET = openRoute(async () => {
  const here = house();
  const { sqliteVersion, pragmas } = here.db.facts();
  const disk = await statfs(here.dataDir);
  const { next, prisma, sharp } = { next: versions.dependencies.next, prisma: versions.dependencies["@prisma/client"], sharp: versions.dependencies.sharp };
  return json({
    ok: true,
    lastlook: versions.version,
    node: process.version,
    sqlite: sqliteVersion,
    pragmas,
    packages: { next, prisma, sharp },
    freeBytes: disk.bavail * disk.bsize,
    signingKey: here.key.id,
    now: new Date(here.realNow()).toISOString(),
  });
});
