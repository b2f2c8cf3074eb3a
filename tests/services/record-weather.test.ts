import { randomUUID } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { HOUR, type Instant } from "#lib/domain/instant";
import { listWeather } from "#lib/db/clock";
import { weatherOf } from "#lib/services/entry-proposal";
import { recordWeather, recordWeatherFile, type WeatherFileInput, type WeatherInput } from "#lib/services/record-weather";
import { weatherView, weighWeather } from "#lib/services/weather-view";
import { clockProject, stream, type ClockProject } from "#tests/services/clock-project";
import { refusedWith } from "#tests/services/refused";

const NOON: Instant = Date.parse("2026-12-03T12:00:00-04:00");
const EMPTY = { workBegan: "", workEnded: "", values: [], lots: [], setAside: [], words: "" };

let site: ClockProject;
beforeEach(async () => {
  site = await clockProject(NOON);
});
afterEach(() => site.close());

const reading = (parts: Partial<WeatherInput> = {}): WeatherInput => ({
  id: randomUUID(), title: "HY-1", at: "", air: "12.0", airUnit: "°C", humidity: "84", surface: "11.5", surfaceUnit: "°C", ...parts,
});
const record = (parts: Partial<WeatherInput> = {}, who = "crew") => recordWeather(site.as(who), reading(parts));
const onFile = () => listWeather(site.tx, site.project.id);

describe("weather by hand", () => {
  it("is kept as read, now where no time is given, and once however often it is sent", async () => {
    const input = reading({ air: "53.6", airUnit: "°F" });
    await recordWeather(site.as("crew"), input);
    await recordWeather(site.as("crew"), input);
    expect(await onFile()).toMatchObject([{ title: "HY-1", sha256: null, byId: "crew", readings: [{ at: NOON, airC: "12", humidityPct: "84", surfaceC: "11.5" }] }]);
  });

  it("is kept without a surface where none was read", async () => {
    await record({ surface: " " });
    expect((await onFile())[0]?.readings[0]?.surfaceC).toBeNull();
    expect((await weatherView(site.tx, site.project, NOON)).rows[0]?.margins).toBeNull();
  });

  it.each<[string, Partial<WeatherInput>, string]>([
    ["a time to come", { at: "2026-12-03T12:01" }, "at"],
    ["a time that is none", { at: "2026-13-03T12:01" }, "at"],
    ["a number without a unit", { airUnit: null }, "air"],
    ["no number", { air: "warm" }, "air"],
    ["more than 100 %", { humidity: "100.5" }, "humidity"],
    ["no humidity at all", { humidity: "0" }, "humidity"],
    ["air that no dew point can be told for", { air: "70" }, "air"],
    ["infinity", { surface: "1e400" }, "surface"],
    ["no source", { title: " " }, "title"],
  ])("is refused with %s, and nothing is kept", async (_what, parts, field) => {
    const refusal = await refusedWith(record(parts));
    expect(refusal).toMatchObject({ code: "invalid", faults: [{ field }] });
    expect(await onFile()).toEqual([]);
  });

  it("is not for who reads nothing on site", async () => {
    expect(await refusedWith(record({}, "owner"))).toMatchObject({ code: "not-allowed" });
  });
});

