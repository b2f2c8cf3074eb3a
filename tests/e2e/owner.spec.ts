import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtempSync, readFileSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { expect, expectAccessible, projectPath, test } from "#tests/e2e/desk-site";

test.use({ viewport: { width: 1440, height: 900 } });
test.describe.configure({ mode: "serial" });

test("the owner accepts the pile that is released to its end, and no other", async ({ page, signInAs, site }) => {
  await signInAs("owner");
  await page.goto(`${projectPath}/round`);
  await expect(page.getByText("1 pile may be accepted.")).toBeVisible();
  await page.getByRole("link", { name: "accept on the closeout sheet" }).click();

  const row = page.getByRole("row", { name: /02-C/ });
  await expect(row.getByRole("img", { name: "released" })).toHaveCount(7);
  await expect(page.getByRole("group", { name: "Pile" }).getByRole("radio")).toHaveCount(1);
  await expectAccessible(page);

  await page.getByRole("button", { name: "Accept this pile" }).click();
  await expect(page.getByRole("link", { name: "Choose the pile." })).toBeVisible();
  await page.getByRole("group", { name: "Pile" }).getByLabel("02-C").check();
  await page.getByLabel("Your password, again").fill("not the password");
  await page.getByRole("button", { name: "Accept this pile" }).click();
  await expect(page.getByRole("link", { name: "The password is not right. Nothing was signed." })).toBeVisible();
  await page.getByLabel("Words that go with the acceptance").fill("Warranty runs from today.");
  await page.getByLabel("Your password, again").fill(site.password);
  await page.getByRole("button", { name: "Accept this pile" }).click();

  await expect(page.locator(".stamp-accepted")).toContainText("Pile 02-CWarranty runs from today.Ines Caldery, Nowhere Port Board");
  await expect(page.getByText("0 piles can be accepted now")).toBeVisible();
  await expect(row).toContainText("accepted");
});

test("the owner pulls a package that stock tools find whole", async ({ page, signInAs }) => {
  await signInAs("owner");
  await page.goto(`${projectPath}/closeout`);
  await expect(page.getByRole("button", { name: "Issue as final" })).toHaveAttribute("aria-disabled", "true");
  await expect(page.getByText("Pile 02-B: 11 open, 13 not open, 15 not open, 26 not open.")).toBeVisible();
  await page.getByRole("button", { name: "Issue as interim" }).click();

  const issue = page.getByRole("region", { name: "Issue 1, interim the last one" });
  await expect(issue).toBeVisible({ timeout: 30_000 });
  const sha256 = await issue.locator("dd .code").first().innerText();
  const [download] = await Promise.all([page.waitForEvent("download"), issue.getByRole("link", { name: "Download issue 1" }).click()]);
  const folder = mkdtempSync(path.join(tmpdir(), "lastlook-package-"));
  try {
    const file = path.join(folder, download.suggestedFilename());
    await download.saveAs(file);
    expect(createHash("sha256").update(readFileSync(file)).digest("hex")).toBe(sha256);
    // The commands as the sheet gives them, all but the first, which has just been done.
    const commands = (await page.getByLabel("Commands").innerText()).split("\n");
    expect(commands[0]).toBe(`echo "${sha256}  ${download.suggestedFilename()}" | sha256sum -c`);
    execFileSync("sh", ["-e", "-c", commands.join("\n")], { cwd: folder, stdio: "pipe" });
    const [unpacked] = readdirSync(folder).filter((name) => !name.endsWith(".zip"));
    expect(readFileSync(path.join(folder, unpacked!, "data", "index.html"), "utf8")).toContain("02-C");
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
