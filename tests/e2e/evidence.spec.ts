import type { Page } from "@playwright/test";
import { MINUTE } from "#lib/domain/instant";
import { withExif } from "#seed/photo/exif";
import { FORGOTTEN, FORGOTTEN_AHEAD_MS, shotBy } from "#tests/services/camera-shot";
import { cardPhoto, expect, expectAccessible, MIX, projectPath, test, type Site } from "#tests/e2e/evidence-site";

const PHONE = { width: 390, height: 844 };
const DESK = { width: 1440, height: 900 };

test.use({ viewport: DESK });

const lead = (page: Page) => page.locator(".head .lead");

/** Four faces of 02-A, two of 03-C, the first of each with its tag; and a photo in which there is none. */
async function cardOf(site: Site) {
  const shots = [[60, "pile-02-A"], [59, null], [58, null], [57, null], [35, "pile-03-C"], [34, null], [10, null]] as const;
  return Promise.all(shots.map(async ([minutesAgo, pile], shot) => ({ name: `IMG_${shot + 1}.jpg`, mimeType: "image/jpeg", buffer: await cardPhoto(site.now - minutesAgo * MINUTE, pile) })));
}

test("a crew lead puts a card of photos to two piles in one go, by the reasons that are shown", async ({ page, signInAs, site }) => {
  const group = (letter: string) => page.getByRole("form", { name: "Where the photos go" }).getByRole("listitem").filter({ has: page.getByRole("group", { name: new RegExp(`^Group ${letter},`) }) });
  const files = await cardOf(site);
  await signInAs("crew");
  await page.goto(projectPath);
  await page.getByRole("link", { name: "Photos from a camera card" }).click();
  await expect(page.getByText("No photo of a card is here.")).toBeVisible();
  await page.getByLabel("Choose photos").setInputFiles(files);
  await expect(page.getByText("7 of 7 here.", { exact: true })).toBeVisible();
  await expect(lead(page)).toHaveText("7 photos: 6 proposed, 1 needs you.");

  for (const [letter, mark, inGroup] of [["A", "02-A", 4], ["B", "03-C", 2]] as const) {
    const proposed = group(letter);
    await expect(proposed.getByText("3 Marine growth removal", { exact: true })).toBeVisible();
    await expect(proposed.getByText(mark, { exact: true })).toBeVisible();
    await expect(proposed.getByText(`tag ${mark} read in 1 of ${inGroup}`)).toBeVisible();
    await expect(proposed.getByText("inside the open window of 3")).toBeVisible();
    await expect(proposed.getByText("tag and time agree")).toBeVisible();
    await expect(proposed.getByRole("radio", { name: `take ${inGroup}` })).not.toBeChecked();
  }
  await expect(group("C").getByText("no tag read in 1 photo")).toBeVisible();
  await expect(group("C").getByText("cannot tell")).toBeVisible();
  await expectAccessible(page);

  // Nothing belongs to a point yet.
  await page.goto(`${projectPath}/piles/02-A/3`);
  await expect(page.getByText("0 of 4 there", { exact: true })).toBeVisible();
  await page.goto(`${projectPath}/card`);
  await group("C").getByRole("radio", { name: "leave out" }).check();
  await page.getByRole("button", { name: "Take the 6 proposed" }).click();
  await expect(page.getByText("No photo of a card is here.")).toBeVisible();

  for (const [mark, there] of [["02-A", 4], ["03-C", 2]] as const) {
    await page.goto(`${projectPath}/piles/${mark}/3`);
    await expect(page.getByText(`${there} of 4 there`, { exact: true })).toBeVisible();
    for (let n = 1; n <= there; n += 1) await expect(page.getByRole("article", { name: `Each face, clean ${n}` }).getByText("in order", { exact: true })).toBeVisible();
  }

  // The same card again: what is on record is not taken twice.
  await page.goto(`${projectPath}/card`);
  await page.getByLabel("Choose photos").setInputFiles(files);
  await expect(page.getByText("7 of 7 here, 6 were here already.", { exact: true })).toBeVisible();
  await expect(lead(page)).toHaveText("1 photo: 0 proposed, 1 needs you.");
});

