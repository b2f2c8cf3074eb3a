import { readFile } from "node:fs/promises";
import type { Page } from "@playwright/test";
import { siteTime } from "#lib/domain/clock/site-time";
import { MINUTE, type Instant } from "#lib/domain/instant";
import { sha256 } from "#lib/records/canonical";
import { withExif } from "#seed/photo/exif";
import { expect, expectAccessible, siteTest, type Site } from "#tests/e2e/site";
import { bringTo, CODE, crewProject, MORNING, openSite, PASSWORD, ZONE } from "#tests/services/crew-project";
import { photoTakenAt } from "#tests/services/whole-pile";
import { pictureOf } from "#tests/support/picture";

/** 02-A stands before its bars and its clamps; points 1 to 6 are released with their photos. */
async function makeSite(dataDir: string): Promise<Instant> {
  const clock = { now: MORNING };
  const project = await crewProject(dataDir, () => clock.now, MORNING);
  await openSite(project, clock);
  await bringTo(project, clock, "02-A", "6");
  clock.now += MINUTE;
  await project.house.db.close();
  return clock.now;
}

const test = siteTest({ make: makeSite, password: PASSWORD });
const PILE = `/p/${CODE}/piles/02-A`;
const PHONE = { width: 390, height: 844 };

async function expectNoSidewaysScroll(page: Page): Promise<void> {
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(PHONE.width);
}

async function photo(site: Site, name: string, minutesAgo: number) {
  return { name, mimeType: "image/jpeg", buffer: await photoTakenAt(site.now - minutesAgo * MINUTE, ZONE) };
}

const clockTime = (at: Instant): string => siteTime(at, ZONE).iso.slice(11, 19);

/** Sets the phone's own clock to the project's. */
async function setPhoneClock(page: Page): Promise<void> {
  const { now } = (await (await page.request.get(`/p/${CODE}/now`)).json()) as { now: string };
  await page.clock.install({ time: now });
}

/** A photo by a camera that knows no GPS, and whose clock and zone are as given. */
async function photoByClock(number: number, shows: Instant, offset?: string) {
  const { date, offset: siteOffset } = siteTime(shows, ZONE);
  const said = `${date.replaceAll("-", ":")} ${clockTime(shows)}`;
  const buffer = withExif(await pictureOf(number), { dateTimeOriginal: said, offset: offset ?? siteOffset, make: "Orvane", model: "TG-40", serial: `40-${number}` });
  return { name: "clock.jpg", mimeType: "image/jpeg", buffer, said };
}

