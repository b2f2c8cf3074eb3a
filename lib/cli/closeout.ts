import { randomUUID } from "node:crypto";
import { copyFile } from "node:fs/promises";
import path from "node:path";
import { parseArgs } from "node:util";
import { DomainError } from "#lib/domain/refusal";
import { getProject } from "#lib/db/project";
import { house } from "#lib/services/house";
import { issueCloseoutAsOperator } from "#lib/services/issue-closeout";

const HELP = `Issues the closeout package of a project.

  npm run closeout -- --project CODE --out FILE.zip [--interim]

  --project CODE   the project, such as ellumbrey-w2
  --out FILE.zip   where to put the package; it is kept under DATA_DIR too
  --interim        issue it although something is open; without this the issue is final and is refused while anything is open
  --help           this text

The SHA-256 it prints goes onto the transmittal: it is the digest of the ZIP itself.`;

async function main(): Promise<number> {
  const { values } = parseArgs({ options: { project: { type: "string" }, out: { type: "string" }, interim: { type: "boolean" }, help: { type: "boolean" } } });
  if (values.help) {
    console.log(HELP);
    return 0;
  }
  if (!values.project || !values.out) {
    console.error(`Give --project and --out.\n\n${HELP}`);
    return 2;
  }
  const here = house();
  try {
    const project = await getProject(here.db.read, values.project);
    const issued = await issueCloseoutAsOperator({ house: here, project }, { id: randomUUID(), kind: values.interim ? "interim" : "final" });
    const out = path.resolve(values.out);
    await copyFile(issued.path, out);
    console.log(`Issue ${issued.number}, ${values.interim ? "interim" : "final"}: ${out}, ${issued.bytes} bytes\nSHA-256 ${issued.sha256}`);
    return 0;
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    console.error([error.message, ...error.faults.map(({ message }) => `  ${message}`)].join("\n"));
    return 1;
  } finally {
    await here.db.close();
  }
}

main().then((code) => process.exit(code), (error: unknown) => {
  console.error(error instanceof Error ? error.message : String(error));
  process.exit(2);
});
