import type { Instant } from "#lib/domain/instant";
import { expect, expectAccessible, siteTest } from "#tests/e2e/site";
import { keepDraft, nextRevision, reviewed, stricter } from "#tests/services/revised-project";
import { CODE, PASSWORD, smallProject } from "#tests/services/small-project";

/** One pile up to its last look, one begun, and revision C reviewed. */
async function makeSite(dataDir: string): Promise<Instant> {
  const small = await smallProject({ dataDir, demonstration: true });
  await small.bringToLastLook("02-A");
  await small.sendPreparation("02-B", ["2.6", "2.6", "2.7", "3.0"]);
  const c = await nextRevision(small, stricter);
  await keepDraft(small, c);
  await reviewed(small, c);
  await small.close();
  return small.clock.now;
}

const test = siteTest({ make: makeSite, password: PASSWORD });
const difference = `/p/${CODE}/requirements/difference`;

test.use({ viewport: { width: 1440, height: 900 } });
test.describe.configure({ mode: "serial" });

test("the engineer changes a requirement of one pile by its drawing and takes it back", async ({ page, signInAs }) => {
  await signInAs("engineer");
  await page.goto(`/p/${CODE}/piles/02-C`);
  await page.getByText("Change a requirement by drawing").click();
  await page.getByRole("button", { name: "Change it on this pile" }).click();
  await expect(page.getByRole("link", { name: "Name the drawing that says so." })).toBeVisible();
  await page.getByLabel("Requirement of an open point").selectOption({ label: "13 Resin batch: Mixing time, ≥ 3 min" });
  await page.getByLabel("New limit").fill("8");
  await page.getByLabel("Drawing", { exact: true }).fill("S-114 rev. 2");
  await page.getByLabel("In words").fill("Slow mixer.");
  await page.getByRole("button", { name: "Change it on this pile" }).click();

  const own = page.getByRole("region", { name: "Requirements of this pile only" });
  await expect(own).toContainText("≥ 3 min");
  await expect(own).toContainText("≥ 8 minS-114 rev. 2Slow mixer.");
  await expectAccessible(page);

  await page.getByText("Take one back").click();
  await page.getByRole("combobox", { name: "Requirement of this pile", exact: true }).selectOption({ label: "13: Slow mixer. (S-114 rev. 2)" });
  await page.getByRole("button", { name: "Take it back" }).click();
  await expect(own).toBeHidden();
});

test("the engineer sees what a revision does before approving it, and answers each change", async ({ page, signInAs, site }) => {
  await signInAs("engineer");
  await page.goto(difference);
  await expect(page.getByText("3 changes: of 3 signed points 1 would fail, 1 needs a value")).toBeVisible();
  await expect(page.getByRole("row", { name: /02-A .*2\.4 would fail in doubt: 4 to 10/ })).toBeVisible();
  await expect(page.getByRole("img", { name: "02-A, Profile: 2.4 mil, would fail, 0.1 mil short" })).toBeVisible();
  await expectAccessible(page);

  const approve = page.getByRole("button", { name: "Approve revision C" });
  await expect(approve).toHaveAttribute("aria-disabled", "true");
  await expect(approve).toHaveAccessibleDescription(/^Answer change 1 to approve\. Reviewed .* by Hedda Lorne\.$/);
  await page.getByRole("group", { name: "Change 1, profile" }).getByLabel("Retroactive").check();
  await page.getByRole("group", { name: "Change 2" }).getByLabel("From now, open points").check();
  await expect(approve).toHaveAccessibleDescription(/^Answer change 3 to approve/);
  await page.getByRole("group", { name: "Change 3" }).getByLabel("From now, piles that start").check();
  await page.getByLabel("Why, in words").fill("Maker's letter.");
  await page.getByLabel("Your password").fill("not the password");
  await approve.click();
  await expect(page.getByRole("link", { name: "The password is not right. Nothing was signed." })).toBeVisible();
  await page.getByLabel("Your password").fill(site.password);
  await approve.click();

  await expect(page.getByText("revision C is approved")).toBeVisible();
  await expect(page.getByRole("row", { name: /02-A .*would fail was put in doubt/ })).toBeVisible();
  await expectAccessible(page);

  await page.goto(`/p/${CODE}/piles/02-A`);
  const points = page.getByRole("region", { name: /All 7 points/ });
  await expect(points.getByRole("link", { name: /^4 .*revision C reaches back: a value would fail in doubt/ })).toBeVisible();
  await expect(points.getByRole("link", { name: /^5 .*revision C reaches back to point 4.* in doubt/ })).toBeVisible();
  await page.goto(`/p/${CODE}/piles/02-A/4`);
  await expect(page.getByText("B, held against C")).toBeVisible();
});

test("on a phone each answer stands under its change, and nothing scrolls sideways", async ({ page, signInAs }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await signInAs("qc");
  await page.goto(`${difference}?from=B&to=C`);
  await expect(page.getByRole("region", { name: "Change 1, Profile" })).toContainText("Retroactive");
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
  await expectAccessible(page);
});
