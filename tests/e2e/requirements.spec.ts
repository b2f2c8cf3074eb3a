import { readFileSync } from "node:fs";
import { expect, expectAccessible, projectPath, test } from "#tests/e2e/desk-site";

test.use({ viewport: { width: 1440, height: 900 } });
test.describe.configure({ mode: "serial" });

const sheet = `${projectPath}/requirements`;

test("the engineer drafts a stricter limit, sees at once what it does, and a wrong number is refused at its field", async ({ page, signInAs }) => {
  await signInAs("engineer");
  await page.goto(sheet);
  await expect(page.getByText("Revision B, in force")).toBeVisible();
  await expectAccessible(page);
  await page.getByRole("button", { name: "Begin revision C from B" }).click();
  await expect(page.getByText("Revision C, draft")).toBeVisible();

  await page.getByRole("link", { name: /Section-loss survey/ }).click();
  await page.getByRole("link", { name: /Area left/ }).click();
  const form = page.getByRole("form", { name: "Quantity Area left" });
  await form.getByLabel("try a value, %").fill("88");
  await expect(form.getByText("88 %, needs at least 85 %: 3 % to spare")).toBeVisible();
  await form.getByLabel("H at least").fill("90.0");
  await expect(form.getByText(/88 %, needs at least 90.*short/)).toBeVisible();
  await expectAccessible(page);

  await form.getByLabel("H at least").fill("ninety");
  await form.getByRole("button", { name: "Keep this quantity" }).click();
  const errors = page.getByRole("alert").filter({ hasText: "1 thing stops this from being kept." });
  await expect(errors).toBeFocused();
  await errors.getByRole("link").click();
  await expect(form.getByLabel("H at least")).toBeFocused();
  await expect(form.getByLabel("H at least")).toHaveValue("ninety");
  await form.getByLabel("H at least").fill("90.0");
  await form.getByRole("button", { name: "Keep this quantity" }).click();
  await expect(page.getByText("Kept. A draft")).toBeVisible();
  const row = page.getByRole("row", { name: /Area left/ });
  await expect(row).toContainText("≥ 90.0");
  await expect(row.locator(".replaced")).toHaveText("≥ 85");
});

test("a point of the project's own that nobody could release stops the review, and is mended", async ({ page, signInAs }) => {
  await signInAs("engineer");
  await page.goto(`${sheet}/15`);
  await page.getByText("Add a point after 15").click();
  await page.getByLabel("Name of the point").fill("Tap test");
  await page.getByRole("group", { name: "Kind" }).getByLabel(/^H,/).check();
  await page.getByLabel("wait for the new point too").check();
  await page.getByRole("button", { name: "Add this point" }).click();
  await expect(page.getByRole("heading", { name: "15a hold point Tap test" })).toBeVisible();

  await page.getByRole("link", { name: "Kind, order, waits, photos, roles" }).click();
  const released = page.getByRole("group", { name: "Released by" });
  await released.getByLabel("inspector").uncheck();
  await released.getByLabel("QC manager").check();
  await page.getByRole("button", { name: "Keep the point" }).click();
  const stops = page.getByRole("region", { name: /Stops the review/ });
  await expect(stops).toContainText("15a is a hold point, and nobody independent of the contractor releases it.");
  await expectAccessible(page);
  await page.getByRole("button", { name: "Take point 15a out" }).click();
  await expect(stops).toHaveCount(0);
});

test("the QC manager reviews the draft, and a later change makes the review not stand", async ({ page, signInAs }) => {
  await signInAs("qc");
  await page.goto(sheet);
  await page.getByRole("button", { name: "Record the review" }).click();
  await expect(page.getByRole("link", { name: "Say whether it is reviewed or sent back." })).toBeVisible();
  await page.getByLabel(/^Reviewed/).check();
  await page.getByRole("button", { name: "Record the review" }).click();
  await expect(page.getByText("Revision C, reviewed, not approved")).toBeVisible();

  await page.goto(`${sheet}/design`);
  await page.getByLabel("What the revision is for").fill("Area left 90 %");
  await page.getByRole("button", { name: "Keep the title" }).click();
  await expect(page.getByText("review does not stand")).toBeVisible();
});

test("a revision goes out as a file and comes back as the draft; a spoiled file is refused with its place", async ({ page, signInAs }) => {
  await signInAs("qc");
  await page.goto(`${sheet}/file`);
  const out = page.waitForEvent("download");
  await page.getByRole("region", { name: /^Out/ }).getByRole("link", { name: "requirements-C.json" }).click();
  const download = await out;
  expect(download.suggestedFilename()).toBe("requirements-C.json");
  const text = readFileSync(await download.path(), "utf8");

  await page.getByLabel("or its text").fill(text.replace('"90.0"', '"ninety"'));
  await page.getByRole("button", { name: "Read it" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "Nothing was kept" })).toContainText("Type H, point 5, left: Write a plain decimal number");
  await page.getByLabel("or its text").fill(text.replace("Area left 90 %", "Area left 90 %, from a file"));
  await page.getByRole("button", { name: "Read it" }).click();
  await expect(page.getByText(/1 change since revision B/)).toBeVisible();
  await expectAccessible(page);
  await page.getByRole("button", { name: "Put it in the place of draft C" }).click();
  await expect(page).toHaveURL(new RegExp(`${sheet}$`));
});

test("a crew lead reads the revision in force, on a phone, and nothing of the draft", async ({ page, signInAs }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await signInAs("crew");
  await page.goto(sheet);
  await expect(page.getByText("Revision B, in force")).toBeVisible();
  await page.getByRole("link", { name: /Section-loss survey/ }).click();
  await expect(page.getByRole("row", { name: /Area left/ })).toContainText("≥ 85");
  await expect(page.getByRole("link", { name: "Add a quantity" })).toHaveCount(0);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await expectAccessible(page);
});
