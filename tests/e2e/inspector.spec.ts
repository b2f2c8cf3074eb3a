import type { Page } from "@playwright/test";
import { joinSmallProject } from "#tests/services/small-project";
import { expect, expectAccessible, projectPath, test, type Site } from "#tests/e2e/desk-site";

test.use({ viewport: { width: 1440, height: 900 } });
test.describe.configure({ mode: "serial" });

/** How it was seen, when, and the password: what every decision says. */
async function sayHowSeen(page: Page, site: Site): Promise<void> {
  await page.getByRole("group", { name: "How did you see it?" }).getByLabel("in person").check();
  await page.getByRole("group", { name: "When did you look?" }).getByLabel(/^today/).check();
  await page.getByLabel("Your password, again").fill(site.password);
}

const state = (page: Page) => page.locator(".decision-head .lead");
const stamp = (page: Page, kind: string) => page.locator(".stamp").filter({ hasText: kind });

test("an inspector rejects with a reason, and releases the second attempt after answering its flag", async ({ page, signInAs, site }) => {
  await signInAs("inspector");
  await page.goto(`${projectPath}/round`);
  const row = page.getByRole("row", { name: /02-A/ });
  await expect(row).toContainText("Profile, face 2: 4.6 mil, needs 1.5 to 4.0 mil: 0.6 mil over");
  await expectAccessible(page);
  await row.getByRole("link", { name: "Open 02-A, point 4" }).click();

  await expect(page.getByRole("img", { name: "Needs 1.5 to 4 mil, measured 4.6 ± 0.2, 0.6 over" })).toBeVisible();
  await expect(page.getByText("RT-3, replica tape, ± 0.2 mil, calibrated to 28 Mar 2027").first()).toBeVisible();
  await expect(page.getByRole("button", { name: "Release" })).toHaveAttribute("aria-disabled", "true");
  await expect(page.getByRole("button", { name: "Release" })).toHaveAccessibleDescription(/The QC manager has not checked it yet\. A value fails\./);
  await expectAccessible(page);

  await page.getByText("Reject …").click();
  await page.getByRole("button", { name: "Reject this point" }).click();
  const errors = page.getByRole("alert").filter({ hasText: "2 things are missing." });
  await expect(errors).toBeFocused();
  await expect(errors.getByRole("link")).toHaveText(["Say how you saw it.", "Say on which day you looked."]);
  await sayHowSeen(page, site);
  await page.getByRole("button", { name: "Reject this point" }).click();
  await expect(page.getByRole("link", { name: "Choose at least one reason." })).toBeVisible();
  await page.getByLabel("MEAS measured value fails").check();
  await page.getByLabel("What has to be mended, in words").fill("Blast face 2 again.");
  await page.getByLabel("Your password, again").fill(site.password);
  await page.getByRole("button", { name: "Reject this point" }).click();
  await expect(stamp(page, "rejected").first()).toContainText("MEAS measured value failsBlast face 2 again.Tamsin Orrel, Orrel Inspection");
  await expect(state(page)).toHaveText("rejected");

  const small = await joinSmallProject(site.dataDir);
  await small.sendPreparation("02-A", ["2.4", "3.1", "2.5", "3.0"]);
  await small.check("02-A", "4");
  await small.close();

  await page.reload();
  await expect(page.getByRole("region", { name: "What changed since attempt 1" })).toContainText("Profile, face 2: 4.6 mil 3.1 mil");
  await expect(page.getByRole("button", { name: "Release" })).toHaveAccessibleDescription("Answer flag 1 to release.");
  await page.getByRole("group", { name: "Close-up with scale: cannot tell" }).getByLabel("seen").check();
  await sayHowSeen(page, site);
  await page.getByRole("button", { name: "Release" }).click();
  await expect(stamp(page, "released").first()).toContainText("1 flag answered");
  await expect(stamp(page, "released").first()).toContainText("server-attested, no passkey");
  await expect(state(page)).toHaveText("released");
  await expect(page.getByText("Next for you:")).toContainText("02-D, 4 Surface preparation");
  await expectAccessible(page);
});

test("a reopened point puts what stands on it in doubt until that is decided again", async ({ page, signInAs, site }) => {
  await signInAs("inspector");
  await page.goto(`${projectPath}/piles/02-B/5`);
  await page.getByText("Reopen …").click();
  await expect(page.getByText("Puts in doubt what stands on it, until it is decided again: 10.")).toBeVisible();
  await sayHowSeen(page, site);
  await page.getByLabel("INST instrument overdue or unsuitable").check();
  await page.getByLabel("What has to be mended, in words").fill("The gauge failed its block check.");
  await page.getByRole("button", { name: "Reopen this point" }).click();
  await expect(stamp(page, "reopened").first()).toContainText("The gauge failed its block check.");
  await expect(stamp(page, "released").first()).toBeVisible();

  await page.goto(`${projectPath}/round`);
  const review = page.getByRole("region", { name: "For your review" });
  await expect(review.getByRole("row", { name: /02-B/ })).toContainText("point 5 was reopened: INST");
  await review.getByRole("link", { name: "02-B, point 10" }).click();
  await expect(state(page)).toHaveText("in doubt");
  await expect(page.getByRole("button", { name: "Release again" })).toHaveAccessibleDescription("Point 5 is open. It has to be decided first.");

  const small = await joinSmallProject(site.dataDir);
  await small.submit("crew", "02-B", "5", { left: "92 %" });
  await small.check("02-B", "5");
  await small.close();

  await page.goto(`${projectPath}/piles/02-B/5`);
  await sayHowSeen(page, site);
  await page.getByRole("button", { name: "Release" }).click();
  await expect(state(page)).toHaveText("released");
  await page.goto(`${projectPath}/piles/02-B/10`);
  await sayHowSeen(page, site);
  await page.getByRole("button", { name: "Release again" }).click();
  await expect(state(page)).toHaveText("released");
});

