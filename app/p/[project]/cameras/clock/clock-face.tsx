"use client";

import { useEffect, useRef, useState } from "react";
import { clockCode } from "#lib/domain/photo/clock-code";
import { Qr } from "../../../../_ui/qr";
import { measureClock, MOST_UNCERTAINTY_MS, RENEW_MS, stillHolds, type MeasuredClock } from "./measured-clock";

const SECOND = 1_000; // ms
const AGAIN_MS = 5_000; // after a measurement that failed

type Face = { state: "measuring" } | { state: "no clock"; why: string } | { state: "shown"; at: number; uncertaintyMs: number };

/**
 * The time of the project's server, second by second, as words and as a code. Where the clock of this screen cannot be measured
 * well enough nothing is shown: an old or a wrong code would be read as the truth.
 */
export function ClockFace({ project }: { project: string }) {
  const [face, setFace] = useState<Face>({ state: "measuring" });
  const clock = useRef<MeasuredClock | null>(null);

  useEffect(() => {
    let stopped = false;
    let timer: ReturnType<typeof setTimeout> | undefined;
    let renewal: ReturnType<typeof setTimeout> | undefined;

    const tick = (): void => {
      clearTimeout(timer);
      if (stopped || !clock.current) return;
      if (!stillHolds(clock.current, Date.now(), performance.now())) return void renew();
      const now = Date.now() + clock.current.offsetMs;
      const at = Math.floor(now / SECOND) * SECOND;
      setFace({ state: "shown", at, uncertaintyMs: clock.current.uncertaintyMs });
      timer = setTimeout(tick, at + SECOND - now + 1);
    };
    const renew = async (): Promise<void> => {
      clearTimeout(renewal);
      const held = clock.current;
      if (!held || !stillHolds(held, Date.now(), performance.now())) {
        clock.current = null;
        setFace({ state: "measuring" });
      }
      const measured = await measureClock(project).catch(() => null);
      if (stopped) return;
      if (measured && measured.uncertaintyMs <= MOST_UNCERTAINTY_MS) clock.current = measured;
      else if (!clock.current) setFace({ state: "no clock", why: measured ? `The connection is too slow: the time would be good to ± ${Math.round(measured.uncertaintyMs)} ms only.` : "The server cannot be reached, so the time is not known here." });
      renewal = setTimeout(() => void renew(), clock.current ? RENEW_MS : AGAIN_MS);
      tick();
    };
    // A page that was kept in the background, or brought back, shows what it showed then until its clock is measured again.
    const back = (): void => {
      if (document.visibilityState !== "visible") return;
      clock.current = null;
      void renew();
    };

    void renew();
    document.addEventListener("visibilitychange", back);
    window.addEventListener("pageshow", back);
    return () => {
      stopped = true;
      clearTimeout(timer);
      clearTimeout(renewal);
      document.removeEventListener("visibilitychange", back);
      window.removeEventListener("pageshow", back);
    };
  }, [project]);

  useScreenOn();

  if (face.state !== "shown") {
    return <p className="clock-off" role="status">{face.state === "measuring" ? <span className="needs-scripts">The clock of this screen is being measured.</span> : <><b>No time is shown.</b> {face.why} It is tried again by itself.</>}</p>;
  }
  const text = new Date(face.at).toISOString();
  return (
    <div className="clock-shown">
      <Qr text={clockCode(face.at)} label={`Code of ${text}`} size="100%" correction="M" />
      <div className="clock-words">
        <p className="clock-time num">{text.slice(11, 19)}</p>
        <p className="clock-day num">{text.slice(0, 10)} UTC</p>
        <p className="clock-good num">good to ± {goodSeconds(face.uncertaintyMs)} s</p>
      </div>
    </div>
  );
}

/** The code stands for a whole second, so a picture of it may have been taken up to a second after it; half of the exchange is added. */
function goodSeconds(uncertaintyMs: number): string {
  return (Math.ceil((SECOND + uncertaintyMs) / 100) / 10).toFixed(1);
}

/** Keeps the screen from going dark while the camera is fetched, where the browser can. */
function useScreenOn(): void {
  useEffect(() => {
    let lock: WakeLockSentinel | undefined;
    let gone = false;
    const ask = (): void => {
      if (document.visibilityState !== "visible" || !("wakeLock" in navigator)) return;
      navigator.wakeLock.request("screen").then((held) => (gone ? void held.release() : (lock = held)), () => undefined);
    };
    ask();
    document.addEventListener("visibilitychange", ask);
    return () => {
      gone = true;
      document.removeEventListener("visibilitychange", ask);
      void lock?.release();
    };
  }, []);
}
