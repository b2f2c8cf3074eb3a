import type { Instant } from "#lib/domain/instant";
import { CODE, estimateProject, MORNING, PASSWORD } from "#tests/services/estimate-project";
import { expect, expectAccessible, siteTest } from "#tests/e2e/site";

const test = siteTest({
  password: PASSWORD,
  make: async (dataDir: string): Promise<Instant> => {
    const { house } = await estimateProject(dataDir, () => MORNING, MORNING);
    await house.db.close();
    return MORNING;
  },
});
const sheet = `/p/${CODE}/estimate`;

for (const { name, viewport } of [{ name: "a desk", viewport: { width: 1440, height: 900 } }, { name: "a phone", viewport: { width: 390, height: 844 } }]) {
  test(`on ${name} the QC manager reads what the job takes and narrows it to one bent`, async ({ page, signInAs }) => {
    await page.setViewportSize(viewport);
    await signInAs("qc");
    await page.goto(sheet);
    await expect(page.getByText("24 piles: 6 rolls, 37.6 kg resin, 560 bags")).toBeVisible();
    await expect(page.getByRole("row", { name: /^Grout 6000 psi/ })).toContainText("528 bags");
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
    await expectAccessible(page);

    await page.getByText("Choose piles").click();
    await page.getByRole("group", { name: "Bents" }).getByLabel("02").check();
    await page.getByLabel("Resin temperature").fill("25");
    await page.getByRole("button", { name: "Count" }).click();
    await expect(page.locator(".errors")).toContainText("25 what? Give °F or °C.");
    await expect(page.getByText("4 piles: 1 roll, 5.6 kg resin, 108 bags")).toBeVisible();
    await page.getByLabel("Resin temperature").fill("38 °C");
    await page.getByRole("button", { name: "Count" }).click();
    await expect(page.getByText("At 38.0 °C: 8 batches.")).toBeVisible();
    await page.goto(`${sheet}/checks`);
    await expect(page.getByRole("heading", { level: 1, name: /Checks/ })).toBeVisible();
    await expectAccessible(page);
  });
}

test.describe("without scripts", () => {
  test.use({ javaScriptEnabled: false, viewport: { width: 1440, height: 900 } });

  test("the engineer sees what a sample of bolts cannot show, and keeps what was typed when a field is wrong", async ({ page, signInAs }) => {
    await signInAs("engineer");
    await page.goto(`${sheet}/checks`);
    const bolts = page.getByRole("region", { name: /Bolts/ });
    await bolts.getByLabel("Bolts in the lot").fill("160");
    await bolts.getByLabel("Taken to be loose").fill("8");
    await bolts.getByLabel("Checked").fill("32");
    await bolts.getByRole("button", { name: "Work it out" }).click();
    await expect(page.getByText("Give with how many loose ones the sample is still accepted.").last()).toBeVisible();
    await expect(bolts.getByLabel("Bolts in the lot")).toHaveValue("160");
    await bolts.getByLabel("Accepted with at most").fill("3");
    await bolts.getByRole("button", { name: "Work it out" }).click();
    await expect(bolts.getByRole("img", { name: /accepted with a chance of 94.8 per cent/ })).toBeVisible();
    await expect(bolts).toContainText("49 of 160");
  });

  test("the engineer judges a torque again by what the wrench delivered, and reads where a bar’s numbers come from", async ({ page, signInAs }) => {
    await signInAs("engineer");
    await page.goto(`${sheet}/checks`);
    const wrench = page.getByRole("region", { name: /Wrench as found/ });
    await wrench.getByLabel("Reading").fill("72 ft-lb");
    await wrench.getByLabel("Found: indicated").fill("65 ft-lb");
    await wrench.getByLabel("Needs at least").fill("65 ft-lb");
    await wrench.getByRole("button", { name: "Work it out" }).click();
    await expect(page.getByText("Give what it delivered with its unit, such as 57.85 ft·lbf.").last()).toBeVisible();
    await wrench.getByLabel("Found: delivered").fill("57.85 ft-lb");
    const bar = page.getByRole("region", { name: /Bars in concrete/ });
    await bar.getByLabel("Bar size").selectOption("#5");
    await bar.getByLabel("Embedment").fill("10 in");
    await bar.getByLabel("It stands").selectOption("outdoors, cracked");
    await bar.getByRole("button", { name: "Work it out" }).click();
    await expect(wrench.getByRole("status")).toContainText("stood for 64.08 ft·lbf");
    await expect(bar.getByRole("status")).toContainText("3927 lbf");
    await expect(bar.getByRole("status")).toContainText("a licensed engineer designs anchors");
  });
});
