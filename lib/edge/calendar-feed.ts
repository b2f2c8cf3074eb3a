import ical, { ICalCalendarMethod, ICalEventTransparency } from "ical-generator";
import type { CalendarEntry } from "#lib/domain/clock/calendar";

/**
 * A calendar to subscribe to. Each entry keeps its UID as long as its clock runs, and its DTSTAMP is the instant of the record
 * that it follows from, so that the same records give the same text.
 * @source RFC 5545; RFC 7986 for the name of the calendar.
 */
export function calendarFeed(name: string, entries: readonly CalendarEntry[]): string {
  const calendar = ical({ name, prodId: { company: "Lastlook", product: "Clocks", language: "EN" }, method: ICalCalendarMethod.PUBLISH });
  for (const { uid, start, end, changedAt, summary, description } of entries) {
    calendar.createEvent({
      id: uid, start: new Date(start), ...(end === null ? {} : { end: new Date(end) }), stamp: new Date(changedAt), summary, description,
      transparency: ICalEventTransparency.TRANSPARENT,
    });
  }
  // Every content line ends in CRLF, the last one too.
  return `${calendar.toString()}\r\n`;
}