test("answers are counted while they are given, and none of them makes a photo count whose clock is in doubt", async ({ page, signInAs }) => {
  await signInAs("inspector");
  await page.goto(`${projectPath}/piles/02-D/4`);
  await expect(page.getByRole("heading", { name: "Flags to answer 0 of 3 answered" })).toBeVisible();
  const clock = page.getByRole("group", { name: "Close-up with scale: clock in doubt" });
  await expect(page.getByLabel("Explanation, in words")).toHaveCount(3);
  await expect(page.getByLabel("Explanation, in words").first()).toBeHidden();
  await clock.getByLabel("explained").check();
  await expect(page.getByLabel("Explanation, in words").first()).toBeVisible();
  await expect(page.getByRole("heading", { name: "Flags to answer 1 of 3 answered" })).toBeVisible();
  await expect(page.getByRole("button", { name: "Release" })).toHaveAccessibleDescription(/Close-up with scale: 0 of 1 photos count\./);
});

test("the QC manager checks, and sends back with a reason", async ({ page, signInAs }) => {
  await signInAs("qc");
  await page.goto(`${projectPath}/round`);
  await expect(page.getByRole("row", { name: /02-D/ })).toContainText("for your check");
  await page.getByRole("link", { name: "Open 02-D, point 4" }).click();
  await expectAccessible(page);
  await page.getByRole("button", { name: "Checked" }).click();
  await expect(state(page)).toHaveText("QC checked");
  await page.getByText("Send back …").click();
  await page.getByRole("button", { name: "Send back to the crew" }).click();
  await expect(page.getByRole("link", { name: "Choose at least one reason." })).toBeVisible();
  await page.getByLabel("LATE evidence taken after cover-up").check();
  await page.getByLabel("What has to be mended, in words").fill("Set the camera, and take it again.");
  await page.getByRole("button", { name: "Send back to the crew" }).click();
  await expect(page.getByText("Set the camera, and take it again.").first()).toBeVisible();
});

test.describe("before scripts run", () => {
  test.use({ javaScriptEnabled: false });

  test("a decision is refused with what is missing, and photos are chosen by their links", async ({ page, signInAs, site }) => {
    const small = await joinSmallProject(site.dataDir);
    for (let sent = 0; sent < 2; sent += 1) await small.sendPhoto("02-D", "4", "close-up");
    await small.submit("crew", "02-D", "4", { profile: ["2.2 mil", "2.3 mil", "2.4 mil", "2.5 mil"] }, { instrumentId: "rt-3" });
    await small.check("02-D", "4");
    await small.close();

    await signInAs("inspector");
    await page.goto(`${projectPath}/piles/02-D/4`);
    await page.getByRole("link", { name: /Close-up with scale 2 / }).click();
    await expect(page.getByRole("img", { name: /^Close-up with scale 2, / })).toBeVisible();
    await expect(page.getByRole("img", { name: /^Close-up with scale 1, / })).toBeHidden();

    await sayHowSeen(page, site);
    await page.getByRole("button", { name: "Release" }).click();
    await expect(page.getByRole("alert")).toContainText(/flags? (is|are) not answered\./);
    await expect(page.getByRole("group", { name: "How did you see it?" }).getByLabel("in person")).toBeChecked();
  });
});

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 } });

  test("the round and a decision keep inside the screen", async ({ page, signInAs }) => {
    await signInAs("inspector");
    for (const path of ["round", "piles/02-D/4", "piles/02-C/11", "materials", "sheet", "people", "closeout"]) {
      await page.goto(`${projectPath}/${path}`);
      expect(await page.evaluate(() => document.documentElement.scrollWidth), path).toBeLessThanOrEqual(390);
      await expectAccessible(page);
    }
  });
});

test("a crew lead reads a decided point and is offered no decision", async ({ page, signInAs }) => {
  await signInAs("crew");
  await page.goto(`${projectPath}/piles/02-C/26`);
  await expect(stamp(page, "released").first()).toContainText("Tamsin Orrel, Orrel Inspection");
  await expect(page.getByRole("form", { name: "Decision" })).toHaveCount(0);
});
