import { CAUTIONS } from "#lib/closeout/caution";
import { pileFolder } from "#lib/closeout/file-name";
import type { PackageInput, PileRecord, PointRecord } from "#lib/closeout/package-input";
import { stateMarkSvg } from "#lib/closeout/index-mark";
import { PRINT } from "#lib/closeout/print-token";
import { printedTime } from "#lib/closeout/printed-time";
import type { Head } from "#lib/records/head";

/** index.html: what is in the package and in which state, for any browser, from disk, without scripts or network. */
export function indexHtml(input: PackageInput, head: Head): string {
  const { project, issue, piles, projectPoints, tables } = input;
  const title = `${project.name}, closeout package, issue ${issue.number}`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${text(title)}</title>
<style>${STYLE}</style>
</head>
<body>
<main>
<header>
<p>Closeout package, issue ${issue.number}, ${issue.kind}</p>
<h1>${text(project.name)}</h1>
<p>${text(project.place)} · issued ${text(printedTime(issue.issuedAt, project.zone))} by ${text(issue.issuedBy.name)}, ${text(issue.issuedBy.organisation)}</p>
</header>
${section("Parties", `<dl>${project.organisations.map(({ part, name }) => `<dt>${text(part)}</dt><dd>${text(name)}</dd>`).join("")}</dl>`)}
${section(
  "Still open",
  issue.openItems.length === 0
    ? "<p>No items are open.</p>"
    : `<details${issue.openItems.length <= 12 ? " open" : ""}><summary>${issue.openItems.length} open</summary><ul>${issue.openItems.map((item) => `<li>${text(item)}</li>`).join("")}</ul></details>`,
)}
${section(`Piles (${piles.length})`, pileTable(piles))}
${projectPoints.length === 0 ? "" : section("Points of the project", `<p>${link("project/record.pdf")}</p>${pointTable(projectPoints)}`)}
${section("Tables", `<p>The whole record as CSV, described in ${link("tables/schema.json")}.</p><ul>${tables.map(({ name, description }) => `<li>${link(`tables/${name}.csv`)} ${text(description)}</li>`).join("")}</ul>`)}
${section(
  "Log and signatures",
  `<p>${link("log.jsonl")}: ${head.size} entries, each with the SHA-256 of the one before. The records it names are in <a href="records/">records/</a>, the signatures in <a href="signatures/">signatures/</a>,
signed heads in <a href="heads/">heads/</a>, public keys in <a href="keys/">keys/</a>.</p>
<dl><dt>Log head</dt><dd><code>${head.last}</code></dd><dt>Entry</dt><dd>${head.size}, signed ${text(printedTime(head.at, project.zone))}</dd><dt>Key</dt><dd><code>${head.key}</code></dd></dl>
<p>The same head stands on each page of each PDF of this package. Compare it with a page or a mail from an earlier time: an older head must be among heads/ or fit the log.</p>`,
)}
${section(
  "How to verify",
  `<p>In the folder above this one: <code>sh verify.sh</code>. It needs a shell, coreutils, find, grep, sed, awk, jq and OpenSSL 3, and no network. By hand:
<code>sha256sum -c manifest-sha256.txt</code> and <code>sha256sum -c tagmanifest-sha256.txt</code>. <a href="../README.txt">README.txt</a> tells more.</p>
<p>Verifying shows that nothing changed since the package was issued. It does not show that what was entered is true.</p>`,
)}
${section("Cautions", `<ul>${CAUTIONS.map((caution) => `<li>${text(caution)}</li>`).join("")}</ul>`)}
</main>
</body>
</html>
`;
}

function pileTable(piles: readonly PileRecord[]): string {
  if (piles.length === 0) return "<p>No piles.</p>";
  const rows = piles.map((pile) => {
    const applicable = pile.points.filter((point) => point.applicable);
    const settled = applicable.filter(({ state }) => state === "released" || state === "released under concession").length;
    const photos = pile.points.flatMap((point) => point.photos.map((photo) => ({ point, photo })));
    const documents = pile.points.flatMap((point) => point.documents);
    return `<tr>
<th scope="row">${text(pile.mark)}</th>
<td>${text(pile.typeWords)}<br><small>bent ${text(pile.bent)}, row ${text(pile.row)}</small></td>
<td>${stateMarkSvg(pile.state)} <b>${text(pile.state)}</b>${pile.stateWords ? `<br><small>${text(pile.stateWords)}</small>` : ""}</td>
<td>${settled} of ${applicable.length}</td>
<td>${link(`${pileFolder(pile.mark)}/record.pdf`, "record.pdf")}</td>
<td><details><summary>${pile.points.length} points, ${photos.length} photos</summary>${pointTable(pile.points)}
<ul>${photos.map(({ point, photo }) => `<li>${link(photo.bagPath, `${point.line}, ${photo.subject}`)}: ${text(photo.order)}, ${text(photo.place)}, taken ${text(photo.takenWords)}</li>`).join("")}${documents.map(({ title, bagPath }) => `<li>${link(bagPath, title)}</li>`).join("")}</ul></details></td>
</tr>`;
  });
  return `<table><thead><tr><th>Pile</th><th>Type</th><th>State</th><th>Released</th><th>Record</th><th>Points and photos</th></tr></thead><tbody>${rows.join("\n")}</tbody></table>`;
}

function pointTable(points: readonly PointRecord[]): string {
  const rows = points.map(({ line, kind, name, state, because }) => `<tr><th scope="row">${text(line)}</th><td>${kind}</td><td>${text(name)}</td><td>${stateMarkSvg(state)} ${text(state)}${because ? `: ${text(because)}` : ""}</td></tr>`);
  return `<table class="points"><tbody>${rows.join("")}</tbody></table>`;
}

const section = (heading: string, body: string): string => `<section><h2>${text(heading)}</h2>\n${body}</section>`;
const link = (path: string, words = path): string => `<a href="${text(path.split("/").map(encodeURIComponent).join("/"))}">${text(words)}</a>`;
const text = (words: string): string => words.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);

const STYLE = `
:root { --ink: ${PRINT.ink}; --ink-soft: ${PRINT.inkSoft}; --rule: ${PRINT.rule}; --sheet: ${PRINT.paper}; --held: ${PRINT.held}; --rejected: ${PRINT.rejected}; --doubt: ${PRINT.doubt} }
* { box-sizing: border-box }
body { margin: 10px; background: var(--sheet); color: var(--ink); font: 15px/1.45 "B612", Verdana, "DejaVu Sans", sans-serif }
main { border: 2.5px solid var(--ink); max-width: 1180px; margin: 0 auto }
header, section { padding: 14px 18px; border-bottom: 1.5px solid var(--ink) }
section:last-child { border-bottom: 0 }
header p { margin: 0 } h1 { font-size: 32px; line-height: 1.15; margin: 4px 0 6px }
h2 { font: 700 13px/1.3 "Encode Sans Condensed", "Arial Narrow", sans-serif; letter-spacing: .06em; text-transform: uppercase; margin: 0 0 8px }
p { margin: 0 0 8px; max-width: 78ch } ul { margin: 4px 0; padding-left: 20px } li { max-width: 90ch }
table { border-collapse: collapse; width: 100%; border-bottom: 2px solid var(--ink); font-size: 13px }
thead th { border-bottom: 2px solid var(--ink) } th, td { text-align: left; vertical-align: top; padding: 6px 12px 6px 0; border-bottom: 1px solid var(--rule) }
tbody th { font-size: 16px; white-space: nowrap } .points { border: 0; margin: 6px 0 } .points th { font-size: 13px }
small, dt { color: var(--ink-soft) } dl { display: grid; grid-template-columns: max-content 1fr; gap: 2px 18px; margin: 0 } dd { margin: 0; overflow-wrap: anywhere }
code { font: 13px "B612 Mono", "DejaVu Sans Mono", monospace; overflow-wrap: anywhere } a { color: var(--ink) } summary { cursor: pointer; min-height: 24px }
.mark { width: 14px; height: 14px; vertical-align: -2px }
@media (max-width: 760px) { table, tbody, tr, th, td { display: block; border-bottom: 0; padding: 2px 0 } thead { display: none } tbody tr { border-bottom: 1px solid var(--rule); padding: 6px 0 } }
`;
