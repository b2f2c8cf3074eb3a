"use client";

import { useEffect, useState } from "react";
import { formatWhen } from "#lib/domain/clock/site-time";
import { orderVerdict } from "#lib/domain/photo/order";
import { placeVerdict, type Site } from "#lib/domain/photo/place";
import { devicePosition } from "#lib/domain/photo/position";
import type { SubjectView } from "#lib/services/entry-view";
import { OrderVerdictMark, PlaceVerdictMark } from "../../../../_ui/mark";
import { clockOffset, position } from "../entry/upload";

type Clock = Awaited<ReturnType<typeof clockOffset>>;
type Place = Awaited<ReturnType<typeof position>>;

const SECOND_MS = 1000;
/** Added to half the exchange: how well a phone's clock is known. Common practice, no source. */
const CLOCK_SECONDS = 2;
const DAY_MS = 86_400_000;

/** What the phone says now about time and place, kept with the photo as a claim of its own beside what the file says. */
export function PhoneSays({ project, zone, site, opens }: { project: string; zone: string; site: Site; opens: SubjectView["opens"] }) {
  const [now, setNow] = useState<number | null>(null);
  const [clock, setClock] = useState<Clock | null>(null);
  const [place, setPlace] = useState<Place | "not asked" | null>(null);

  useEffect(() => {
    const tick = () => setNow(Date.now());
    tick();
    void clockOffset(project).then(setClock);
    void mayLocate().then((may) => (may ? position().then(setPlace) : setPlace("not asked")));
    const timer = setInterval(tick, SECOND_MS);
    return () => clearInterval(timer);
  }, [project]);

  if (now === null) return null;
  const offset = clock?.offsetToServerMs;
  const uncertainty = CLOCK_SECONDS + (clock?.roundTripMs ?? 0) / 2 / SECOND_MS;
  const taken = now + (offset ?? 0);
  const order = orderVerdict({ hypotheses: [taken], uncertaintySeconds: uncertainty, flags: [] }, { from: opens.at, to: opens.closedAt ?? taken + DAY_MS }, taken + DAY_MS, String);
  return (
    <section className="phone-says" aria-labelledby="phone-says">
      <h2 id="phone-says">This phone says; kept beside what the file says</h2>
      <dl>
        <dt>clock</dt>
        <dd><span className="num">{formatWhen(now, zone, { seconds: true })}</span> <span className="letter">{clockWords(clock, uncertainty)}</span></dd>
        <dt>place</dt>
        <dd>{placeWords(place, site, () => void position().then(setPlace))}</dd>
        <dt>order</dt>
        <dd>{offset === undefined ? <span className="letter">not known before the clocks are compared</span> : <><OrderVerdictMark verdict={order.verdict} word={`now: ${order.verdict}`} /> <span className="letter">{opens.words}</span></>}</dd>
      </dl>
    </section>
  );
}

function clockWords(clock: Clock | null, uncertainty: number): string {
  if (clock === null) return "being compared with the project's clock";
  if (clock.offsetToServerMs === undefined) return "could not be compared with the project's clock: no connection";
  const seconds = Math.round(Math.abs(clock.offsetToServerMs) / SECOND_MS);
  const known = `± ${Math.round(uncertainty * 10) / 10} s`;
  if (seconds <= CLOCK_SECONDS) return `agrees with the project's clock, ${known}`;
  const amount = seconds < 120 ? `${seconds} s` : seconds < 7200 ? `${Math.round(seconds / 60)} min` : seconds < 172_800 ? `${Math.round(seconds / 3600)} h` : `${Math.round(seconds / 86_400)} days`;
  return `${amount} ${clock.offsetToServerMs > 0 ? "behind" : "ahead of"} the project's clock, ${known}`;
}

function placeWords(place: Place | "not asked" | null, site: Site, ask: () => void) {
  if (place === null) return <span className="letter">being looked for</span>;
  if (place === "not asked") return <button type="button" className="button" onClick={ask}>Ask this phone</button>;
  const reading = devicePosition(place);
  if (reading.kind !== "position") return <><PlaceVerdictMark verdict="no place" /> <span className="letter">the phone gives none; the file may have its own</span></>;
  const { verdict, distanceM, errorM } = placeVerdict(reading.position, site);
  return <><PlaceVerdictMark verdict={verdict} /> <span className="letter">{distanceWords(distanceM ?? 0)} from the middle of the site, ± {Math.round(2 * (errorM ?? 0))} m</span></>;
}

const distanceWords = (metres: number): string => (metres < 10_000 ? `${Math.round(metres)} m` : `${Math.round(metres / 1000)} km`);

/** Whether the phone has been allowed to say where it is: it is never asked before a person presses for it. */
async function mayLocate(): Promise<boolean> {
  const permission = await navigator.permissions?.query({ name: "geolocation" }).catch(() => null);
  return permission?.state === "granted";
}
