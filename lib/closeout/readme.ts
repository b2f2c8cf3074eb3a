import { CAUTIONS } from "#lib/closeout/caution";
import type { PackageInput } from "#lib/closeout/package-input";

/** README.txt at the top of a package: plain text, 100 columns, for a reader who has nothing but this folder. */
export function readmeText({ project, issue, tables }: PackageInput): string {
  const title = `${project.name}, ${project.place}`;
  const sections = [
    [
      title,
      "=".repeat(title.length),
      `Closeout package, issue ${issue.number} (${issue.kind}), issued ${issue.issuedAt} by ${issue.issuedBy.name}, ${issue.issuedBy.organisation}.`,
      issue.openItems.length === 0 ? "No items are open." : `Items still open: ${issue.openItems.length}`,
      ...issue.openItems.map((item) => `  - ${item}`),
    ],
    ["Start here", "----------", "Open data/index.html in any browser. It needs no network and runs no scripts."],
    [
      "How to verify",
      "-------------",
      "The ZIP file: compare its SHA-256 with the one on the transmittal (sha256sum FILE.zip).",
      "This folder: sh verify.sh",
      "  It needs a shell, coreutils, find, grep, sed, awk, jq and OpenSSL 3, and no network. Each fault is a line",
      "  \"FAULT: file: what\"; the last line says OK or NOT OK. To trust the script itself, compare its SHA-256 with the",
      "  line in tagmanifest-sha256.txt, or use the verify.sh of another issue: sh verify.sh FOLDER",
      "By hand: sha256sum -c manifest-sha256.txt",
      "         sha256sum -c tagmanifest-sha256.txt",
      "  One signature, with D the digest of a record and K the id of a key:",
      "  openssl pkeyutl -verify -pubin -inkey data/keys/K.pem -rawin -in data/records/D.json -sigfile data/signatures/D.K.sig",
      "Verifying shows that nothing changed since the package was issued. It does not show that what was entered is true, nor that the",
      "server's owner wrote nothing anew before issuing it: for that, compare the log head (printed on each page of each PDF, and sent out",
      "by mail at sign-off) and the key id with papers from that time. The head of an older paper must stand in data/heads, or fit the log.",
    ],
    [
      "What is where",
      "-------------",
      "This folder is a bag (BagIt 1.0, RFC 8493). The manifests list every file with its SHA-256.",
      "data/index.html           the state of each pile, with links",
      "data/piles/MARK/          record.pdf; photos/ as they were received, byte for byte; view/ reduced copies for reading; documents/",
      "data/project/             the same for the points of the project itself",
      "data/piles.geojson        positions of the piles (RFC 7946, WGS 84), where known",
      "data/tables/              the whole record as CSV, with schema.json",
      "data/log.jsonl            one entry a line. prev is the SHA-256 of the line before, without its line end; 64 zeros for the first",
      "data/records/             the records that the log names, each under the SHA-256 of its bytes (canonical JSON, RFC 8785)",
      "data/signatures/          RECORD.KEY.sig: the 64 bytes of the Ed25519 signature (RFC 8032) over that record",
      "data/heads/               signed statements of how far the log went, with their signatures beside them",
      "data/keys/                the public keys, each under its id: the first 16 digits of the SHA-256 of its DER form",
      "A photo's name says: point, attempt, subject, and the instant it was taken in UTC, or no-time.",
    ],
    [
      "Tables",
      "------",
      "UTF-8, comma, CRLF, one header line (RFC 4180). An empty cell is null. Times are ISO 8601.",
      "A cell that begins with = + - @, tab or CR and is not a plain number has an apostrophe (') before it, so that no spreadsheet runs it.",
      "The apostrophe is not part of the value.",
      ...tables.map(({ name, description }) => `  ${name}.csv: ${description}`),
    ],
    [
      "Words",
      "-----",
      "Decisions marked server-attested were confirmed with the person's password and signed by the server, not by the person's own key.",
      "The record.pdf files are PDF; no archival profile is claimed for them.",
      "Personal data is limited to names and roles, and to what photos show.",
    ],
    ["Cautions", "--------", ...CAUTIONS.map((caution) => `- ${caution}`)],
  ];
  return `${sections.map((lines) => lines.join("\n")).join("\n\n")}\n`;
}
