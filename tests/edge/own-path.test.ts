import { describe, expect, it } from "vitest";
import { ownPath, signInPath } from "#lib/edge/page";

describe("a path that somebody is sent back to", () => {
  it.each([
    ["/p/small/piles/02-A", "/p/small/piles/02-A"],
    ["/p/small?state=open", "/p/small?state=open"],
    ["/p/small?_rsc=1x2", "/p/small"],
    ["/p/../p/small", "/p/small"],
  ])("%s is one of ours", (text, path) => {
    expect(ownPath(text)).toBe(path);
  });

  it.each([null, undefined, "", "p/small", "https://elsewhere.example/", "//elsewhere.example/", "/\\elsewhere.example", "\\/elsewhere.example", "/\t/elsewhere.example", "javascript:alert(1)"])(
    "%s leads elsewhere and is dropped",
    (text) => {
      expect(ownPath(text)).toBeNull();
    },
  );

  it("is carried by the sign-in page, and left out where it says nothing", () => {
    expect(signInPath("/p/small?x=1&y=2")).toBe("/sign-in?next=%2Fp%2Fsmall%3Fx%3D1%26y%3D2");
    expect(signInPath("/")).toBe("/sign-in");
    expect(signInPath("//elsewhere.example")).toBe("/sign-in");
  });
});
