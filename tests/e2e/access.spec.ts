import { createHash } from "node:crypto";
import sharp from "sharp";
import { addMember } from "#lib/services/open-project";
import { PASSWORD, smallProject } from "#tests/services/small-project";
import { expect, expectAccessible, siteTest } from "#tests/e2e/site";

const ROLES = { hand: "crew member", delegate: "delegate", administrator: "administrator" } as const;

const test = siteTest({
  password: PASSWORD,
  make: async (dataDir) => {
    const site = await smallProject({ dataDir, demonstration: true });
    for (const [personId, role] of Object.entries(ROLES)) {
      await addMember(site.house, "small", { personId, name: `Person ${personId}`, organisationId: "works", roles: [role] }, site.clock.now);
    }
    await site.house.db.close();
    return site.clock.now;
  },
});

const EVERYBODY = ["crew", "qc", "inspector", "engineer", "owner", "hand", "delegate", "administrator"];
const PAGES: { path: string; open: string[] }[] = [
  { path: "/p/small", open: EVERYBODY },
  { path: "/p/small/sheet", open: EVERYBODY },
  { path: "/p/small/sheet/P1", open: EVERYBODY },
  { path: "/p/small/piles/02-A", open: EVERYBODY },
  { path: "/p/small/piles/02-A/4", open: EVERYBODY },
  { path: "/p/small/round", open: EVERYBODY },
  { path: "/p/small/materials", open: EVERYBODY },
  { path: "/p/small/people", open: EVERYBODY },
  { path: "/p/small/closeout", open: ["qc", "inspector", "engineer", "owner", "administrator"] },
  { path: "/p/small/piles/new", open: ["qc", "administrator"] },
];

test("every page opens for the roles it is for, and says so to the others", async ({ page, signInAs }) => {
  test.setTimeout(120_000);
  for (const who of EVERYBODY) {
    await signInAs(who);
    for (const { path, open } of PAGES) {
      const response = await page.request.get(path);
      expect(response.status(), `${who} at ${path}`).toBe(open.includes(who) ? 200 : 403);
    }
  }
});

test("a page that does not exist, and one of another project, are not found", async ({ page, signInAs }) => {
  await signInAs("qc");
  for (const path of ["/p/nowhere", "/p/nowhere/closeout", "/p/small/piles/99-Z", "/p/small/piles/02-A/99", "/p/small/sheet/4", "/join/not-a-token", "/anything"]) {
    expect((await page.request.get(path)).status(), path).toBe(404);
  }
});