test("an inspector holds two photos that are alike side by side, and the answer stands at both", async ({ page, signInAs }) => {
  await signInAs("inspector");
  await page.goto(`${projectPath}/round`);
  await page.getByRole("region", { name: /^Photos that are alike/ }).getByRole("link", { name: /^02-B and 03-A \d of 64 cells differ/ }).click();
  await expect(lead(page)).toHaveText(/^\d of 64 cells differ; up to 8 is a look-alike\.$/);
  const [earlier, later] = [page.getByRole("region", { name: /^02-B, point 3,/ }), page.getByRole("region", { name: /^03-A, point 3,/ })];
  await expect(earlier.getByText("released", { exact: true })).toBeVisible();
  await expect(later.getByText("submitted", { exact: true })).toBeVisible();
  const form = page.getByRole("form", { name: "Is it the same picture?" });
  await expect(form.getByRole("radio", { checked: true })).toHaveCount(0);
  await expectAccessible(page);

  await form.getByRole("radio", { name: /^Same picture, it belongs to 02-B, point 3/ }).check();
  await form.getByRole("button", { name: "Keep this answer" }).click();
  await expect(form.getByText("Say in a few words why: it goes with the photo that does not count.").first()).toBeVisible();
  await expect(form.getByRole("radio", { name: /^Same picture, it belongs to 02-B, point 3/ })).toBeChecked();
  await form.getByLabel("Reason, goes with the photo that does not count").fill("The same barnacles at the chine.");
  await form.getByRole("button", { name: "Keep this answer" }).click();
  const answered = page.getByRole("region", { name: /^Answered/ });
  await expect(answered).toContainText("the same picture, it belongs to 02-B, point 3");
  await expect(answered).toContainText("The same barnacles at the chine.");
  await expect(answered).toContainText("Tamsin Orrel, inspector");
  await expectAccessible(page);

  for (const [mark, counts, said] of [["02-B", "Counts to the photos of its point", "here"], ["03-A", "Does not count: the same file or picture stands at another point too", "there"]] as const) {
    await page.goto(`${projectPath}/piles/${mark}/3`);
    await page.getByRole("link", { name: /^Each face, clean 1, .*Opens everything about it\.$/ }).click();
    await expect(page.getByRole("heading", { name: counts })).toBeVisible();
    await expect(page.getByRole("region", { name: "Verdicts" })).toContainText(`answered: the same picture, and it belongs ${said}`);
    await page.getByRole("link", { name: /side by side$/ }).click();
    await expect(answered).toContainText("the same picture, it belongs to 02-B, point 3");
  }
  await page.goto(`${projectPath}/round`);
  await expect(page.getByRole("heading", { level: 1, name: "Inspector’s round" })).toBeVisible();
  await expect(page.getByRole("region", { name: /^Photos that are alike/ })).toHaveCount(0);
});

test("a camera left on summer time is measured by one photo of the clock page, and the QC manager confirms it", async ({ page, signInAs }) => {
  await signInAs("crew");
  await page.goto(`${projectPath}/clocks`);
  await page.getByRole("link", { name: "Cameras" }).click();
  await page.getByRole("navigation", { name: "Cameras" }).getByRole("link", { name: /^Orvane TG-40, serial 40-00371/ }).click();
  const camera = page.getByRole("region", { name: "Orvane TG-40, serial 40-00371" });
  await expect(camera.getByText("cannot tell", { exact: true }).first()).toBeVisible();
  await expect(camera.getByRole("region", { name: /^Confirm/ })).toHaveCount(0);
  await expectAccessible(page);

  await page.getByRole("link", { name: "Open the clock page" }).click();
  const code = page.getByRole("img", { name: /^Code of \d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.000Z$/ });
  await expect(code).toBeVisible();
  await expect(page.getByText(/^2026-12-0\d UTC$/)).toBeVisible();
  await expect(page.getByText(/^\d\d:\d\d:\d\d$/)).toBeVisible();
  await expect(page.getByText(/^good to ± \d\.\d s$/)).toBeVisible();
  await expectAccessible(page);

  // The camera photographs the screen: the picture is the page's own, and its time is what that camera shows.
  const before = Date.parse((await code.getAttribute("aria-label"))!.replace("Code of ", ""));
  const picture = await page.screenshot({ type: "jpeg", quality: 90 });
  await page.getByRole("link", { name: "Back to Cameras" }).click();
  await page.getByLabel(/^Hand in a photo of it/).setInputFiles({ name: "clock.jpg", mimeType: "image/jpeg", buffer: withExif(picture, shotBy(FORGOTTEN, before, { aheadMs: FORGOTTEN_AHEAD_MS })) });
  await expect(page.getByText(/^Received\. The page showed 2026-12-0\d \d\d:\d\d:\d\d UTC, the camera wrote 2026:12:0\d /)).toBeVisible();
  await page.getByRole("navigation", { name: "Cameras" }).getByRole("link", { name: /^Orvane TG-40, serial 40-00371/ }).click();
  await expect(camera.getByText(/^Its clock ran (4\d|50) s fast and is still on summer time, 1 h ahead of the site: 1 of 1 reference agrees\.$/)).toBeVisible();
  await expect(camera.getByText("The QC manager confirms it, once for the camera.")).toBeVisible();
  await expect(camera.getByRole("button", { name: "Confirm this clock" })).toHaveCount(0);

  await signInAs("qc");
  await page.reload();
  await camera.getByLabel("Words, if any").fill("Nobody put it back on 1 November.");
  await camera.getByRole("button", { name: "Confirm this clock" }).click();
  await expect(camera.getByRole("region", { name: /^Confirmed/ })).toContainText(/Hedda Lorne confirmed on .*, by 1 reference\. Nobody put it back on 1 November\./);
  await expect(camera.getByRole("region", { name: /^What the confirmation changed/ })).toContainText("1 of 1 photo was corrected.");
  await expectAccessible(page);
});

