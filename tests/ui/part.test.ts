import { createElement, type ComponentType } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { PILE_STATES, POINT_STATES } from "#lib/domain/point/state";
import { BentsPlan, type PlanPile } from "../../app/_ui/bents-plan";
import { ButtonNotAvailable } from "../../app/_ui/button";
import { Choice } from "../../app/_ui/choice";
import { ValueField } from "../../app/_ui/field";
import { State } from "../../app/_ui/mark";
import { PileElevation } from "../../app/_ui/pile-elevation";
import { Sheet } from "../../app/_ui/sheet";
import { Stamp } from "../../app/_ui/stamp";

function drawn<P extends object>(part: ComponentType<P>, props: P): string {
  return renderToStaticMarkup(createElement(part, props));
}

/** What is left for a reader: tags and what is hidden from a screen reader taken out, spaces made single. */
function spoken(html: string): string {
  return html.replace(/<svg[^>]*aria-hidden="true".*?<\/svg>|<span aria-hidden="true">.*?<\/span>/gs, "").replace(/<[^>]+>/g, "").replace(/\s+/g, " ").trim();
}

const pile: PlanPile = { mark: "05-C", row: "C", href: "/piles/05-C", core: "square", state: "QC checked", pointLine: 11, pointKind: "H", word: "QC checked", covered: false, workable: false };

describe("the plan of bents", () => {
  const plan = (piles: PlanPile[]) => drawn(BentsPlan, { bents: [{ code: "05", piles }], north: { bents: "north", rows: "east" } });

  it("names each pile's link by mark, point, kind and state", () => {
    expect(spoken(/<a class="pile".*?<\/a>/s.exec(plan([pile]))![0])).toBe("05-C, point 11 hold point, QC checked");
    expect(spoken(/<a class="pile".*?<\/a>/s.exec(plan([{ ...pile, workable: true }]))![0])).toBe("05-C, point 11 hold point, QC checked, work may be done here now");
  });

  it("leaves the ring open until the pile is covered up", () => {
    const openRing = "M10.2 -22.8";
    expect(plan([pile])).toContain(openRing);
    expect(plan([{ ...pile, covered: true }])).not.toContain(openRing);
  });

  it("turns as a sheet does, never mirrored: north up where bents run east, rows then read from the top down", () => {
    const rows = (html: string) => [...html.matchAll(/<span class="bubble">([A-Z])<\/span>/g)].map(([, row]) => row);
    const piles = [{ ...pile, row: "A" }, { ...pile, row: "B" }];
    expect(rows(drawn(BentsPlan, { bents: [{ code: "05", piles }], north: { bents: "east", rows: "north" } }))).toEqual(["B", "A"]);
    expect(rows(drawn(BentsPlan, { bents: [{ code: "05", piles }], north: { bents: "north", rows: "east" } }))).toEqual(["A", "B"]);
  });
});

describe("a state", () => {
  it("has a word and a shape of its own for every state of a point", () => {
    const shapes = POINT_STATES.map((state) => {
      const html = drawn(State, { state });
      expect(spoken(html)).toBe(state);
      return /href="#([\w-]+)"/.exec(html)![1];
    });
    expect(new Set(shapes).size).toBe(POINT_STATES.length);
  });

  it.each(PILE_STATES)("is drawn for a pile that is %s", (state) => {
    expect(drawn(State, { state })).toMatch(/<use href="#st-[\w-]+"/);
  });
});

describe("a field", () => {
  it("is read with its hint and its error", () => {
    const html = drawn(ValueField, { label: "Projection, bar 6", id: "bar-6", hint: "tape TP-2", error: "48 what?", name: "bar6" });
    expect(html).toContain('<label for="bar-6">');
    expect(html).toMatch(/<input[^>]*aria-describedby="bar-6-hint bar-6-error"[^>]*aria-invalid="true"/);
    expect(html).toContain('inputMode="decimal"');
    expect(html).toContain('id="bar-6-error">48 what?');
  });

  it("chooses nothing before the person does", () => {
    const options = [{ value: "seen", label: "seen" }, { value: "explained", label: "explained" }];
    expect(drawn(Choice, { legend: "Flag 1", name: "flag-1", options })).not.toContain("checked");
    expect(drawn(Choice, { legend: "Flag 1", name: "flag-1", options, chosen: "seen" })).toMatch(/checked=""[^>]*value="seen"|value="seen"[^>]*checked=""/);
  });

  it("says why a button is not available and cannot be sent with it", () => {
    const html = drawn(ButtonNotAvailable, { children: "Release", reason: "Answer flag 1 to release." });
    const [, reason] = /aria-describedby="([^"]+)"/.exec(html)!;
    expect(html).toMatch(/<button type="button"[^>]*aria-disabled="true"/);
    expect(html).toContain(`id="${reason}">Answer flag 1 to release.`);
  });
});

describe("a sheet", () => {
  const sheet = drawn(Sheet, {
    index: [{ href: "/", label: "Bents", current: true }, { href: "/closeout", label: "Closeout", current: false }],
    when: "Thu 3 Dec 2026, 12:00 −04:00",
    titleBlock: { project: "Wharf 2", sheet: "Bents", revision: "B, 5 Oct 2026", logHead: { seq: 4118, digest: "9c1e4f0a77b2d318" }, person: "Ilse Tarrowby, inspector", organisation: "Brandlewick Inspection Office" },
    children: "the work",
  });

  it("has its landmarks, a way past the index and the sheet that is open", () => {
    expect(sheet).toMatch(/<a class="skip" href="#main">.*<nav class="index" aria-label="Sheets">.*<main class="main" id="main".*<footer/s);
    expect(sheet.match(/aria-current="page">Bents/g)).toHaveLength(1);
  });

  it("carries the log head, short on the screen and in full for print", () => {
    expect(sheet).toContain("entry 4\u00a0118");
    expect(sheet).toContain("9c1e\u00a04f0a\u00a077b2");
    expect(sheet).toContain("9c1e4f0a77b2d318");
  });
});

describe("a drawing", () => {
  it("says how far the pile has come", () => {
    const html = drawn(PileElevation, {
      core: "H", mark: "03-D", topFt: 1.3, bottomFt: -2.2, heightIn: 42, insideDiameterIn: 24, spacerRings: 3, tieSets: 5, lifts: [{ heightIn: 3, state: "released" }, { heightIn: 39, state: "not open" }],
      stage: { cleaned: true, bars: true, clamps: false, spacers: true, jacket: true, grouted: false, stripped: false },
    });
    expect(html).toContain('aria-label="Elevation of pile 03-D: jacket 24 in inside, 42 in high, from −2.20 to +1.30 ft; cleaned, bars set, spacers set, jacket on, grout placed to 3 of 42 in."');
  });

  it("stamps a decision in words, and says when only the server attests it", () => {
    expect(spoken(drawn(Stamp, { kind: "released", lines: ["Ilse Tarrowby, in person"], serverAttested: true }))).toContain("server-attested, no passkey");
    expect(spoken(drawn(Stamp, { kind: "released", lines: ["Ilse Tarrowby, in person"] }))).not.toContain("attested");
  });
});
