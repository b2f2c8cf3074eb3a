import { siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { keepTideTable } from "#lib/services/keep-tide-table";
import { recordWeatherFile } from "#lib/services/record-weather";
import { onSite, ZONE } from "#seed/calendar";
import { act, type Act } from "#seed/replay";

/** From one high water to the next, and half of it to the low water: invented, as the port is. */
const CYCLE = 12 * HOUR + 25 * MINUTE;
const HIGH_WATER = onSite("2026-12-03 06:10");
const LOW_WATER = onSite("2026-12-03 12:22");
/** Cycles before and after 3 December that the table holds: 30 November to 6 December. */
const [FIRST, LAST] = [-6, 7];

function written(at: Instant): string {
  const { date, time, offset } = siteTime(at, ZONE);
  return `${date} ${time} ${offset}`;
}

/** High waters of 1.9 and 2.0 m by turns, low waters of 0.3 m. */
function tideTable(): string {
  const cycles = Array.from({ length: LAST - FIRST + 1 }, (_, index) => FIRST + index);
  const waters = cycles.flatMap((n) => [
    { at: HIGH_WATER + n * CYCLE, heightM: n % 2 === 0 ? "1.9" : "2.0", turn: "high" },
    { at: LOW_WATER + n * CYCLE, heightM: "0.3", turn: "low" },
  ]);
  return ["Date Time,Height (m),High or low", ...waters.map(({ at, heightM, turn }) => [written(at), heightM, turn].join(","))].join("\n");
}

/** The table of the days around the story's end, kept by the QC manager. */
export function tideAct(prefix: string): Act {
  return act(onSite("2026-11-30 07:20"), "tide table", async (stage) => {
    await keepTideTable(stage.as("hanne"), {
      id: `${prefix}-tides`, table: tideTable(), source: "Harbour tide table, Ellumbrey roads, sheet 12", clock: "own", offset: "", order: "", unit: null, workLevel: "0.8 m", allowance: "0 m",
    });
  });
}

const LOG_EVERY = 20 * MINUTE;
const LOG_ENDS = onSite("2026-12-03 09:40");

/** Air that cools overnight, damp toward morning, and a pile that follows slowly; at its end what the crew drafted at 04-B. */
function weatherLog(): string {
  const rows = Array.from({ length: (24 * HOUR) / LOG_EVERY + 1 }, (_, index) => {
    const before = (24 * HOUR - index * LOG_EVERY) / HOUR;
    const swing = (1 - Math.cos((2 * Math.PI * before) / 24)) / 2;
    const [air, humidity, surface] = [12 - 3.4 * swing, 84 + 7 * swing, 11.5 - 1.9 * swing];
    return [written(LOG_ENDS - before * HOUR), air.toFixed(1), humidity.toFixed(0), surface.toFixed(1)].join(",");
  });
  return ["Time,Air °C,RH %,Surface °C", ...rows].join("\n");
}

/** A day's log of the hygrometer under bent 04. */
export function weatherAct(prefix: string): Act {
  return act(LOG_ENDS + 12 * MINUTE, "weather log", async (stage) => {
    await recordWeatherFile(stage.as("lotte"), { id: `${prefix}-hy-1-log`, stream: once(weatherLog()), fileName: "HY-1.csv", clock: "own", offset: "", order: "", unit: null });
  });
}

async function* once(text: string): AsyncGenerator<Uint8Array> {
  yield Buffer.from(text);
}
