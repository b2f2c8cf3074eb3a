import type { Page } from "@playwright/test";
import { MINUTE } from "#lib/domain/instant";
import { ZONE } from "#tests/services/crew-project";
import { photoTakenAt } from "#tests/services/whole-pile";
import { expect, expectAccessible, projectPath, test, type Site } from "#tests/e2e/crew-site";

const PHONE = { width: 390, height: 844 };
const DESK = { width: 1440, height: 900 };

async function photo(site: Site, name: string, minutesAgo: number) {
  return { name, mimeType: "image/jpeg", buffer: await photoTakenAt(site.now - minutesAgo * MINUTE, ZONE) };
}

/** What a form says when it refuses. The framework's own announcer of page titles is an alert too, and says nothing of ours. */
const alert = (page: Page) => page.locator('[role="alert"]:not(#__next-route-announcer__)');
const value = (page: Page, name: string) => page.getByRole("textbox", { name, exact: true });

test.describe("on a phone", () => {
  test.use({ viewport: PHONE });

  test("a crew lead says a mark, opens the point and sees at once which bar falls short", async ({ page, signInAs }) => {
    await signInAs("crew");
    await page.goto(projectPath);
    await expect(page.getByRole("link", { name: /^02-A, point 7 hold point.*work may be done here now$/ })).toBeVisible();
    await expectAccessible(page);

    await page.getByLabel("Type a mark").fill("2a");
    await page.getByRole("button", { name: "Open", exact: true }).click();
    await expect(page.getByRole("heading", { level: 1, name: /HP 12×53/ })).toBeVisible();
    await expectAccessible(page);
    await page.locator("#points").getByRole("link", { name: /Anchor bars and resin/ }).click();

    await page.getByRole("button", { name: "Confirm" }).click();
    await value(page, "Bar length").fill("40.0");
    await value(page, "Projection, bar 4").fill("33.6");
    const bar = page.getByRole("listitem").filter({ has: value(page, "Projection, bar 4") });
    await expect(bar.getByText("6.4 in")).toBeVisible();
    await expect(bar.getByText("fails")).toBeVisible();
    await expect(bar.getByRole("img", { name: "Needs at least 7 in, measured 6.4 ± 0.17, 0.6 short" })).toBeVisible();
    await value(page, "Projection, bar 4").fill("32.5");
    await expect(bar.getByText("meets", { exact: true })).toBeVisible();
    await expectAccessible(page);
  });

  test("a mark that is no pile's is said to be none", async ({ page, signInAs }) => {
    await signInAs("crew");
    await page.goto(`${projectPath}?mark=9Z`);
    await expect(page.getByText("No pile is called 9Z.")).toBeVisible();
  });

  test("88 ft·lbf is asked about and never converted", async ({ page, signInAs }) => {
    await signInAs("crew");
    await page.goto(`${projectPath}/piles/03-C/9`);
    await value(page, "Torque, bolt 1").fill("88");
    const bolt = page.getByRole("listitem").filter({ has: value(page, "Torque, bolt 1") });
    await expect(bolt.getByText("Did you mean 88 N·m?")).toBeVisible();
    await bolt.getByRole("button", { name: "It is 88 N·m" }).click();
    await expect(value(page, "Torque, bolt 1")).toHaveValue("88");
    await expect(bolt.getByLabel("Unit of Torque, bolt 1")).toHaveValue("N·m");
    await expect(bolt.getByText("fails")).toBeVisible();

    await bolt.getByLabel("Unit of Torque, bolt 1").selectOption("ft·lbf");
    await bolt.getByRole("button", { name: "It is 88 ft·lbf" }).click();
    await expect(bolt.getByText("Did you mean")).toBeHidden();
    await expect(bolt.getByLabel("Mend it, or say why it is sent as it is")).toBeVisible();
  });

  test("nothing that was typed is lost by a reload or a sign-out", async ({ page, signInAs }) => {
    await signInAs("crew");
    await page.goto(`${projectPath}/piles/02-A/7`);
    await value(page, "Bar size").fill("#6");
    await page.getByLabel("Anything to add, in words").fill("Rain from the south.");
    await expect(page.getByText(/^Draft kept/)).toBeVisible();
    await page.reload();
    await expect(value(page, "Bar size")).toHaveValue("#6");

    await page.context().clearCookies();
    await signInAs("crew");
    await page.goto(`${projectPath}/piles/02-A/7`);
    await expect(value(page, "Bar size")).toHaveValue("#6");
    await expect(page.getByLabel("Anything to add, in words")).toHaveValue("Rain from the south.");
  });

  test("a point is sent with its photos, receipted, and can be withdrawn with a reason", async ({ page, signInAs, site }) => {
    await signInAs("crew");
    await page.goto(`${projectPath}/piles/02-A/8`);
    await value(page, "Clamps").fill("2");
    await value(page, "Bolts in the clamp, clamp 1").fill("4");
    await value(page, "Bolts in the clamp, clamp 2").fill("4");
    await page.getByLabel("Take photo: Clamp").setInputFiles([await photo(site, "one.jpg", 4), await photo(site, "two.jpg", 2)]);
    await expect(page.getByText("2 of 2 there", { exact: true })).toBeVisible();
    const first = page.getByRole("article", { name: "Clamp 1" });
    await expect(first.getByText("in order", { exact: true })).toBeVisible();
    await first.getByText("What it says").click();
    await expect(first.getByText(/± 2 s, by the camera's time against GPS/)).toBeVisible();

    await first.getByRole("button", { name: "Set aside: Clamp 1" }).click();
    await expect(page.getByText("1 of 2 there", { exact: true })).toBeVisible();
    await first.getByRole("button", { name: "Take back: Clamp 1" }).click();
    await page.getByRole("button", { name: /^Use Fri \d\d:\d\d to \d\d:\d\d, from 2 photos$/ }).click();
    await expect(page.getByText("Nothing is missing.")).toBeVisible();
    await expectAccessible(page);
    await page.getByRole("button", { name: "Send" }).click();

    await expect(page.getByRole("heading", { name: "Received" })).toBeVisible();
    await expect(page.getByRole("main").getByText(/^[0-9a-f]{64}$/)).toBeVisible();
    await expect(page.getByText("submitted", { exact: true })).toBeVisible();
    await expectAccessible(page);

    await page.getByText("Withdraw what was sent").click();
    await page.getByRole("button", { name: "Withdraw" }).click();
    await expect(alert(page)).toContainText("Say why it is withdrawn.");
    await value(page, "Why it is withdrawn").fill("Counted the wrong clamp.");
    await page.getByRole("button", { name: "Withdraw" }).click();
    await expect(value(page, "Clamps")).toHaveValue("2");
    await expect(page.getByText("2 of 2 there", { exact: true })).toBeVisible();
  });

  test("a file that is no picture is refused in words", async ({ page, signInAs }) => {
    await signInAs("crew");
    await page.goto(`${projectPath}/piles/03-C/9`);
    await page.getByLabel("Take photo: Paint marks, overview").setInputFiles({ name: "note.jpg", mimeType: "image/jpeg", buffer: Buffer.from("no picture at all") });
    await expect(alert(page).filter({ hasText: "not a picture" })).toBeVisible();
    await page.getByRole("button", { name: "Leave it out" }).click();
    await expect(page.getByText("note.jpg")).toBeHidden();
  });

  test("a temperature is logged where the clock runs", async ({ page, signInAs }) => {
    await signInAs("hand");
    await page.goto(`${projectPath}/piles/03-A`);
    await expect(page.getByText("Earliest, not a permission. If it stays at 12 °C.")).toBeVisible();
    await page.getByLabel("Temperature", { exact: true }).fill("cold");
    await page.getByRole("button", { name: "Log temperature" }).click();
    await expect(alert(page)).toContainText("cold is not a number");
    await page.getByLabel("Temperature", { exact: true }).fill("59");
    await page.getByLabel("Unit").selectOption("°F");
    await page.getByRole("button", { name: "Log temperature" }).click();
    // 59 °F is 15 °C.
    await expect(page.getByText("If it stays at 15 °C.")).toBeVisible();
  });
});

test.describe("without scripts", () => {
  test.use({ viewport: PHONE, javaScriptEnabled: false });

  test("values are sent by the form itself, and come back with what is missing", async ({ page, signInAs }) => {
    await signInAs("crew");
    await page.goto(`${projectPath}/piles/03-C/9`);
    expect(await page.locator("noscript").textContent()).toContain("Photos and documents are sent by a script");
    await value(page, "Torque, bolt 2").fill("70");
    await page.getByRole("button", { name: "Send" }).click();
    const errors = alert(page);
    await expect(errors).toContainText("Wrench on bolt, value readable: 4 more photos needed");
    await expect(errors.getByRole("link", { name: /Torque, bolt 1: give the value/ })).toHaveAttribute("href", "#value.torque.1");
    await expect(value(page, "Torque, bolt 2")).toHaveValue("70");
  });

  test("yesterday's instruments are confirmed by a button", async ({ page, signInAs }) => {
    await signInAs("crew");
    await page.goto(`${projectPath}/piles/02-B/1`);
    await expect(page.getByText("staff gauge K-2")).toBeVisible();
    await expect(page.getByLabel("Read with staff gauge")).toHaveValue("");
    await page.getByRole("button", { name: "Confirm" }).click();
    await expect(page.getByLabel("Read with staff gauge")).toHaveValue("k-2");
  });
});

test.describe("on a desk", () => {
  test.use({ viewport: DESK });

  test("a QC manager adds a pile with a requirement of its own", async ({ page, signInAs }) => {
    await signInAs("qc");
    await page.goto(projectPath);
    await page.getByRole("link", { name: "Add a pile" }).click();
    await page.getByRole("button", { name: "Add pile" }).click();
    await expect(alert(page)).toContainText("Choose the pile type.");
    await expectAccessible(page);
    await value(page, "Bent").fill("04");
    await value(page, "Row").fill("B");
    await value(page, "Mark").fill("04-B");
    await page.getByLabel("H, HP 12×53").check();
    await page.getByLabel("Requirement", { exact: true }).first().selectOption({ label: "9 Clamp torque, re-torque: Torque, 65 … 72 ft·lbf" });
    await page.getByRole("textbox", { name: "New limit" }).first().fill("55");
    await page.getByRole("textbox", { name: "Upper end, of a range" }).first().fill("62");
    await page.getByRole("textbox", { name: "Drawing" }).first().fill("S-120 rev. 1");
    await page.getByRole("textbox", { name: "In words" }).first().fill("Thin flange.");
    await page.getByRole("button", { name: "Add pile" }).click();
    await expect(page.getByRole("heading", { level: 1, name: /04-B/ })).toBeVisible();
    await expect(page.getByRole("row", { name: /Torque 65 … 72 ft·lbf 55 … 62 ft·lbf S-120 rev. 1/ })).toBeVisible();
    await expectAccessible(page);
  });

  test("the owner accepts a pile whose last point is released, and signs with the password", async ({ page, signInAs, site }) => {
    await signInAs("owner");
    await page.goto(`${projectPath}/piles/07-A`);
    await page.getByLabel("Your password, to sign").fill("not this one");
    await page.getByRole("button", { name: "Accept pile 07-A" }).click();
    await expect(alert(page)).toContainText("The password is not right. Nothing was signed.");
    await page.getByLabel("Your password, to sign").fill(site.password);
    await page.getByRole("button", { name: "Accept pile 07-A" }).click();
    await expect(page.getByText("Ines Caldery, Nowhere Port Board")).toBeVisible();
    await expect(page.getByText("accepted", { exact: true }).first()).toBeVisible();
    await expectAccessible(page);
  });

  test("somebody who is no QC manager finds no way to add a pile", async ({ page, signInAs }) => {
    await signInAs("crew");
    await page.goto(projectPath);
    await expect(page.getByRole("heading", { level: 1, name: "Bents" })).toBeVisible();
    await expect(page.getByRole("link", { name: "Add a pile" })).toHaveCount(0);
    expect((await page.goto(`${projectPath}/piles/new`))?.status()).toBe(403);
  });
});
