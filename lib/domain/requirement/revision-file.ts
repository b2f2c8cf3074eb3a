import type { Fault } from "#lib/domain/refusal";
import { RevisionSchema, type Revision } from "#lib/domain/requirement/set";

/** What a file of a revision says, or every fault with its place in the file. */
export type ReadRevision = { revision: Revision; writtenAs: string | null } | { faults: Fault[] };

/** Reads the text of a file; its letter is replaced by the one that the draft has. */
export function readRevisionText(text: string, letter: string): ReadRevision {
  if (text.trim() === "") return { faults: [{ field: null, message: "There is nothing to read. Choose a file, or put its text here." }] };
  try {
    return readRevisionValue(JSON.parse(text), letter);
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return { faults: [{ field: null, message: "This is not JSON." }] };
  }
}

/** The same for what was read as JSON already. */
export function readRevisionValue(value: unknown, letter: string): ReadRevision {
  const isObject = typeof value === "object" && value !== null && !Array.isArray(value);
  const writtenAs = isObject && "letter" in value && typeof value.letter === "string" ? value.letter : null;
  const read = RevisionSchema.safeParse(isObject ? { ...value, letter } : value);
  if (read.success) return { revision: read.data, writtenAs };
  return { faults: read.error.issues.map(({ path, message }) => ({ field: pathWords(path), message: `${placeWords(value, path)}${plainWords(message)}` })) };
}

/** What the shape's own fault says, for who reads a file. */
function plainWords(message: string): string {
  if (/received undefined$/.test(message)) return "this is missing.";
  const expected = /^Invalid input: expected (\w+)/.exec(message)?.[1];
  if (expected) return `this has to be ${{ string: "text", array: "a list", object: "an object", boolean: "true or false" }[expected] ?? `a ${expected}`}.`;
  return message.replace(/^Invalid option: expected one of (.+)$/, (_all, list: string) => `give one of ${list.replaceAll("|", ", ")}.`);
}

/** "sets[2].lines[15].name" */
function pathWords(path: readonly PropertyKey[]): string {
  return path.map((part) => (typeof part === "number" ? `[${part}]` : `.${String(part)}`)).join("").replace(/^\./, "");
}

/** "Type T, point 15: ", so that a person finds the place without counting. */
function placeWords(value: unknown, path: readonly PropertyKey[]): string {
  let here: unknown = value;
  const said: string[] = [];
  for (const part of path) {
    if (typeof here !== "object" || here === null) break;
    here = (here as Record<PropertyKey, unknown>)[part];
    if (typeof part !== "number" || typeof here !== "object" || here === null) continue;
    const { type, line, id } = here as { type?: unknown; line?: unknown; id?: unknown };
    if (typeof type === "string") said.push(`type ${type}`);
    else if (typeof line === "string") said.push(`point ${line}`);
    else if (typeof id === "string") said.push(id);
  }
  const words = said.join(", ");
  return words === "" ? "" : `${words[0]?.toUpperCase() ?? ""}${words.slice(1)}: `;
}
