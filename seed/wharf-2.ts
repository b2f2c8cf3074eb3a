import { MINUTE, SECOND } from "#lib/domain/instant";
import { closeMembership } from "#lib/services/open-project";
import { recordCalibration, recordQualification } from "#lib/services/keep-register";
import type { House } from "#lib/services/house";
import { onSite, SHIFT, STANDS_AT, ZONE } from "#seed/calendar";
import { CAST, TEO_LEFT, type Person } from "#seed/cast";
import { PILES } from "#seed/facts/all";
import type { PileFact } from "#seed/facts/fact";
import { bentOf, linesOf, pileActs, rowOf, SITE, subjectOf, typeOf } from "#seed/pile-act";
import { idOf } from "#seed/point-act";
import { firstRevisionAct, instrumentActs, lotAct, nextRevisionActs, openStage, pileAct, projectPointActs } from "#seed/project-act";
import { AS_FOUND_TW_2, INSTRUMENTS, LOTS } from "#seed/register";
import { act, type Act, type Stage } from "#seed/replay";
import { timeGates } from "#seed/schedule";
import { writeRevision } from "#seed/specification";
import { tideAct, weatherAct } from "#seed/tide";

export const WHARF_2 = "ellumbrey-w2";
const PREFIX = "w2";
const OPENED = onSite("2026-09-21 08:00");
const DEGREES = { latitude: SITE.latitude.toFixed(6), longitude: SITE.longitude.toFixed(6) };

/** Opens the demonstration project, whose own clock will start where the story ends. */
export function openWharf2(house: House): Promise<Stage> {
  return openStage(
    house,
    {
      id: WHARF_2, code: WHARF_2, name: "Wharf 2 Pile Encasement", place: "Port Ellumbrey", zone: ZONE, startsOn: "2026-09-21", clockFrom: new Date(STANDS_AT).toISOString(),
      site: { ...DEGREES, radiusM: 100, assumedErrorM: 60 }, shift: SHIFT,
    },
    Object.keys(CAST) as Person[],
    OPENED,
  );
}

/** The whole story of Wharf 2, or that of some of its piles. */
export function wharf2Acts(piles: readonly PileFact[] = PILES): Act[] {
  const revision = writeRevision("B");
  const gates = timeGates(piles, (pile) => linesOf(pile, revision));
  const mockUp = { ...subjectOf(PREFIX, "02-A"), sheet: WHARF_2, mark: "M-1" };
  return [
    firstRevisionAct(onSite("2026-09-21 16:00"), revision, onSite("2026-09-21 16:00")),
    ...instrumentActs(onSite("2026-09-28 16:00"), PREFIX, INSTRUMENTS),
    ...qualificationActs(),
    ...LOTS.map((lot) => lotAct(onSite(`${lot.receivedOn} 10:00`), PREFIX, lot)),
    ...projectPointActs(mockUp, revision, { submittals: onSite("2026-09-22 16:20"), mockUpBegan: onSite("2026-10-01 08:00"), mockUpEnded: onSite("2026-10-02 14:51") }),
    ...piles.map((pile, index) => {
      const { latitude, longitude } = subjectOf(PREFIX, pile.mark);
      const at = pile.added ? onSite(pile.added.at) : onSite("2026-10-01 16:00") + index * SECOND;
      const { mark, overrides = [], added } = pile;
      return pileAct(at, PREFIX, { mark, bent: bentOf(mark), row: rowOf(mark), type: typeOf(mark), place: { latitude, longitude }, overrides, words: added?.words ?? "" });
    }),
    act(onSite(TEO_LEFT), "Teo leaves", ({ house, project, clock }) => closeMembership(house, project.id, "teo", "Left the company.", clock.at)),
    ...nextRevisionActs(
      writeRevision("C"),
      { drafted: onSite("2026-11-17 16:05"), reviewed: onSite("2026-11-18 09:40"), approved: onSite("2026-11-19 15:10"), appliesFrom: onSite("2026-11-27 07:00") },
      "Resin maker's letter of 16 Nov.",
    ),
    act(onSite(AS_FOUND_TW_2.at) + 200 * MINUTE, "TW-2 as found", (stage) => {
      const instrumentId = idOf(PREFIX, "TW-2");
      const { at, dueOn, certificate, words } = AS_FOUND_TW_2;
      return recordCalibration(stage.as("hanne"), { id: `${instrumentId}-as-found`, instrumentId, calibratedAt: at.replace(" ", "T"), dueOn, certificate, words });
    }),
    tideAct(PREFIX),
    weatherAct(PREFIX),
    ...piles.flatMap((pile) => pileActs(pile, revision, gates)),
  ];
}

function qualificationActs(): Act[] {
  const held: [Person, string, string][] = [
    ["mira", "Adhesive anchor installer AI-4471", "2027-06-30"],
    ["lotte", "Adhesive anchor installer AI-4502", "2027-03-31"],
    ["ilse", "Coating inspector level 2, CI-1180", "2028-01-31"],
  ];
  return held.map(([personId, certificate, expiresOn]) =>
    act(onSite("2026-09-28 16:20"), `certificate of ${personId}`, (stage) => recordQualification(stage.as("hanne"), { id: `w2-${personId}-certificate`, personId, certificate, expiresOn })),
  );
}