test("the tags of one bent are printed from their sheet", async ({ page, signInAs }) => {
  await signInAs("crew");
  await page.goto(`${projectPath}/sheet`);
  await page.getByRole("link", { name: "Pile tags" }).click();
  await expect(page.getByRole("group", { name: /^Tag of pile / })).toHaveCount(5);
  await expect(page.getByRole("img", { name: "QR code of pile 07-A" })).toBeVisible();
  await expectAccessible(page);

  await page.getByRole("checkbox", { name: /^02/ }).check();
  await page.getByRole("radio", { name: /^Letter/ }).check();
  await page.getByRole("button", { name: "Show" }).click();
  await expect(lead(page)).toHaveText("Bent 02: 2 tags on 1 page of Letter");
  await expect(page.getByRole("group", { name: "Tag of pile 07-A" })).toHaveCount(0);
  const href = (await page.getByRole("link", { name: "PDF on Letter" }).getAttribute("href"))!;
  const answer = await page.request.get(href);
  expect([answer.status(), answer.headers()["content-type"], (await answer.body()).subarray(0, 4).toString("latin1")]).toEqual([200, "application/pdf", "%PDF"]);
});

test.describe("on a phone", () => {
  test.use({ viewport: PHONE });

  test("a crew lead marks the mix in its photo, sees where it differs and records it", async ({ page, signInAs }) => {
    await signInAs("crew");
    await page.goto(`${projectPath}/piles/07-A/13`);
    await page.getByRole("article", { name: "Streak-free mix 1" }).getByRole("link", { name: /^Look at it/ }).click();
    await page.getByRole("link", { name: "Check the mix for streaks" }).click();
    const finding = page.getByRole("region", { name: "Finding" });
    await expect(finding.getByText(/^Nobody has marked the mix yet/)).toBeVisible();
    await expect(page.getByText("None yet. What is measured counts as a check once it is recorded.")).toBeVisible();
    await expectAccessible(page);

    const picture = page.getByRole("img", { name: /^The mix, with the circle that is measured/ });
    const box = (await picture.boundingBox())!;
    await picture.click({ position: { x: box.width * MIX.x, y: box.height * MIX.y } });
    for (let press = 0; press < 4; press += 1) await page.getByRole("button", { name: "Larger circle" }).click();
    await page.getByRole("button", { name: "Smaller circle" }).click();
    await expect(page.getByLabel("Radius")).toHaveValue("0.31");
    for (const [field, share] of [["Across", MIX.x], ["Down", MIX.y]] as const) expect(Math.abs(Number(await page.getByLabel(field).inputValue()) - share)).toBeLessThan(0.01);
    await expect(page.getByText("The circle was moved: what stands here is of the circle before.")).toBeVisible();
    await expect(page.getByRole("button", { name: /^Record/ })).toHaveCount(0);

    await page.getByRole("button", { name: "Measure here" }).click();
    await expect(finding.getByText(/^Nobody has marked the mix yet/)).toHaveCount(0);
    await expect(finding.getByRole("heading", { name: "streaks", exact: true })).toBeVisible();
    await expect(finding).toContainText(/Differs\s*\d+(\.\d)?\s% of the judged mix; limit 2\s%/);
    await page.getByRole("button", { name: "Record: streaks" }).click();
    await expect(page.getByText(/^Recorded by Ora Venn, /)).toBeVisible();
    await expect(page.getByRole("region", { name: /^Recorded checks/ }).getByRole("listitem")).toContainText(/streaks.* % differs by ΔE .*Ora Venn/);
    await expect(page.getByRole("img", { name: /^The cells of the circle: \d+ like the rest, \d+ differ, .*Verdict: streaks\.$/ })).toBeVisible();
    await expect(page.getByRole("button", { name: /^Record/ })).toHaveCount(0);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(PHONE.width);
    await expectAccessible(page);

    // An inspector sees the verdict with the photo, and where it differs.
    await signInAs("inspector");
    await page.getByRole("link", { name: "the last one stands beside the photo" }).click();
    await expect(page.getByRole("region", { name: "Verdicts" })).toContainText(/\d+\.\d % of the mix differs, by ΔE00 \d/);
    await page.getByRole("link", { name: "Where, and check again" }).click();
    await expect(page.getByRole("img", { name: /^The cells of the circle: .*Verdict: streaks\.$/ })).toBeVisible();
  });
});