describe("a weather logger's file", () => {
  const send = (text: string, parts: Partial<WeatherFileInput> = {}) =>
    recordWeatherFile(site.as("crew"), { stream: stream(text), fileName: "HY-1.csv", clock: "own", offset: "", order: "", unit: null, ...parts });
  const LOG = "Hygrometer HY-1\nTime,Air °C,RH %,Surface °C\n2026-12-03 09:20 -04:00,11.9,84,11.4\n2026-12-03 09:40 -04:00,12.0,84 %,11.5\n2026-12-03 10:00 -04:00,ERR,84,11.5\n";

  it("is read whole, with what it left out said", async () => {
    const receipt = await send(LOG);
    expect(receipt).toMatchObject({ readings: 2, words: "2 readings, Thu 09:20 to Thu 09:40.", notes: ["Row 5: ERR stands for the temperature. The row is left out."] });
    expect(await onFile()).toMatchObject([{ title: "HY-1", sha256: receipt.sha256, readings: [{ airC: "11.9" }, { airC: "12", humidityPct: "84", surfaceC: "11.5" }] }]);
    expect((await weatherView(site.tx, site.project, NOON)).rows[0]).toMatchObject({ when: "Thu 09:40", source: "HY-1, log" });
  });

  it("is taken once: again it is refused with the day it came", async () => {
    await send(LOG);
    expect((await refusedWith(send(LOG, { fileName: "copy.csv" }))).message).toBe("This file was read already, Thu 3 Dec 2026, 12:00 −04:00.");
  });

  it("without a surface is read with air and humidity alone", async () => {
    await send("Date,Time,Temperature (°F),Humidity\n2026-12-03,09:40,53.6,84\n", { clock: "site" });
    expect((await onFile())[0]?.readings).toEqual([{ at: Date.parse("2026-12-03T09:40:00-04:00"), airC: "12", humidityPct: "84", surfaceC: null }]);
  });

  it.each<[string, string, Partial<WeatherFileInput>, string]>([
    ["local times", LOG.replaceAll(" -04:00", ""), {}, "clock"],
    ["no head", "2026-12-03 09:40 -04:00,12.0,84\n", {}, "column"],
    ["a humidity that is none", LOG.replace("84 %", "184"), {}, "file"],
    ["times to come", LOG, {}, "file"],
  ])("with %s is refused at its field, and nothing of it is kept", async (what, text, parts, field) => {
    if (what === "times to come") site.clock.now = NOON - 3 * HOUR;
    expect((await refusedWith(send(text, parts))).faults.map((one) => one.field)).toContain(field);
    expect(await onFile()).toEqual([]);
  });
});

describe("the margin over the dew point", () => {
  // Air 12.0 °C at 84 % has its dew point at 9.38 °C (Magnus; Sonntag 1990): a surface of 11.5 °C is 2.12 K above it.
  it("is worked out with each reading and fails under either form", async () => {
    await record();
    const [row] = (await weatherView(site.tx, site.project, NOON)).rows;
    expect(row).toMatchObject({ when: "Thu 12:00", dewPoint: "9.4 °C", source: "HY-1, by Ora crew" });
    expect(row?.margins).toMatchObject([{ requirement: "≥ 3 K", types: "type H", verdict: "fails" }, { requirement: "≥ 5 F°", types: "type T", verdict: "fails" }]);
    expect(Number(row?.margins?.[0]?.measured.split(" ")[0])).toBeCloseTo(2.12, 2); // K
  });

  it("of 2.9 K meets 5 °F and not 3 °C, since they are not the same", async () => {
    const { margins } = await weighWeather(site.tx, site.project, NOON, { at: NOON, airC: "12", humidityPct: "84", surfaceC: "12.28" });
    expect(margins?.map(({ verdict }) => verdict)).toEqual(["fails", "meets"]);
    expect(await onFile()).toEqual([]); // looked at, not recorded
  });
});

describe("a point that asks for the weather", () => {
  const proposed = async (mark = "02-A", writing: Parameters<typeof weatherOf>[2] = EMPTY) => {
    const sheet = await site.sheet(mark);
    return weatherOf(sheet, sheet.lines.find(({ line }) => line === "24")!, writing, await onFile());
  };

  it("offers the last reading of the shift with its time and source", async () => {
    await record({ at: "2026-12-03T08:00", air: "10.5" });
    await record({ at: "2026-12-03T09:40" });
    expect(await proposed()).toEqual({
      values: [{ quantity: "air", text: "12", unit: "°C" }, { quantity: "humidity", text: "84", unit: "%" }, { quantity: "surface", text: "11.5", unit: "°C" }],
      words: "Air temperature 12 °C, Relative humidity 84 %, Surface temperature 11.5 °C, as read at 09:40, HY-1",
    });
  });

  it("offers only what nobody has entered, and nothing once all is", async () => {
    await record({ at: "2026-12-03T09:40", surface: "" });
    const value = (quantity: string) => ({ quantity, item: null, text: "9", unit: "°C", instrumentId: null, unitConfirmed: false, reason: "" });
    expect((await proposed("02-A", { ...EMPTY, values: [value("air")] }))?.values.map(({ quantity }) => quantity)).toEqual(["humidity"]);
    expect(await proposed("02-A", { ...EMPTY, values: [value("air"), value("humidity")] })).toBeNull();
  });

  it("offers nothing of another shift", async () => {
    await record({ at: "2026-12-02T19:59" });
    expect(await proposed()).toBeNull();
  });
});
