import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";

const folder = join(import.meta.dirname, "../../app/_ui");
const tokens = readFileSync(join(folder, "tokens.css"), "utf8").replace(/\/\*.*?\*\//gs, "");

/** The custom properties that one rule of tokens.css sets. */
function block(selector: string, media?: string): Record<string, string> {
  const scope = media === undefined ? tokens : tokens.slice(tokens.indexOf(media));
  const body = scope.slice(scope.indexOf(`${selector} {`)).split("}")[0]!;
  return Object.fromEntries([...body.matchAll(/(--[\w-]+):\s*([^;]+);/g)].map(([, name, value]) => [name!, value!.trim()]));
}

const day = block(":root");
const phone = { ...day, ...block(":root", "(max-width: 700px)") };
const deviceNight = block(':root:not([data-theme="day"])');
const ownNight = block(':root[data-theme="night"]');
const print = { ...day, ...block(":root", "@media print") };

/** Contrast ratio of two sRGB colours: WCAG 2.2, definitions of relative luminance and contrast ratio. */
function contrast(one: string, other: string): number {
  const [lighter, darker] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [number, number];
  return (lighter + 0.05) / (darker + 0.05);
}

function luminance(colour: string): number {
  const digits = colour.slice(1).replace(/^(.)(.)(.)$/, "$1$1$2$2$3$3");
  const [red, green, blue] = [0, 2, 4].map((start) => {
    const share = parseInt(digits.slice(start, start + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

const NAMES_A_COLOUR = /#[0-9a-f]{3}(?:[0-9a-f]{3})?\b(?!-)|\b(?:rgb|hsl|oklch)a?\(|[:=]\s*"?(?:white|black|red|green|blue|gray|grey)(?=[;"])/i;

describe("the tokens", () => {
  it("are the only place that names a colour", () => {
    const named = readdirSync(folder)
      .filter((file) => /\.(css|tsx?)$/.test(file) && file !== "tokens.css")
      .filter((file) => NAMES_A_COLOUR.test(readFileSync(join(folder, file), "utf8")));
    expect(named).toEqual([]);
    expect(['fill="#fff"', "color: #12578a;", "background: rgb(0 0 0)", 'stroke="black"'].every((text) => NAMES_A_COLOUR.test(text))).toBe(true);
  });

  it("are alike at night, whether the device or the person wants it", () => {
    expect(Object.keys(ownNight).length).toBeGreaterThan(15);
    expect(deviceNight).toEqual(ownNight);
  });

  it.each([
    ["day", day, 4.5],
    ["phone", phone, 9],
    ["night", { ...day, ...ownNight }, 4.5],
    ["print", print, 4.5],
  ])("keep every word readable: %s", (_theme, theme, least) => {
    for (const word of ["--ink", "--ink-soft", "--held", "--rejected", "--doubt", "--tide-ink"]) {
      expect(contrast(theme[word]!, theme["--sheet"]!), word).toBeGreaterThanOrEqual(least);
    }
    expect(contrast(theme["--on-ink"]!, theme["--ink"]!)).toBeGreaterThanOrEqual(least);
    expect(contrast(theme["--focus"]!, theme["--sheet"]!)).toBeGreaterThanOrEqual(3);
  });

  it("know the contrast of black and white, which WCAG gives as 21 : 1", () => {
    expect(contrast("#000", "#ffffff")).toBeCloseTo(21, 9);
  });
});
