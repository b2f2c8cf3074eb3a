// Makes the demonstration: two projects of a port that does not exist, played through the services.
import { dataDirectory } from "#lib/db/client";
import { PASSWORD } from "#seed/cast";
import { seed } from "#seed/seed";

const HELP = `Makes the demonstration in DATA_DIR (default: data), if no project is there yet.

  npm run seed

Afterwards everybody signs in with a first name in small letters and the password "${PASSWORD}":
mira and lotte (crew leads), hanne (QC manager), ilse (inspector), odo (her delegate), pim (engineer), sabine (owner), jonty (administrator).
`;

const words = process.argv.slice(2);
if (words.includes("--help") || words.includes("-h")) {
  process.stdout.write(HELP);
} else if (words.length > 0) {
  process.stderr.write(`${words[0]} is not known here.\n\n${HELP}`);
  process.exitCode = 2;
} else {
  const directory = dataDirectory();
  const began = Date.now();
  const made = await seed(directory, { say: (line) => process.stdout.write(`${line}\n`) });
  const seconds = Math.round((Date.now() - began) / 1000);
  if (made) process.stdout.write(`The demonstration is made in ${directory}, in ${seconds} s.\n`);
}
