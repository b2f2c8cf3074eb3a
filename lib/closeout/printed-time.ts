import { Temporal } from "temporal-polyfill";

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** A time as people on site read it: "16 Oct 2026 15:40:12 −03:00". `iso` carries Z or an offset; `zone` is the site's IANA zone. */
export function printedTime(iso: string, zone: string): string {
  const time = inZone(iso, zone);
  return `${day(time)} ${clock(time)} ${offset(time)}`;
}

/** A span of work: "13 Oct 2026 08:10 to 09:40 −03:00", and both ends in full where day or offset changes between them. */
export function printedSpan(fromIso: string, toIso: string, zone: string): string {
  const [from, to] = [inZone(fromIso, zone), inZone(toIso, zone)];
  if (day(from) !== day(to) || from.offset !== to.offset) return `${printedTime(fromIso, zone)} to ${printedTime(toIso, zone)}`;
  return `${day(from)} ${clock(from)} to ${clock(to)} ${offset(to)}`;
}

const inZone = (iso: string, zone: string): Temporal.ZonedDateTime => Temporal.Instant.from(iso).toZonedDateTimeISO(zone);
const two = (n: number): string => String(n).padStart(2, "0");
const day = (time: Temporal.ZonedDateTime): string => `${time.day} ${MONTHS[time.month - 1] ?? ""} ${time.year}`;
const clock = ({ hour, minute, second }: Temporal.ZonedDateTime): string => `${two(hour)}:${two(minute)}${second === 0 ? "" : `:${two(second)}`}`;
const offset = (time: Temporal.ZonedDateTime): string => time.offset.replace("-", "−");
