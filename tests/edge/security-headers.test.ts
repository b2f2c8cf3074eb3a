import { expect, it } from "vitest";
import { securityHeaders } from "#lib/edge/security-headers";

function policy(path: string, dev = false): Map<string, string> {
  const text = securityHeaders({ path, nonce: "bm9uY2U=", dev })["content-security-policy"] ?? "";
  return new Map(text.split("; ").map((part) => [part.split(" ")[0] ?? "", part.split(" ").slice(1).join(" ")]));
}

it("lets a page run its own scripts with this answer's nonce, and no inline script or style sheet", () => {
  const page = policy("/p/small");
  expect(page.get("script-src")).toBe("'self' 'nonce-bm9uY2U='");
  expect(page.get("style-src")).toBe("'self'");
  expect(page.get("default-src")).toBe("'none'");
  expect(page.get("frame-ancestors")).toBe("'none'");
  expect(page.get("form-action")).toBe("'self'");
});

it("loosens nothing for a page but style attributes, outside development", () => {
  const loose = [...policy("/")].filter(([, value]) => /unsafe/.test(value)).map(([name]) => name);
  expect(loose).toEqual(["style-src-attr"]);
});

it("lets nothing run in what the API answers", () => {
  for (const path of ["/api/v1/projects/small/photos/1/original", "/api/health", "/api/v1/projects?x=1"]) {
    expect([...policy(path)]).toEqual([["default-src", "'none'"], ["frame-ancestors", "'none'"], ["sandbox", ""]]);
  }
});

it("takes a page whose name begins like the API for a page", () => {
  expect(policy("/apiary").has("script-src")).toBe(true);
});

it("keeps types as sent, hides the address from other sites, and leaves camera and position to our own pages", () => {
  const headers = securityHeaders({ path: "/", nonce: "x" });
  expect(headers["x-content-type-options"]).toBe("nosniff");
  expect(headers["referrer-policy"]).toBe("same-origin");
  expect(headers["permissions-policy"]).toContain("camera=(self), geolocation=(self), microphone=()");
});
