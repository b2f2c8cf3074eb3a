import { createHash } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { calendarFeed } from "#lib/edge/calendar-feed";
import { calendarLinkSince, makeCalendarLink, openCalendarLink, revokeCalendarLink } from "#lib/services/calendar-link";
import { calendarView } from "#lib/services/clocks-view";
import { keepTideTable } from "#lib/services/keep-tide-table";
import { closeMembership } from "#lib/services/open-project";
import { recordTemperature } from "#lib/services/record-temperature";
import { call, serveFrom } from "#tests/access/call";
import { clockProject, type ClockProject } from "#tests/services/clock-project";
import { refusedWith } from "#tests/services/refused";

const NOON: Instant = Date.parse("2026-12-03T12:00:00-04:00");

let site: ClockProject;
beforeEach(async () => {
  site = await clockProject(NOON);
});
afterEach(() => site.close());

const make = async (who = "crew") => (await makeCalendarLink(site.as(who))).token;
const feed = async () => calendarFeed(`${site.project.name}: clocks`, await calendarView(site.tx, site.project, site.clock.now));
const read = (at: Instant, celsius: string) => recordTemperature(site.as("crew"), { sheet: "02-B", line: "17", at: new Date(at).toISOString(), temperature: celsius, unit: "°C" });

/** A cure, a wait of a day, and the tide of two days. */
async function somethingRuns(): Promise<void> {
  await site.send("02-A", "4", { clean: "yes" });
  await site.send("02-B", "16", { tied: "yes" });
  await read(NOON, "20");
  await keepTideTable(site.as("crew"), {
    id: "tides", source: "Harbour table", clock: "site", offset: "", order: "", unit: "m", workLevel: "0.8 m", allowance: "0 m",
    table: "2026-12-03 06:10,1.9\n2026-12-03 12:22,0.3\n2026-12-03 18:35,2.0\n2026-12-04 00:47,0.3\n2026-12-04 07:00,1.9",
  });
}

/** RFC 5545, 3.1: lines end in CRLF and are folded; a line that begins with a space goes on from the one before. */
function unfold(text: string): string[] {
  return text.replace(/\r\n[ \t]/g, "").split("\r\n").slice(0, -1);
}

function eventsOf(text: string): Map<string, string>[] {
  const lines = unfold(text);
  return lines.flatMap((line, i) => {
    if (line !== "BEGIN:VEVENT") return [];
    const own = lines.slice(i + 1, lines.indexOf("END:VEVENT", i));
    return [new Map(own.map((one): [string, string] => [one.slice(0, one.indexOf(":")), one.slice(one.indexOf(":") + 1)]))];
  });
}

describe("a calendar link", () => {
  it("opens the project of its person, and only its digest is kept", async () => {
    const token = await make();
    expect(token).toMatch(/^[\w-]{43}$/);
    expect((await openCalendarLink(site.house, token)).id).toBe(site.project.id);
    const rows = await site.tx.calendarLink.findMany();
    expect(rows).toMatchObject([{ tokenHash: createHash("sha256").update(token).digest("hex"), personId: "crew", revokedAt: null }]);
    expect(JSON.stringify(rows)).not.toContain(token);
  });

  it("stops when it is revoked, and when a new one is made", async () => {
    const first = await make();
    const second = await make();
    expect(await refusedWith(openCalendarLink(site.house, first))).toMatchObject({ code: "not-found", message: "There is no such calendar." });
    expect((await openCalendarLink(site.house, second)).id).toBe(site.project.id);
    expect(await calendarLinkSince(site.as("crew"))).toBe(NOON);
    await revokeCalendarLink(site.as("crew"));
    expect(await refusedWith(openCalendarLink(site.house, second))).toMatchObject({ code: "not-found" });
    expect(await calendarLinkSince(site.as("crew"))).toBeNull();
  });

  it("is nobody else's to revoke, and stops when its person leaves", async () => {
    const token = await make();
    await revokeCalendarLink(site.as("qc"));
    expect((await openCalendarLink(site.house, token)).id).toBe(site.project.id);
    await closeMembership(site.house, site.project.id, "crew", "Left.", NOON);
    expect(await refusedWith(openCalendarLink(site.house, token))).toMatchObject({ code: "not-found" });
  });

  it("is no record: the log does not grow by it", async () => {
    const before = await site.tx.logEntry.count();
    await make();
    expect(await site.tx.logEntry.count()).toBe(before);
  });
});

