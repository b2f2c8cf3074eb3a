import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { filesOf, templateOf } from "#tests/access/call";

/** What a page asks for before it reads anything; the journeys try it in a browser. */
const PAGES: Record<string, string> = {
  "/": "nothing",
  "/sign-in": "nothing",
  "/join/{token}": "an invitation",
  "/p": "a session",
  "/p/{project}": "see project",
  "/p/{project}/cameras": "see project",
  "/p/{project}/cameras/clock": "see project",
  "/p/{project}/card": "send photo",
  "/p/{project}/clocks": "see project",
  "/p/{project}/clocks/calendar": "see project",
  "/p/{project}/clocks/tides": "see project",
  "/p/{project}/clocks/weather": "see project",
  "/p/{project}/closeout": "see closeout",
  "/p/{project}/import": "import piles",
  "/p/{project}/estimate": "see project",
  "/p/{project}/estimate/checks": "see project",
  "/p/{project}/materials": "see project",
  "/p/{project}/people": "see project",
  "/p/{project}/piles/new": "add pile",
  "/p/{project}/piles/{mark}": "see project",
  "/p/{project}/piles/{mark}/{line}": "see project",
  "/p/{project}/piles/{mark}/{line}/capture/{subject}": "write draft",
  "/p/{project}/piles/{mark}/sequence": "see project",
  "/p/{project}/photo-limits": "see project",
  "/p/{project}/photos/{photo}": "see project",
  "/p/{project}/photos/{photo}/beside/{other}": "see project",
  "/p/{project}/photos/{photo}/mix": "see project",
  "/p/{project}/requirements/difference": "see project",
  "/p/{project}/requirements": "see project",
  "/p/{project}/requirements/design": "see project",
  "/p/{project}/requirements/file": "see project",
  "/p/{project}/requirements/{line}": "see project",
  "/p/{project}/round": "see project",
  "/p/{project}/sheet": "see project",
  "/p/{project}/tags": "see project",
  "/p/{project}/sheet/{line}": "see project",
  "/p/{project}/sheet/{line}/capture/{subject}": "write draft",
};

/** What every server action asks for. Each is an endpoint of its own that anybody can call. */
const ACTIONS: Record<string, Record<string, string>> = {
  "app/sign-in/actions.ts": { enter: "own origin", leave: "own origin", chooseTheme: "own origin" },
  "app/join/[token]/actions.ts": { join: "own origin" },
  "app/p/[project]/cameras/actions.ts": { confirmClock: "confirm camera" },
  "app/p/[project]/photo-limits/actions.ts": { setLimits: "set photo limits" },
  "app/p/[project]/clocks/calendar/actions.ts": { makeLink: "see project", stopLink: "see project" },
  "app/p/[project]/clocks/tides/actions.ts": { addTideTable: "keep tides" },
  "app/p/[project]/clocks/weather/actions.ts": { addWeather: "read temperature" },
  "app/p/[project]/closeout/actions.ts": { issue: "issue closeout" },
  "app/p/[project]/import/actions.ts": { paste: "import piles", drop: "import piles", mapColumns: "import piles", answerRows: "import piles", commit: "import piles", undo: "import piles" },
  "app/p/[project]/materials/actions.ts": { addInstrument: "keep instruments", addCalibration: "keep instruments", addLot: "keep lots" },
  "app/p/[project]/requirements/difference/actions.ts": { approve: "approve revision" },
  "app/p/[project]/piles/[mark]/override-actions.ts": { add: "change requirement", end: "change requirement" },
  "app/p/[project]/people/actions.ts": { addQualification: "keep people", invite: "keep people" },
  "app/p/[project]/photos/[photo]/beside/[other]/actions.ts": { answer: "answer likeness" },
  "app/p/[project]/photos/[photo]/mix/actions.ts": { keep: "check streaks" },
  "app/p/[project]/card/actions.ts": { take: "send photo" },
  "app/p/[project]/accept-action.ts": { accept: "accept pile" },
  "app/p/[project]/requirements/actions.ts": {
    start: "draft revision", startBare: "draft revision", keepQuantity: "draft revision", takeQuantityOut: "draft revision", keepLine: "draft revision", addOnePoint: "draft revision", takePointOut: "draft revision",
    keepType: "draft revision", addOneType: "draft revision", keepTitle: "draft revision", discard: "draft revision", review: "review revision", readFile: "draft revision",
  },
  "app/p/[project]/piles/new/actions.ts": { addOnePile: "add pile" },
  "app/p/[project]/point/decision/actions.ts": { decide: "decide point", check: "check submission" },
  // Sending keeps the draft too; the service asks for "submit point" itself.
  "app/p/[project]/point/entry/actions.ts": { sendEntry: "write draft", keepDraft: "write draft", withdraw: "withdraw submission" },
  "app/p/[project]/point/entry/temperature-actions.ts": { logTemperature: "read temperature" },
};

function askedBy(text: string): string[] {
  return [...text.matchAll(/(?:openPage|formAsking)\([^;]*?\)/g)].map(([found]) => /"([a-z A-Z]+)"/.exec(found)?.[1] ?? "see project");
}

describe("pages", () => {
  const files = filesOf("app", /(^|\/)page\.tsx$/);

  it("each have a row, and no row is left over", () => {
    expect(files.map(templateOf).sort()).toEqual(Object.keys(PAGES).sort());
  });

  it.each(files.map((file) => ({ file, action: PAGES[templateOf(file)] ?? "no row" })))("$file asks for: $action", ({ file, action }) => {
    const text = readFileSync(file, "utf8");
    if (action === "nothing") expect(text).not.toMatch(/openPage|getProject/);
    else if (action === "an invitation") expect(text).toMatch(/openInvitation\(/);
    else if (action === "a session") expect(text).toMatch(/signedInPerson\(\)[\s\S]*redirect\("\/sign-in"\)/);
    else expect(askedBy(text)).toEqual([action]);
  });
});

describe("server actions", () => {
  const files = filesOf("app", /\.tsx?$/).filter((file) => /^"use server";/m.test(readFileSync(file, "utf8")));

  it("stand in files of their own, never inside a component", () => {
    const inline = filesOf("app", /\.tsx?$/).filter((file) => /^\s+"use server";/m.test(readFileSync(file, "utf8")));
    expect(inline).toEqual([]);
  });

  it("each have a row, and no row is left over", () => {
    const found = files.flatMap((file) => exportsOf(readFileSync(file, "utf8")).map(({ name }) => `${file} ${name}`));
    const rows = Object.entries(ACTIONS).flatMap(([file, names]) => Object.keys(names).map((name) => `${file} ${name}`));
    expect(found.sort()).toEqual(rows.sort());
  });

  const all = files.flatMap((file) => exportsOf(readFileSync(file, "utf8")).map((one) => ({ file, ...one, asks: ACTIONS[file]?.[one.name] ?? "no row" })));
  it.each(all)("$name of $file asks for: $asks", ({ body, asks }) => {
    if (asks === "own origin") expect(body).toMatch(/requireSameOrigin\(/);
    else expect([...new Set(askedBy(body))]).toEqual([asks]);
  });
});

/** The exported functions of a module of actions, each with its text up to the next one. */
function exportsOf(text: string): { name: string; body: string }[] {
  return text
    .split(/^(?=export async function )/m)
    .flatMap((part) => {
      const name = /^export async function (\w+)/.exec(part)?.[1];
      return name ? [{ name, body: part }] : [];
    });
}
