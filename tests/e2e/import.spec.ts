import { utils, write } from "@e965/xlsx";
import { CODE, PASSWORD, smallProject } from "#tests/services/small-project";
import { expect, expectAccessible, siteTest } from "#tests/e2e/site";

/** Four piles on which no work has begun: a site of its own, since piles leave it. */
const test = siteTest({
  password: PASSWORD,
  make: async (dataDir) => {
    const small = await smallProject({ dataDir, demonstration: true });
    await small.close();
    return small.clock.now;
  },
});
const projectPath = `/p/${CODE}`;

test.use({ viewport: { width: 1440, height: 900 } });
test.describe.configure({ mode: "serial" });

/** Two bents of piles; the second repeats a mark, and one of its lengths is in inches. */
function schedule(): Buffer {
  const sheet = utils.aoa_to_sheet([
    ["BENT", "PILE NO", "TYPE", "JKT LENGTH", "REMARKS"],
    [11, "11-A", "HP", 3.5, null], [null, "11-B", "DO", "DO", "fender bracket"], [null, "11-C", "DO", 3.5, null], [null, "11-D", "DO", 3.5, null],
    [12, "11-D", "HP", 3.5, null], [null, "12-B", "DO", 42, null], [null, "12-C", "DO", 3.5, null], ["TOTAL", "7 piles"],
  ]);
  sheet["!merges"] = [{ s: { r: 1, c: 0 }, e: { r: 4, c: 0 } }, { s: { r: 5, c: 0 }, e: { r: 7, c: 0 } }];
  const book = utils.book_new();
  utils.book_append_sheet(book, sheet, "Piles");
  return Buffer.from(write(book, { type: "array", bookType: "xlsx" }) as ArrayBuffer);
}

test("the QC manager turns a spreadsheet into piles: file, columns, rows, and takes it back", async ({ page, signInAs }) => {
  await signInAs("qc");
  await page.goto(`${projectPath}/import`);
  await page.getByLabel("Schedule", { exact: true }).setInputFiles({ name: "piles.xlsx", mimeType: "application/octet-stream", buffer: schedule() });
  await page.getByRole("button", { name: "Read the file" }).click();

  // The header says no unit, and nothing is read before it is chosen.
  await expect(page.getByRole("link", { name: "In which unit is jacket height? Nothing is read from column D before." })).toBeVisible();
  await expect(page).toHaveTitle(/Import/);
  await expectAccessible(page);
  await page.getByLabel("Unit of column D").selectOption("ft");
  await page.getByRole("button", { name: "Read the rows" }).click();

  await expect(page.getByText("7 rows: 5 ready, 2 need you")).toBeVisible();
  await expect(page.getByText("rows 3 – 4")).toHaveCount(0);
  await expectAccessible(page);
  await page.getByRole("button", { name: /^Bring in 5 piles/ }).click();
  await expect(page.getByRole("link", { name: /2 rows need you/ })).toBeVisible();

  await page.getByLabel("it is 12-A").check();
  await page.getByLabel("42 in", { exact: true }).check();
  await page.getByRole("button", { name: "Keep the answers" }).click();
  await expect(page.getByText("7 rows: 7 ready, 0 need you")).toBeVisible();
  await page.getByLabel(/^Leave them/).check();
  await page.getByRole("button", { name: "Bring in 7 piles" }).click();
  await expect(page.getByRole("status")).toContainText("7 added, 0 changed, 0 taken out of scope.");

  const row = page.getByRole("row", { name: /piles\.xlsx/ });
  await row.getByText("Take back …").click();
  await row.getByRole("button", { name: "Take it back" }).click();
  await expect(row.getByRole("link", { name: "Say why it is taken back." })).toBeVisible();
  await row.getByLabel("Why").fill("Superseded drawing.");
  await row.getByRole("button", { name: "Take it back" }).click();
  await expect(row).toContainText("taken back");
});

test("a change order takes a pile out of scope, on a phone and by keyboard", async ({ page, signInAs }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await signInAs("qc");
  await page.goto(`${projectPath}/import`);
  await page.getByLabel("Rows", { exact: true }).fill("MARK\tBENT\tTYPE\n02-A\t02\tHP\n02-B\t02\tHP\n02-C\t02\tHP\n");
  await page.getByRole("button", { name: "Read what was pasted" }).press("Enter");
  await page.getByRole("button", { name: "Read the rows" }).press("Enter");
  await page.getByLabel(/^Take them out of scope/).press("Space");
  await page.getByRole("button", { name: /^Bring in 3 piles/ }).press("Enter");
  const fault = page.getByRole("link", { name: "Give the number of the change order that changes or takes out piles." });
  await expect(fault).toBeVisible();
  await page.getByLabel(/^Take them out of scope/).press("Space");
  await page.getByLabel("Change order").fill("CO-2");
  await page.getByRole("button", { name: /^Bring in 3 piles/ }).press("Enter");
  await expect(page.getByRole("status")).toContainText("0 added, 0 changed, 1 taken out of scope.");
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);

  await page.goto(`${projectPath}/piles/02-D`);
  await expect(page.getByText("out of scope").first()).toBeVisible();
});
