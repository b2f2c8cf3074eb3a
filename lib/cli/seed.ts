// Makes the demonstration: two projects of a port that does not exist, played through the services.
import { existsSync, mkdirSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { databaseFile, dataDirectory } from "#lib/db/client";
import { PASSWORD } from "#seed/cast";
import { seed } from "#seed/seed";

const HELP = `Makes the demonstration in DATA_DIR (default: data), if no project is there yet.

  npm run seed

Afterwards everybody signs in with a first name in small letters and the password "${PASSWORD}":
mira and lotte (crew leads), hanne (QC manager), ilse (inspector), odo (her delegate), pim (engineer), sabine (owner), jonty (administrator).
`;

/** What a data folder holds once the making has begun: all of it goes when the making broke off. */
const MADE = ["lastlook.db", "lastlook.db-wal", "lastlook.db-shm", "originals", "renditions", "incoming", "demonstration", "keys"];

const words = process.argv.slice(2);
if (words.includes("--help") || words.includes("-h")) {
  process.stdout.write(HELP);
} else if (words.length > 0) {
  process.stderr.write(`${words[0]} is not known here.\n\n${HELP}`);
  process.exitCode = 2;
} else {
  const directory = dataDirectory();
  const began = Date.now();
  const marker = path.join(directory, "making-demonstration");
  if (existsSync(marker)) {
    process.stdout.write("The demonstration was not finished last time; it is made anew.\n");
    for (const name of MADE) rmSync(path.join(directory, name), { recursive: true, force: true });
  }
  if (!existsSync(databaseFile(directory))) {
    mkdirSync(directory, { recursive: true });
    writeFileSync(marker, "");
    process.stdout.write("Making the demonstration: some 1,600 acts with their photos. It takes about two minutes, once.\n");
  }
  const made = await seed(directory, { say: (line) => process.stdout.write(`${line}\n`) });
  const seconds = Math.round((Date.now() - began) / 1000);
  rmSync(marker, { force: true });
  if (made) process.stdout.write(`The demonstration is made in ${directory}, in ${seconds} s.\n`);
}
