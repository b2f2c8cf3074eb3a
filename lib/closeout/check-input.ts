import { pathProblem } from "#lib/closeout/manifest";
import type { PackageInput } from "#lib/closeout/package-input";
import { sha256 } from "#lib/records/canonical";
import { verifyHead, type Head } from "#lib/records/head";
import { keyId, verifyBytes } from "#lib/records/key";
import { parseEntry, verifyChain } from "#lib/records/log";

/**
 * Refuses to issue a package that its own verify.sh would refuse, or that calls itself final while something is open.
 * Returns the newest head, which covers the whole log. Throws an Error that says what is wrong.
 */
export function checkInput(input: PackageInput): Head {
  const { issue, logLines, records, keys } = input;
  if (issue.kind === "final" && issue.openItems.length > 0) {
    throw new Error(`A final package has no open items: ${issue.openItems.length} are open. Issue it as interim, or close them.`);
  }
  if (!Number.isFinite(Date.parse(issue.issuedAt))) throw new Error(`${issue.issuedAt} is not a time of issue.`);

  const pems = new Map(keys.map(({ id, pem }) => [id, pem]));
  for (const { id, pem } of keys) if (keyId(pem) !== id) throw new Error(`Key ${id} does not have the id that it is given with.`);

  const chain = verifyChain(logLines);
  if (!chain.ok) throw new Error(`Entry ${chain.seq} of the log ${chain.problem}.`);
  const heads = input.heads.map(({ bytes, signature }, i) => {
    const named = /"key":"([0-9a-f]{16})"/.exec(Buffer.from(bytes).toString())?.[1] ?? "";
    const pem = pems.get(named);
    if (!pem) throw new Error(`Head ${i + 1} names a key that is not in the package.`);
    const result = verifyHead({ bytes: Buffer.from(bytes), signature }, pem);
    if (!result.ok) throw new Error(`Head ${i + 1} ${result.problem}.`);
    return result.head;
  });
  const newest = heads.findLast(({ size, last }) => size === chain.size && last === chain.last);
  if (!newest) throw new Error("No head covers the whole log: sign one before issuing the package.");

  const byDigest = new Map(records.map((record) => [record.digest, record]));
  for (const { digest, bytes, signature, kind } of records) {
    if (sha256(bytes) !== digest) throw new Error(`Record ${digest} has other bytes than its digest says.`);
    if (!signature && (kind === "decision" || kind === "acceptance")) throw new Error(`The ${kind} ${digest} is not signed.`);
    const pem = signature && pems.get(signature.key);
    if (signature && !(pem && verifyBytes(pem, bytes, signature.base64))) throw new Error(`The signature of record ${digest} does not hold.`);
  }
  const originals = new Set(input.originals.map((original) => original.sha256));
  for (const { digest, kind, bytes } of records) {
    if (!NAMES_ORIGINALS.has(kind)) continue;
    for (const name of originalsNamed(JSON.parse(Buffer.from(bytes).toString()))) {
      if (!originals.has(name)) throw new Error(`The ${kind} ${digest} names the original ${name}, which is not in the package.`);
    }
  }
  const named = new Set<string>();
  logLines.forEach((line, i) => {
    const { ref } = parseEntry(line);
    named.add(ref.digest);
    if (!byDigest.has(ref.digest) && !originals.has(ref.digest)) throw new Error(`Entry ${i + 1} of the log names a ${ref.kind} that is not in the package.`);
  });
  for (const digest of byDigest.keys()) if (!named.has(digest)) throw new Error(`Record ${digest} is not named by the log.`);

  checkFiles(input);
  return newest;
}

const NAMES_ORIGINALS: ReadonlySet<string> = new Set(["photo", "clock photo", "document", "submission", "decision"]);

// The rule of verify.sh: every `sha256`, and every digest in a list called photos or documents, at any depth.
function originalsNamed(value: unknown): string[] {
  if (Array.isArray(value)) return value.flatMap(originalsNamed);
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([name, member]: [string, unknown]) => {
    const named = name === "sha256" ? [member] : (name === "photos" || name === "documents") && Array.isArray(member) ? member : [];
    return [...named.filter((one): one is string => typeof one === "string" && /^[0-9a-f]{64}$/.test(one)), ...originalsNamed(member)];
  });
}

function checkFiles({ originals, previews, piles, projectPoints, tables }: PackageInput): void {
  for (const { bagPath } of [...originals, ...previews]) {
    const problem = pathProblem(bagPath);
    if (problem) throw new Error(`The path ${bagPath} ${problem}.`);
  }
  for (const { name } of tables) if (!/^[a-z][a-z0-9-]*$/.test(name)) throw new Error(`${name} is no name for a table.`);

  const pathOf = new Map(originals.map(({ bagPath, sha256: digest }) => [bagPath, digest]));
  for (const point of [...projectPoints, ...piles.flatMap(({ points }) => points)]) {
    for (const file of [...point.photos, ...point.documents]) {
      if (pathOf.get(file.bagPath) !== file.sha256) throw new Error(`Point ${point.line} shows ${file.bagPath}, which is not among the originals.`);
    }
  }
}