test("who is signed out signs in, without scripts, and comes back to the page that was asked for", async ({ browser, site }) => {
  const context = await browser.newContext({ baseURL: site.url, javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto("/p/small/piles/02-A/4?from=round");
  await page.getByLabel("Name").fill("Inspector ");
  await page.getByLabel("Password").fill("loud harbour");
  await page.getByRole("button", { name: "Sign in" }).click();
  await expect(page.getByRole("alert")).toContainText("Name or password is not right.");

  await page.getByLabel("Password").fill(site.password);
  await page.getByRole("button", { name: "Sign in" }).click();
  await expect(page).toHaveURL(/\/p\/small\/piles\/02-A\/4\?from=round$/);
  const [session] = (await context.cookies()).filter(({ name }) => name === "lastlook-session");
  expect(session).toMatchObject({ httpOnly: true, sameSite: "Lax", secure: false });

  await page.getByRole("button", { name: "Night sheet" }).click();
  await expect(page.locator("html")).toHaveAttribute("data-theme", "night");
  await page.getByRole("button", { name: "Sign out" }).click();
  await expect(page).toHaveURL(/\/sign-in$/);
  expect((await page.goto("/p/small"))?.url()).toContain("/sign-in?next=");
  await context.close();
});

for (const [device, viewport] of [["phone", { width: 390, height: 844 }], ["desk", { width: 1440, height: 900 }]] as const) {
  test(`the sheets outside a project can be read by everybody, on a ${device}`, async ({ page, signInAs }) => {
    await page.setViewportSize(viewport);
    await signInAs("qc");
    for (const path of ["/sign-in", "/anything", "/p/nowhere"]) {
      await page.goto(path);
      await expectAccessible(page, path);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(viewport.width);
    }
  });
}

test("an invited person joins by the link, once, and works under the role they were given", async ({ browser, page, site, signInAs }) => {
  await signInAs("administrator");
  await page.goto("/p/small/people");
  await page.getByLabel("Name, as it stands in the record").fill("Una Brell");
  await page.getByLabel("Organisation", { exact: true }).selectOption({ label: "Orrel Inspection, inspection" });
  await page.getByRole("checkbox", { name: "inspector" }).check();
  await page.getByRole("button", { name: "Make the link" }).click();
  const link = await page.getByText(/\/join\/[\w-]+/).innerText();

  const context = await browser.newContext({ baseURL: site.url });
  const invited = await context.newPage();
  await invited.goto(link);
  await expect(invited.getByRole("heading", { level: 1 })).toHaveText("Join Small pier");
  await invited.getByLabel("Name to sign in with").fill("una");
  await invited.getByLabel("Password").fill("short");
  await invited.getByRole("button", { name: "Join and sign in" }).click();
  await expect(invited.getByRole("alert").filter({ hasText: "You have not joined yet" })).toContainText("at least 10 characters");

  await invited.getByLabel("Name to sign in with").fill("una");
  await invited.getByLabel("Password").fill("a long enough one");
  await invited.getByRole("button", { name: "Join and sign in" }).click();
  await expect(invited).toHaveURL(/\/p\/small$/);
  await expect(invited.getByText("Orrel Inspection, inspector")).toBeVisible();
  expect((await invited.goto(link))?.status()).toBe(404);
  await context.close();
});

test("every answer carries its policy, a nonce of its own, and no script or style is refused by it", async ({ page, site, signInAs }) => {
  const refused: string[] = [];
  page.on("console", (message) => {
    if (/Content Security Policy/.test(message.text())) refused.push(message.text());
  });
  await signInAs("inspector");
  const nonces = new Set<string>();
  for (const path of ["/sign-in", "/p/small", "/p/small/piles/02-A", "/p/small/piles/02-A/4", "/p/small/round", "/p/small/materials", "/p/small/people", "/p/small/closeout"]) {
    const response = await page.goto(path);
    const policy = response?.headers()["content-security-policy"] ?? "";
    nonces.add(/'nonce-([^']+)'/.exec(policy)?.[1] ?? "none");
    expect(policy).not.toContain("unsafe-eval");
    await page.waitForLoadState("networkidle");
  }
  expect(nonces.size).toBe(8);
  expect(refused).toEqual([]);
  const api = await page.request.get(`${site.url}/api/v1/projects`);
  expect(api.headers()["content-security-policy"]).toContain("sandbox");
  expect(api.headers()["x-powered-by"]).toBeUndefined();
});

test("a photo of many megabytes arrives whole through the server; what is none, is too large or names no origin does not", async ({ page, site, signInAs }) => {
  await signInAs("crew");
  const place = `${site.url}/api/v1/projects/small/points/02-A/4/photos?subject=close-up`;
  const origin = { origin: site.url };
  const picture = await sharp({ create: { width: 2400, height: 1800, channels: 3, background: "#777", noise: { type: "gaussian", mean: 120, sigma: 40 } } }).png().toBuffer();
  expect(picture.length).toBeGreaterThan(8 * 1024 ** 2);
  const taken = await page.request.put(place, { data: picture, headers: origin });
  expect(await taken.json()).toMatchObject({ sha256: createHash("sha256").update(picture).digest("hex"), bytes: picture.length });

  const refused = [
    await page.request.put(place, { data: Buffer.from("no picture"), headers: origin }),
    await page.request.put(place, { data: Buffer.alloc(50 * 1024 ** 2 + 1), headers: origin }),
    await page.request.put(place, { data: picture }),
  ];
  expect(await Promise.all(refused.map(async (answer) => [answer.status(), ((await answer.json()) as { errors: { field: string }[] }).errors[0]?.field]))).toEqual([
    [422, "NOT_AN_IMAGE"],
    [422, "TOO_LARGE"],
    [403, undefined],
  ]);
});
