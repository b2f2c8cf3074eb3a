import { siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import type { House } from "#lib/services/house";
import { ZONE } from "#seed/calendar";
import type { Subject } from "#seed/point-act";
import { firstRevisionAct, instrumentActs, lotAct, openStage, pileAct, projectPointActs } from "#seed/project-act";
import { INSTRUMENTS, LOTS } from "#seed/register";
import type { Act, Stage } from "#seed/replay";
import { writeRevision } from "#seed/specification";

export const WHARF_3 = "ellumbrey-w3";
const PREFIX = "w3";
const DAY = 24 * HOUR;
const SITE = { latitude: 44.012, longitude: -63.518 } as const;
/** The set-up is played as if it had been done in the hours before. */
const SET_UP_TOOK = 5 * HOUR;

const day = (at: Instant): string => siteTime(at, ZONE).date;

/** Opens a project that runs on real time and at any hour, for trying with one's own phone. Mira, Odo and Teo do not belong to it. */
export function openWharf3(house: House, now: Instant): Promise<Stage> {
  const at = now - SET_UP_TOOK;
  return openStage(
    house,
    {
      id: WHARF_3, code: WHARF_3, name: "Wharf 3 Pile Encasement", place: "Port Ellumbrey", zone: ZONE, startsOn: day(at), clockFrom: null,
      site: { latitude: SITE.latitude.toFixed(6), longitude: SITE.longitude.toFixed(6), radiusM: 100, assumedErrorM: 60 },
      shift: { startsAt: "00:00", hours: 24 },
    },
    ["lotte", "hanne", "ilse", "pim", "sabine", "jonty"],
    at,
  );
}

/** Everything that has to stand before the first pile, and three piles that nobody has touched. */
export function wharf3Acts(now: Instant): Act[] {
  const at = now - SET_UP_TOOK;
  const revision = writeRevision("C");
  const mockUp: Subject = { prefix: PREFIX, sheet: WHARF_3, mark: "M-1", core: "H", zone: ZONE, ...SITE };
  const instruments = INSTRUMENTS.map((one) => ({ ...one, calibrated: day(at - 30 * DAY), dueOn: day(at + 335 * DAY) }));
  const lots = LOTS.slice(-4).map((one) => ({ ...one, receivedOn: day(at), expiresOn: day(at + 300 * DAY) }));
  return [
    firstRevisionAct(at + MINUTE, revision, at),
    ...instrumentActs(at + 2 * MINUTE, PREFIX, instruments),
    ...lots.map((lot) => lotAct(at + 3 * MINUTE, PREFIX, lot)),
    ...projectPointActs(mockUp, revision, { submittals: at + 10 * MINUTE, mockUpBegan: at + HOUR, mockUpEnded: at + 3 * HOUR }),
    ...["A", "B", "C"].map((row) => pileAct(at + 4 * HOUR, PREFIX, { mark: `01-${row}`, bent: "01", row, type: "H", place: null, overrides: [], words: "" })),
  ];
}
