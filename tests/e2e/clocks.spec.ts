import { siteTime } from "#lib/domain/clock/site-time";
import { HOUR } from "#lib/domain/instant";
import { ZONE } from "#tests/services/small-project";
import { expect, expectAccessible, projectPath, test } from "#tests/e2e/desk-site";

test.use({ viewport: { width: 1440, height: 900 } });
test.describe.configure({ mode: "serial" });

test("the crew lead reads off what runs out first, and keeps the tide that bounds the work", async ({ page, signInAs, site }) => {
  await signInAs("crew");
  await page.goto(`${projectPath}/clocks`);
  await expect(page.getByRole("link", { name: /02-B 11 .*Preparation to cover-up.* left/i }).first()).toBeVisible();
  await expectAccessible(page);

  await page.getByRole("link", { name: "Tides" }).click();
  const at = (hours: number): string => siteTime(site.now + hours * HOUR, ZONE).iso.slice(0, 16);
  await page.getByLabel("High and low waters").fill(`${at(-6)},1.9,high\n${at(0.5)},0.3,low\n${at(7)},2.0,high\n${at(13)},0.3,low`);
  await page.getByLabel("Where it was published").fill("Harbour table, sheet 12");
  await page.getByLabel("Work stops at").fill("0.8 m");
  await page.getByLabel("Allowance for surge").fill("0 m");
  await page.getByLabel("Its heights are in").selectOption("m");
  await page.getByRole("button", { name: "Keep this table" }).click();
  await expect(page.getByRole("link", { name: "Say how its times are written." })).toBeVisible();
  await page.getByLabel("Its times are").selectOption("site");
  await page.getByRole("button", { name: "Draw it first" }).click();
  await expect(page.getByText("4 waters read. Not kept yet.")).toBeVisible();
  await page.getByRole("button", { name: "Keep this table" }).click();
  await expect(page.getByRole("link", { name: /^Tide: work to \d\d:\d\d/ })).toBeVisible();
  await expectAccessible(page);
});

test("a reading of the weather shows its margin before it is recorded", async ({ page, signInAs }) => {
  await signInAs("crew");
  await page.goto(`${projectPath}/clocks/weather`);
  await page.getByLabel("Air", { exact: true }).fill("12.0");
  await page.getByLabel("Relative humidity").fill("84");
  await page.getByLabel("Surface of the pile").fill("11.5");
  await page.getByRole("button", { name: "Work out the margin" }).click();
  await expect(page.getByText("Dew point 9.4 °C. Not recorded yet.")).toBeVisible();
  await page.getByLabel("Read with, or where").fill("HY-1");
  await page.getByRole("button", { name: "Record this reading" }).click();
  await expect(page.getByRole("row", { name: /12\.0 °C.*HY-1/ })).toBeVisible();
  await expectAccessible(page);
});

test("a calendar link opens what runs, and nothing once it is stopped", async ({ page, signInAs, request }) => {
  await signInAs("crew");
  await page.goto(`${projectPath}/clocks/calendar`);
  await page.getByRole("button", { name: "Make my link" }).click();
  const link = await page.locator(".calendar-link .code").innerText();
  const feed = await request.get(link);
  expect([feed.status(), (await feed.text()).startsWith("BEGIN:VCALENDAR\r\n")]).toEqual([200, true]);

  await page.reload();
  await page.getByRole("button", { name: "Stop my link" }).click();
  await expect(page.getByText("You have no link.")).toBeVisible();
  expect((await request.get(link)).status()).toBe(404);
});

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 } });

  test("the clocks are a list that does not scroll sideways", async ({ page, signInAs }) => {
    await signInAs("crew");
    await page.goto(`${projectPath}/clocks`);
    await expect(page.getByText(/ left$/).first()).toBeVisible();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await expectAccessible(page);
  });
});
