import { Decimal } from "#lib/domain/quantity/decimal";
import { parseMeasured } from "#lib/domain/quantity/measured";
import type { Dimension } from "#lib/domain/quantity/unit";
import type { Fault } from "#lib/domain/refusal";

const MOST_LETTERS = 4_000;
const MOST_LINES = 200;

/** Reads the fields of a form: what cannot be read becomes a fault at its field, and the value null. */
export class Form {
  readonly faults: Fault[] = [];
  readonly typed: Record<string, string>;
  /** How many faults there were before the check that is being worked out. */
  private before = 0;

  constructor(query: URLSearchParams) {
    this.typed = Object.fromEntries([...query].map(([name, value]) => [name, value.slice(0, MOST_LETTERS)]));
  }

  /** Whether a field of this check is missing or wrong. */
  get failed(): boolean {
    return this.faults.length > this.before;
  }

  text(name: string): string {
    return (this.typed[name] ?? "").trim();
  }

  /** Runs a check once one of its fields is filled; null while a field is missing or wrong. */
  check<T>(fields: readonly string[], work: () => T | null): T | null {
    if (fields.every((name) => this.text(name) === "")) return null;
    this.before = this.faults.length;
    try {
      const result = work();
      return this.failed ? null : result;
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      this.faults.push({ field: fields[0] ?? null, message: error.message });
      return null;
    }
  }

  si(name: string, dimension: Dimension, what: string): Decimal {
    const text = this.text(name);
    if (text === "") return this.fault(name, `Give ${what}.`);
    const read = parseMeasured(text, { dimension });
    return read.ok ? new Decimal(read.measured.si) : this.fault(name, read.problem.message);
  }

  /** As `si`; null where the field is left empty. */
  siOrNull(name: string, dimension: Dimension): Decimal | null {
    return this.text(name) === "" ? null : this.si(name, dimension, "");
  }

  /** As `si`, and more than zero. */
  positive(name: string, dimension: Dimension, what: string): Decimal {
    const si = this.si(name, dimension, what);
    return si.gt(0) ? si : this.fault(name, "It has to be more than zero.");
  }

  /** As `positive`; null where the field is left empty. */
  positiveOrNull(name: string, dimension: Dimension): Decimal | null {
    return this.text(name) === "" ? null : this.positive(name, dimension, "");
  }

  /** The lines of a field, one at least. Too many are refused, not cut off: what is left out would change the result. */
  lines(name: string, what: string): string[] {
    const lines = this.text(name).split(/[\n;]+/).map((one) => one.trim()).filter(Boolean);
    if (lines.length === 0) this.fault(name, `Give ${what}.`);
    if (lines.length > MOST_LINES || (this.typed[name] ?? "").length >= MOST_LETTERS) this.fault(name, `Give at most ${MOST_LINES} lines.`);
    return lines.slice(0, MOST_LINES);
  }

  whole(name: string, what: string): number {
    const text = this.text(name);
    if (/^\d{1,6}$/.test(text)) return Number(text);
    this.fault(name, text === "" ? `Give ${what}.` : `${text.slice(0, 24)} is no whole number. Give ${what}.`);
    return 0;
  }

  choice<T extends string>(name: string, choices: readonly T[], what: string): T {
    const found = choices.find((one) => one === this.text(name));
    if (found === undefined) this.fault(name, `Choose ${what}.`);
    return found ?? choices[0]!;
  }

  /** A stand-in of one, so that the other fields are read and told of too. */
  fault(field: string, message: string): Decimal {
    this.faults.push({ field, message });
    return new Decimal(1);
  }
}
