import { randomUUID } from "node:crypto";
import { siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { entryKind, type RawValue } from "#lib/domain/point/read-entries";
import type { PlanLine, PlanQuantity } from "#lib/domain/plan/plan";
import { itemRule, type ItemRule } from "#lib/domain/requirement/rule";
import type { Asking } from "#lib/services/ask";
import { receiveDocument } from "#lib/services/receive-document";
import { receivePhoto } from "#lib/services/receive-photo";
import { getLine, loadSheet } from "#lib/services/sheet";
import { submitPoint, type SubmissionReceipt } from "#lib/services/submit-point";
import { withExif } from "#seed/photo/exif";
import { pictureOf } from "#tests/support/picture";

/** What a sound piece of work measures where the rule alone does not say it. */
const MEASURED: Record<string, string> = {
  "bar-length": "40.0 in", projection: "32.5 in", "mass-a": "1000 g", "mass-b": "380 g", air: "18 °C", humidity: "60 %", surface: "16 °C",
  top: "1.30 ft", bottom: "-2.20 ft", diameter: "24.2 in",
};

/** A text that meets the rule with room to spare. */
function soundText(quantity: PlanQuantity): string {
  const known = itemRule(quantity.rule).form === "recorded" ? MEASURED[quantity.id] : undefined;
  return known ?? ruleText(itemRule(quantity.rule)).replace(/ 1$/, "");
}

const round = (number: number): number => Math.round(number * 1000) / 1000;

function ruleText(rule: ItemRule): string {
  switch (rule.form) {
    case "min": return `${round(Number(rule.limit) * 1.05 + 0.01)} ${rule.unit}`;
    case "max": return `${round(Number(rule.limit) * 0.5)} ${rule.unit}`;
    case "range": return `${round((Number(rule.min) + Number(rule.max)) / 2)} ${rule.unit}`;
    case "nominal": return `${rule.nominal} ${rule.unit}`;
    case "exact": return rule.value;
    case "count": return `${rule.exactly ?? rule.atLeast ?? 0}`;
    case "grade": return rule.atLeast;
    case "statement": return "yes";
    case "all of":
    case "any of": return ruleText(rule.rules[0]!);
    default: return "as found";
  }
}

function soundValues(line: PlanLine, instruments: { id: string; class: string }[]): RawValue[] {
  return line.quantities.filter((quantity) => entryKind(quantity).kind !== "derived").flatMap((quantity) => {
    const items = quantity.rule.form === "each" ? Array.from({ length: quantity.rule.count ?? 2 }, (_, i) => i + 1) : [null];
    const instrumentId = instruments.find((one) => one.class === quantity.instrument)?.id ?? null;
    return items.map((item) => ({ quantity: quantity.id, item, text: soundText(quantity), unit: null, instrumentId, unitConfirmed: false, reason: "" }));
  });
}

let grain = 0;

/** A photo taken at an instant, unlike any other. */
export async function photoTakenAt(at: Instant, zone: string): Promise<Buffer> {
  grain += 1;
  const picture = await pictureOf(grain);
  const local = siteTime(at, zone);
  return withExif(picture, { dateTimeOriginal: `${local.date.replaceAll("-", ":")} ${local.iso.slice(11, 19)}`, offset: local.offset, make: "Cove", model: "One", gps: { latitude: 44.00001, longitude: -63.50001, errorM: 6, utc: new Date(at).toISOString() } });
}

async function* once(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}

export interface SoundWork {
  sheet: string;
  line: string;
  began: Instant;
  ended: Instant;
  /** When photos were taken; halfway through the work where none is given. */
  photosAt?: Instant;
  change?: (values: RawValue[]) => RawValue[];
}

/** Does the work of a point soundly and sends it: values that meet, photos in their window, documents and lots. */
export async function sendSoundWork(asking: Asking, { sheet: id, line: lineId, began, ended, photosAt, change }: SoundWork): Promise<SubmissionReceipt> {
  const { house, project } = asking;
  const sheet = await loadSheet(house.db.read, project, id, await house.now(project));
  const { line } = getLine(sheet, lineId);
  for (const { id: subject, count } of line.photos) {
    for (let n = 0; n < count; n += 1) {
      const bytes = await photoTakenAt(photosAt ?? began + (ended - began) / 2, project.zone);
      await receivePhoto(asking, { sheet: id, line: lineId, subject, stream: once(bytes), declaredLength: bytes.length });
    }
  }
  for (const { id: use, name } of line.documents) {
    await receiveDocument(asking, { sheet: id, line: lineId, use, title: name, stream: once(Buffer.from(`%PDF-1.4\n% ${name} ${randomUUID()}\n%%EOF\n`)) });
  }
  const values = soundValues(line, sheet.instruments);
  return submitPoint(asking, {
    id: randomUUID(),
    sheet: id,
    line: lineId,
    workBegan: new Date(began).toISOString(),
    workEnded: new Date(ended).toISOString(),
    values: change ? change(values) : values,
    lots: line.lots.map(({ id: use, kind }) => ({ use, lotId: sheet.lots.find((lot) => lot.kind === kind)?.id ?? "" })),
    setAside: [],
    words: "",
  });
}

export { HOUR, MINUTE };