describe("the feed", () => {
  it("is a calendar as RFC 5545 writes it: CRLF, lines of at most 75 octets, UID and DTSTAMP in each entry", async () => {
    await somethingRuns();
    const text = await feed();
    expect(text.endsWith("END:VCALENDAR\r\n")).toBe(true);
    expect(text.replace(/\r\n/g, "")).not.toMatch(/[\r\n]/);
    for (const line of text.split("\r\n")) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
    const lines = unfold(text);
    expect(lines.slice(0, 2)).toEqual(["BEGIN:VCALENDAR", "VERSION:2.0"]);
    expect(lines.filter((line) => line.startsWith("PRODID:"))).toHaveLength(1);
    const events = eventsOf(text);
    expect(events).toHaveLength(4);
    for (const event of events) {
      expect(event.get("UID")).toMatch(/^[\w-]+@lastlook$/);
      for (const name of ["DTSTAMP", "DTSTART"]) expect(event.get(name)).toMatch(/^\d{8}T\d{6}Z$/);
      expect(event.has("DTEND") ? event.get("DTEND")! > event.get("DTSTART")! : true).toBe(true);
    }
    expect(new Set(events.map((event) => event.get("UID"))).size).toBe(events.length);
  });

  const find = (text: string, start: string) => eventsOf(text).find((event) => event.get("SUMMARY")?.startsWith(start));

  it("says of a cure that it is an earliest time and no permission, and of a wait when it ends", async () => {
    await somethingRuns();
    const text = await feed();
    expect(find(text, "02-B")?.get("DTSTART")).toBe("20261204T100000Z"); // 18 h at 20 °C from 12:00 −04:00
    expect(find(text, "02-B")?.get("DESCRIPTION")).toContain("not a permission");
    expect(find(text, "02-A")?.get("DTSTART")).toBe("20261204T160000Z"); // a day after 12:00 −04:00
    expect(find(text, "Water")).toBeDefined();
  });

  it("keeps the UID of a clock whose time moves, and stamps it with the record that moved it", async () => {
    await somethingRuns();
    const before = find(await feed(), "02-B")!;
    site.clock.now = NOON + 2 * HOUR;
    await read(NOON + 2 * HOUR, "10");
    const after = find(await feed(), "02-B")!;
    expect(after.get("UID")).toBe(before.get("UID"));
    expect(after.get("DTSTART")).not.toBe(before.get("DTSTART"));
    expect([before.get("DTSTAMP"), after.get("DTSTAMP")]).toEqual(["20261203T160000Z", "20261203T180000Z"]);
  });

  it("is the same text for the same records, at any hour", async () => {
    await somethingRuns();
    const text = await feed();
    site.clock.now = NOON + MINUTE;
    expect(await feed()).toBe(text);
  });

  it("names no person", async () => {
    await somethingRuns();
    const text = unfold(await feed()).join("\n");
    for (const who of ["crew", "qc", "inspector", "owner"]) expect(text).not.toContain(`Ora ${who}`);
    expect(text).not.toMatch(/ATTENDEE|ORGANIZER|CONTACT/);
  });

  it("is served by its link, to be kept by nobody, and is not found without one", async () => {
    await somethingRuns();
    serveFrom(site.house);
    const token = await make();
    const get = (link: string) => call("/calendar/{token}", { method: "GET", params: { token: link } });
    const response = await get(token);
    expect([response.status, response.headers.get("content-type"), response.headers.get("cache-control")]).toEqual([200, "text/calendar; charset=utf-8", "private, no-store"]);
    expect(await response.text()).toBe(await feed());
    await revokeCalendarLink(site.as("crew"));
    for (const link of [token, "unknown", ""]) expect((await get(link)).status).toBe(404);
  });
});
