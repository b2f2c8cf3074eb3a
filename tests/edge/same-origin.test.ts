import { expect, it } from "vitest";
import { requireSameOrigin } from "#lib/edge/same-origin";

const OURS = "wharf.example:8443";

it.each<[string, Record<string, string>, boolean]>([
  ["our own page", { origin: `https://${OURS}`, host: OURS }, true],
  ["our own page in capitals, as a proxy may write the host", { origin: `https://${OURS}`, host: OURS.toUpperCase() }, true],
  ["our own page behind a proxy that keeps the outer host apart", { origin: `https://${OURS}`, host: "127.0.0.1:3000", "x-forwarded-host": OURS }, true],
  ["no origin at all", { host: OURS }, false],
  ["an origin that a browser hides", { origin: "null", host: OURS }, false],
  ["another site", { origin: "https://elsewhere.example", host: OURS }, false],
  ["another port of the same machine", { origin: "https://wharf.example:9000", host: OURS }, false],
  ["a longer name that begins like ours", { origin: `https://${OURS}.elsewhere.example`, host: OURS }, false],
  ["a name that ends like ours", { origin: "https://not-wharf.example:8443", host: OURS }, false],
  ["our name before an @", { origin: `https://${OURS}@elsewhere.example`, host: OURS }, false],
  ["words that are no origin", { origin: "wharf", host: "wharf" }, false],
])("judges %s", (_name, headers, taken) => {
  const ask = () => requireSameOrigin(new Headers(headers));
  if (taken) expect(ask).not.toThrow();
  else expect(ask).toThrow(/own pages/);
});
