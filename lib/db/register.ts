import { siteTime } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { Unit } from "#lib/domain/quantity/unit";
import type { InstrumentFacts } from "#lib/domain/requirement/instrument";
import type { Tx } from "#lib/db/client";
import type { InstrumentBody, LotBody, RecordOf } from "#lib/records/kind";

export interface Instrument extends InstrumentFacts {
  name: string;
  certificates: { calibratedAt: Instant; dueOn: string; certificate: string; words: string }[];
}

const days = new Map<string, string>();

/** The site's day of an instant. Calibrations never change and are asked for with every sheet, so their days are kept. */
function siteDay(instant: Instant, zone: string): string {
  const key = `${instant} ${zone}`;
  const day = days.get(key) ?? siteTime(instant, zone).date;
  days.set(key, day);
  return day;
}

/** The register of instruments with their calibrations, in the order of their marks. */
export async function listInstruments(tx: Tx, projectId: string, zone: string): Promise<Instrument[]> {
  const [rows, calibrations] = await Promise.all([
    tx.instrument.findMany({ where: { projectId }, orderBy: { mark: "asc" } }),
    tx.calibration.findMany({ where: { projectId }, orderBy: { calibratedAt: "asc" } }),
  ]);
  return rows.map((row): Instrument => {
    const body = JSON.parse(row.body) as InstrumentBody;
    const certificates = calibrations
      .filter(({ instrumentId }) => instrumentId === row.id)
      .map((one) => {
        const { certificate, words } = JSON.parse(one.body) as RecordOf<"calibration">;
        return { calibratedAt: one.calibratedAt.getTime(), dueOn: one.dueOn, certificate, words };
      });
    return {
      id: row.id,
      mark: row.mark,
      class: row.class,
      name: body.name,
      unit: body.unit as Unit | null,
      rangeMin: body.rangeMin,
      rangeMax: body.rangeMax,
      accuracy: body.accuracy,
      calibrations: certificates.map(({ calibratedAt, dueOn }) => ({ from: siteDay(calibratedAt, zone), dueOn })),
      certificates,
    };
  });
}

export type Lot = Omit<LotBody, "kind" | "lotKind"> & { kind: string };

export async function listLots(tx: Tx, projectId: string): Promise<Lot[]> {
  const rows = await tx.lot.findMany({ where: { projectId }, orderBy: [{ kind: "asc" }, { number: "asc" }] });
  return rows.map((row) => {
    const { kind: _record, lotKind, ...lot } = JSON.parse(row.body) as LotBody;
    return { ...lot, kind: lotKind };
  });
}

export interface Qualification {
  id: string;
  personId: string;
  certificate: string;
  expiresOn: string;
}

export async function listQualifications(tx: Tx, projectId: string): Promise<Qualification[]> {
  const rows = await tx.qualification.findMany({ where: { projectId }, orderBy: { expiresOn: "asc" } });
  return rows.map(({ id, personId, certificate, expiresOn }) => ({ id, personId, certificate, expiresOn }));
}
