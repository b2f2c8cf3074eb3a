import PDFDocument from "pdfkit";
import { siteTime } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { typedValues, type Going } from "#seed/point-act";

/** One page of plain text, dated as it would have been. */
function page(title: string, at: Instant, lines: readonly string[]): Promise<Buffer> {
  const document = new PDFDocument({ size: "LETTER", margin: 72, info: { Title: title, CreationDate: new Date(at), ModDate: new Date(at) } });
  const chunks: Buffer[] = [];
  const written = new Promise<Buffer>((resolve, reject) => {
    document.on("data", (chunk: Buffer) => chunks.push(chunk));
    document.on("end", () => resolve(Buffer.concat(chunks)));
    document.on("error", reject);
  });
  document.fontSize(18).text(title).moveDown();
  document.fontSize(11);
  for (const line of lines) document.text(line).moveDown(0.4);
  document.end();
  return written;
}

/** The laboratory's report on the specimens of a pile. */
export function labReport(mark: string, going: Going): Promise<Buffer> {
  const tests = typedValues(going).filter(({ quantity }) => quantity === "strength");
  const { date } = siteTime(going.ended, going.subject.zone);
  return page(`Compressive strength, pile ${mark}`, going.ended, [
    "Corrin Cove Materials Laboratory (invented)",
    `Specimens marked ${mark}, tested at 28 days, reported ${date}.`,
    ...tests.map(({ item, text }) => `Test ${item ?? 1}: ${text}, mean of two cubes.`),
  ]);
}

/** The submittals, stamped by the engineer. */
export function submittals(at: Instant, names: readonly string[]): Promise<Buffer> {
  return page("Submittals", at, names.map((name, index) => `S-${String(index + 3).padStart(2, "0")}  ${name}: approved, none to revise and resubmit.`));
}
