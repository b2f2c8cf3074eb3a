import type { Member } from "#lib/domain/access/member";
import { formatWhen, siteTime } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { EstimatePrint } from "#lib/closeout/estimate-pdf";
import { logHead } from "#lib/db/journal";
import type { Asking } from "#lib/services/ask";
import { estimateLead, selectionWords, type EstimateSelection, type EstimateView } from "#lib/services/estimate-view";

/** What the print of an estimate shows, with how far the log had come when it was made. */
export async function estimatePrint({ house, project }: Asking, { view, selection, by, at }: { view: EstimateView; selection: EstimateSelection; by: Member; at: Instant }): Promise<EstimatePrint> {
  const head = await logHead(house.db.read, project.id);
  const { revision, groups, order, leftOut, notWorkedOut } = view;
  return {
    frame: {
      project: { name: project.name, zone: project.zone }, author: by.organisation, madeAt: new Date(at).toISOString(),
      log: { digest: head?.digest ?? "", words: head ? `entry ${head.seq}; an estimate is no record` : "no record yet" },
      origin: { label: "Estimate", lines: [formatWhen(at, project.zone), by.name] },
    },
    place: project.place,
    lead: estimateLead(view),
    selectionWords: `${selectionWords(selection)}${selection.celsius === null ? "" : `; resin at ${selection.celsius.toFixed(1)} °C`}`,
    revisionWords: revision ? `Revision ${revision.letter}, from ${siteTime(revision.appliesFrom, project.zone).date}.` : "No revision is approved.",
    groups: groups.map(({ type, name, letter, markWords, marks, estimate, toDo }) => ({ type, name, letter, markWords, piles: marks.length, bags: estimate.grout.known ? estimate.grout.bags * toDo.grout : 0, estimate })),
    order,
    notes: [
      ...leftOut.map(({ words, because }) => `${words}: ${because}.`),
      ...order.uncut.map(({ mark, because }) => `${mark}: ${because}`),
      ...notWorkedOut.map(({ words, parts, because }) => `${words}, ${parts.join(", ").toLowerCase()}: cannot tell. ${because}`),
    ],
  };
}