test.describe("on a phone", () => {
  test.use({ viewport: PHONE });

  test("a crew lead sees what to show, takes a photo with a wrong clock again, and goes back with both there", async ({ page, signInAs, site }) => {
    await signInAs("crew");
    await setPhoneClock(page);
    await page.goto(`${PILE}/8`);
    await page.getByRole("link", { name: /^See what it has to show.*Clamp$/ }).click();
    await expect(page.getByRole("list", { name: "What the picture has to show" }).getByRole("listitem")).toContainText(["every one of them, the lowest too", "both edges of the pile", "tag 02-A, readable"]);
    await expect(page.getByRole("region", { name: /^This phone says/ })).toContainText("agrees with the project's clock");
    await expectNoSidewaysScroll(page);
    await expectAccessible(page);

    const ahead = site.now + 60 * MINUTE;
    const says = page.getByRole("region", { name: "What the photo says" });
    await page.getByLabel("Take photo 1").setInputFiles(await photoByClock(9001, ahead));
    await expect(says).toContainText(new RegExp(`taken .* ${clockTime(ahead)} −04:00 ± 120 s, received .*: clock in doubt`));
    await expect(says).not.toContainText("in order");
    await expect(says.getByRole("listitem")).toContainText(new RegExp(`^Taken later than it was received ${new Date(ahead).toISOString()} ± 120 s; limit received `));
    await expect(says.getByText("no tag read")).toBeVisible();
    await expectAccessible(page);

    await page.getByLabel("Take again").setInputFiles(await photo(site, "again.jpg", 3));
    await expect(says).toContainText(`${clockTime(site.now - 3 * MINUTE)} −04:00 ± 2 s, by the camera's time against GPS`);
    await expect(says).toContainText("in order");
    const places = page.getByRole("list", { name: "Photos of: Clamp" }).getByRole("listitem");
    await expect(places).toHaveText(["1 in order", "2 wanted"]);

    await page.getByRole("button", { name: "Next: photo 2 of 2" }).click();
    await expect(page.getByRole("list", { name: "What the picture has to show" })).toBeVisible();
    await page.getByLabel("Take photo 2").setInputFiles(await photo(site, "second.jpg", 2));
    await expect(places).toHaveText(["1 in order", "2 in order"]);
    await page.getByRole("region", { name: "Actions" }).getByRole("link", { name: "Back to point 8" }).click();

    await expect(page.getByText("2 of 2 there", { exact: true })).toBeVisible();
    await expect(page.getByRole("article", { name: "Clamp 1" })).toContainText("set aside, not sent");
    for (const name of ["Clamp 2", "Clamp 3"]) await expect(page.getByRole("article", { name })).toContainText("in order");
    await expectAccessible(page);
  });

  test("an inspector reads the sequence of a pile in words, comes closer to a point, and opens its photos", async ({ page, signInAs }) => {
    await signInAs("inspector");
    await page.goto(PILE);
    await page.getByRole("link", { name: /^The sequence on a sheet of its own/ }).click();
    await expect(page.getByRole("heading", { level: 1, name: "02-A Sequence" })).toBeVisible();
    await expectNoSidewaysScroll(page);
    await expectAccessible(page);

    const steps = page.getByRole("region", { name: "Steps" });
    const points = steps.getByRole("list", { name: "Points" }).getByRole("listitem");
    const rows = steps.getByRole("rowheader");
    const preparation = steps.getByRole("row", { name: /^4 H Surface preparation released/ });
    await expect(rows).toHaveCount(0);
    await steps.getByText("Read as a table").click();
    await expect(rows).toHaveCount(await points.count());
    await expect(preparation.getByRole("cell").nth(4).getByRole("listitem")).toHaveText([
      ...[1, 2, 3, 4].map((n) => new RegExp(`^Close-up with scale ${n}: .* −04:00 ± 2 s, in order$`)), /^Overview: .* −04:00 ± 2 s, in order$/,
    ]);
    await expectNoSidewaysScroll(page);

    await points.getByRole("link", { name: "Surface preparation" }).click();
    const detail = page.getByRole("region", { name: "Photos of point 4" });
    await expect(detail).toContainText("5 of 5 photos in order");
    const time = page.getByRole("navigation", { name: "Time shown" });
    const address = /\?from=2026-12-0\dT\d\d%3A\d\d-04%3A00&to=2026-12-0\dT\d\d%3A\d\d-04%3A00&point=4$/;
    for (let before = page.url(), times = 1; times <= 3; before = page.url(), times += 1) {
      await time.getByRole("link", { name: "Closer" }).click();
      await expect(page).not.toHaveURL(before);
      await expect(page).toHaveURL(address);
      await expect(points.filter({ hasText: "Surface preparation" })).toBeVisible();
    }
    await time.getByRole("link", { name: "Point 4" }).click();
    await expect(page).toHaveURL(address);
    await expect(steps.getByRole("heading")).toContainText(/Wed 2 Dec 2026, 08:\d\d −04:00 to Wed 2 Dec 2026, 0[89]:\d\d −04:00; \d+ other points have nothing in this time/);
    await expectAccessible(page);
    await time.getByRole("link", { name: "Whole" }).click();
    await expect(steps.getByRole("heading")).toContainText("the whole record");

    await detail.getByRole("link", { name: "Close-up with scale 1" }).click();
    await expect(page.getByText(/^photo 1 of 5, sent by Ora Venn/)).toBeVisible();
    await page.getByRole("region", { name: "Actions" }).getByRole("link", { name: "Next photo" }).click();
    await expect(page.getByRole("heading", { level: 1, name: "02-A Close-up with scale 2" })).toBeVisible();
  });
});

