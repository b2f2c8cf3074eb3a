import { dewMarginK, dewPointC } from "#lib/domain/estimate/dew-point";
import type { Instant } from "#lib/domain/instant";
import { Decimal } from "#lib/domain/quantity/decimal";
import { shownNumber } from "#lib/domain/quantity/measured";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import { judgeFinding, workedOut } from "#lib/domain/requirement/judge";
import { itemRule, type ItemRule } from "#lib/domain/requirement/rule";
import { requirementWords } from "#lib/domain/requirement/words";
import type { Tx } from "#lib/db/client";
import { listWeather, type WeatherOnFile, type WeatherReading } from "#lib/db/clock";
import { listMembers, listRevisions, type Project } from "#lib/db/project";
import { whenNear } from "#lib/services/clock-view";

/** A reading held against what the requirement sets ask of the margin over the dew point. */
export interface MarginView {
  dewPoint: string;
  /** One for each form in which the sets ask for it; empty where none does. Null where the surface was not read. */
  margins: { requirement: string; types: string; measured: string; margin: string; verdict: ValueVerdict | null }[] | null;
}

export interface WeatherRowView extends MarginView {
  key: string;
  when: string;
  air: string;
  humidity: string;
  surface: string | null;
  source: string;
}

export interface WeatherView {
  rows: WeatherRowView[];
  readings: number;
  files: { title: string; words: string; sha256: string }[];
  /** What the sets ask of the margin, each form once. */
  asked: string[];
}

/** More rows than this say nothing about today's work. */
const MOST_ROWS = 24;

/** Readings of the weather, newest first, each with its margin over the dew point. */
export async function weatherView(tx: Tx, project: Project, at: Instant): Promise<WeatherView> {
  const [files, members, asked] = await Promise.all([listWeather(tx, project.id), listMembers(tx, project.id), marginRules(tx, project, at)]);
  const nameOf = (id: string): string => members.find(({ personId }) => personId === id)?.name ?? id;
  const all = files.flatMap((file) => file.readings.map((reading) => ({ file, reading }))).sort((a, b) => b.reading.at - a.reading.at);
  return {
    readings: all.length,
    asked: asked.map(({ rule }) => requirementWords(rule)),
    files: files.flatMap(({ title, sha256, byId, enteredAt, readings }) => (sha256 === null ? [] : [{ title, sha256, words: `${readings.length} readings, sent by ${nameOf(byId)} ${whenNear(enteredAt, project.zone, at)}` }])),
    rows: all.slice(0, MOST_ROWS).map(({ file, reading }) => ({
      key: `${file.id} ${reading.at}`,
      when: whenNear(reading.at, project.zone, at),
      air: `${shownNumber(reading.airC, 1)} °C`,
      humidity: `${shownNumber(reading.humidityPct, 0)} %`,
      surface: reading.surfaceC === null ? null : `${shownNumber(reading.surfaceC, 1)} °C`,
      source: sourceOf(file, nameOf),
      ...marginOf(reading, asked),
    })),
  };
}

function sourceOf({ title, sha256, byId }: WeatherOnFile, nameOf: (id: string) => string): string {
  return sha256 === null ? `${title}, by ${nameOf(byId)}` : `${title}, log`;
}

/** What a reading is worth now, before or after it is recorded. */
export async function weighWeather(tx: Tx, project: Project, at: Instant, reading: WeatherReading): Promise<MarginView> {
  return marginOf(reading, await marginRules(tx, project, at));
}

interface AskedMargin {
  rule: ItemRule;
  types: string[];
}

/** How the revision in force asks for the margin, each form once with the pile types that it holds for: 3 °C and 5 °F are two. */
async function marginRules(tx: Tx, project: Project, at: Instant): Promise<AskedMargin[]> {
  const revisions = await listRevisions(tx, project.id);
  const inForce = revisions.filter(({ appliesFrom }) => appliesFrom <= at).at(-1) ?? revisions[0];
  const asked = new Map<string, AskedMargin>();
  for (const { type, lines } of inForce?.revision.sets ?? []) {
    for (const quantity of lines.flatMap(({ quantities }) => quantities)) {
      if (quantity.derived?.formula !== "dew margin") continue;
      const rule = itemRule(quantity.rule);
      const key = JSON.stringify(rule);
      const types = asked.get(key)?.types ?? [];
      asked.set(key, { rule, types: types.includes(type) ? types : [...types, type] });
    }
  }
  return [...asked.values()];
}

function marginOf({ airC, humidityPct, surfaceC }: WeatherReading, asked: readonly AskedMargin[]): MarginView {
  const dewC = dewPointC(Number(airC), Number(humidityPct));
  const dewPoint = dewC === null ? "cannot tell" : `${shownNumber(new Decimal(dewC.toFixed(6)), 1)} °C`;
  if (surfaceC === null) return { dewPoint, margins: null };
  const marginK = dewMarginK(Number(surfaceC), Number(airC), Number(humidityPct));
  return {
    dewPoint,
    margins: asked.map(({ rule, types }) => {
      const finding = marginK === null ? ({ kind: "unknown", because: "the dew point cannot be told" } as const) : workedOut(new Decimal(marginK.toFixed(6)), rule.form === "min" ? rule.unit : "K");
      const { measured, margin, verdict } = judgeFinding(rule, finding);
      return { requirement: requirementWords(rule), types: `type ${types.join(", ")}`, measured, margin, verdict };
    }),
  };
}
