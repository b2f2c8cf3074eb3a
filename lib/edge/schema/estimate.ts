import type { Fault } from "#lib/domain/refusal";
import { parseMeasured } from "#lib/domain/quantity/measured";
import { fromSi } from "#lib/domain/quantity/unit";
import type { EstimateSelection } from "#lib/services/estimate-view";

/** What a selection may hold; more is cut off, because it is no selection that a person made. */
const MOST_LETTERS = 2_000;
const MOST_NAMES = 400;

export interface EstimateQuery {
  selection: EstimateSelection;
  /** As typed, to be shown again. */
  typed: { marks: string; celsius: string; lots: string };
  faults: Fault[];
}

/** What the query of an estimate holds, for the description of the API. */
export const ESTIMATE_QUERY = {
  bent: "Bent, may be given several times; without it every bent",
  type: "Pile type, may be given several times; without it every type",
  marks: "Marks of piles, separated by commas: 02-A, 02-B; 02 is every pile that begins so",
  all: "1 counts what is done already as well",
  celsius: "Temperature of the resin with its unit: 25 °C",
  lots: "Rolls in hand by jacket lot: J-14: 4, J-15: 2",
};

/** Reads the query of an estimate: what cannot be read is told at its field, and the rest still holds. */
export function readEstimateQuery(query: URLSearchParams): EstimateQuery {
  const text = (name: string): string => (query.get(name) ?? "").slice(0, MOST_LETTERS).trim();
  const names = (name: string): string[] => query.getAll(name).slice(0, MOST_NAMES).map((one) => one.trim()).filter(Boolean);
  const typed = { marks: text("marks"), celsius: text("celsius"), lots: text("lots") };
  const faults: Fault[] = [];
  return {
    selection: {
      bents: names("bent"), types: names("type"), marks: listed(typed.marks), everything: query.get("all") === "1", celsius: readCelsius(typed.celsius, faults), lots: readLots(typed.lots, faults),
    },
    typed,
    faults,
  };
}

/** The address of the same selection, for links to its tables and its print. */
export function estimateSearch({ selection, typed }: EstimateQuery): string {
  const query = new URLSearchParams();
  selection.bents.forEach((bent) => query.append("bent", bent));
  selection.types.forEach((type) => query.append("type", type));
  for (const [name, value] of Object.entries(typed)) if (value) query.set(name, value);
  if (selection.everything) query.set("all", "1");
  const text = query.toString();
  return text && `?${text}`;
}

const listed = (text: string): string[] => text.split(/[,;\n]/).map((one) => one.trim()).filter(Boolean).slice(0, MOST_NAMES);

function readCelsius(text: string, faults: Fault[]): number | null {
  if (text === "") return null;
  const read = parseMeasured(text, { dimension: "temperature" });
  if (!read.ok) {
    faults.push({ field: "celsius", message: read.problem.message });
    return null;
  }
  const celsius = fromSi(read.measured.si, "°C").toNumber();
  if (celsius > -20 && celsius < 80) return celsius;
  faults.push({ field: "celsius", message: `${text} is no temperature at which resin is spread. Check the number and its unit.` });
  return null;
}

function readLots(text: string, faults: Fault[]): { lot: string; rolls: number }[] {
  return listed(text).flatMap((one) => {
    const [, lot = "", count = ""] = /^(.+?)\s*[:=]\s*(\d{1,3})(?:\s*rolls?)?$/i.exec(one) ?? [];
    if (lot !== "") return [{ lot, rolls: Number(count) }];
    faults.push({ field: "lots", message: `${one.slice(0, 40)}: give the lot and its rolls, such as J-14: 4.` });
    return [];
  });
}