test.describe("on a desk", () => {
  test.use({ viewport: { width: 1440, height: 900 } });

  test("a photo says what its camera wrote and where it stands, and its original comes back as it was sent", async ({ page, signInAs, site }) => {
    const taken = site.now - 5 * MINUTE;
    const summerTime = await photoByClock(9002, taken + 60 * MINUTE, "-03:00");
    const digest = sha256(summerTime.buffer);
    await signInAs("crew");
    await setPhoneClock(page);
    await page.goto(`${PILE}/12`);
    await page.getByLabel("Take photo: Cut piece with tape").setInputFiles(summerTime);
    await page.getByRole("link", { name: /^Look at it.*Cut piece with tape 1$/ }).click();

    await expect(page.getByRole("heading", { level: 1, name: "02-A Cut piece with tape" })).toBeVisible();
    await expect(page.getByText(/^Camera said/)).toHaveText(new RegExp(`^Camera said ${summerTime.said}; the photo stands at .* ${clockTime(taken)} −04:00\\.$`));
    const written = page.getByRole("table", { name: "The camera wrote" });
    await expect(written.getByRole("row", { name: /^date time original/ }).getByRole("cell")).toHaveText(summerTime.said);
    await expect(written.getByRole("row", { name: /^offset time original/ }).getByRole("cell")).toHaveText("-03:00");
    await expect(page.getByRole("region", { name: "Verdicts" })).toContainText("Counts to the photos of its point");
    const flag = page.getByRole("region", { name: /^Flags/ }).getByRole("listitem").filter({ hasText: "Camera was not on the site's time" });
    await expect(flag).toContainText("camera -03:00, still on summer time, 1 h ahead");
    await expect(flag).toContainText("limit: site -04:00 on that date");
    await expectAccessible(page);

    const arrived = page.waitForEvent("download");
    await page.getByRole("link", { name: "Original", exact: true }).click();
    const original = await readFile(await (await arrived).path());
    expect(sha256(original)).toBe(digest);
    await expect(page.getByText(digest)).toBeVisible();

    await page.setViewportSize(PHONE);
    await expectNoSidewaysScroll(page);
    await expectAccessible(page);
  });

  test("an inspector goes from the photos of a point to the page of one", async ({ page, signInAs }) => {
    await signInAs("inspector");
    await page.goto(`${PILE}/4`);
    const viewer = page.getByRole("region", { name: "Photos" });
    await viewer.getByRole("link", { name: "Close-up with scale 2 in order" }).click();
    await viewer.getByRole("link", { name: /^Close-up with scale 2, in order/ }).click();
    await expect(page.getByText(/^photo 2 of 5, sent by Ora Venn/)).toBeVisible();
    await page.getByRole("navigation", { name: "Photos of this point" }).getByRole("link", { name: "Next photo" }).click();
    await expect(page.getByRole("heading", { level: 1, name: "02-A Close-up with scale 3" })).toBeVisible();
    await expectAccessible(page);
  });

  test("a span of time that makes no sense is refused at its field, and print has the table without being asked", async ({ page, signInAs }) => {
    await signInAs("inspector");
    await page.goto(`${PILE}/sequence?point=4`);
    await page.getByLabel("From", { exact: true }).fill("2026-12-02T09:00");
    await page.getByLabel("To", { exact: true }).fill("2026-12-02T08:00");
    await page.getByRole("button", { name: "Show" }).click();
    const errors = page.getByRole("alert").filter({ hasText: "This cannot be shown" });
    await errors.getByRole("link", { name: "The end lies before the beginning. Give a later end." }).click();
    await expect(page.getByLabel("To", { exact: true })).toBeFocused();
    await expectAccessible(page);

    const row = page.getByRole("region", { name: "Steps" }).getByRole("row", { name: /^4 H Surface preparation/ });
    await expect(row).toBeHidden();
    await page.emulateMedia({ media: "print" });
    await expect(row).toBeVisible();
  });
});
