/** The shelves: what to buy and what came of it, a count on a phone, a line put right, steel cut for an anode, a leak. */
import { expect, type Page, test } from "@playwright/test";
import { expectAccessible } from "./support/accessible";
import { ownBrowser, signIn } from "./support/people";

let owner: Page;
let bench: Page;
const faults: string[] = [];

test.beforeAll(async ({ browser }) => {
  owner = await ownBrowser(browser, faults);
  bench = await ownBrowser(browser, faults);
  await signIn(owner, "nora@example.com");
  await signIn(bench, "bo@example.com");
});

test.afterAll(async () => {
  for (const page of [owner, bench]) await page.context().close();
  expect(faults, "faults in the browsers").toEqual([]);
});

const rowOf = (page: Page, name: string) =>
  page.getByRole("row").filter({ has: page.getByRole("link", { name, exact: true }) });

test("what runs low is listed, ordered, and taken in where it came", async () => {
  await owner.goto("/stock/orders");
  await owner.getByRole("button", { name: /^Make (the|a) list/ }).click();
  await expect(owner.getByRole("heading", { level: 1 })).toContainText("Order");
  await expectAccessible(owner);
  const paper = await owner.request.get(`${owner.url()}/pdf`);
  expect((await paper.body()).subarray(0, 5).toString()).toBe("%PDF-");
  await owner.getByRole("button", { name: "It is ordered" }).click();
  const came = owner.getByRole("form", { name: "Take in what came" });
  await expect(came).toBeVisible();
  await expectAccessible(owner);
  await came.getByLabel("What it cost in all").first().fill("19.50");
  await came.getByRole("button", { name: "Put it in stock" }).click();
  await expect(came).toHaveCount(0);
  await expect(owner.getByText("Closed", { exact: true })).toBeVisible();
});

test("a count on a phone is saved number by number, and says what differed", async () => {
  await bench.setViewportSize({ width: 390, height: 844 });
  await bench.goto("/stock/count");
  const field = bench.getByRole("textbox", { name: /^Steel wool pads/ }).first();
  await field.fill("200");
  await field.press("Enter");
  await expect(bench.getByText(/^1 of \d+ counted/).first()).toBeVisible();
  await bench.goto("/stock");
  await expect(rowOf(bench, "Steel wool pads")).toContainText("200 pieces");
  await bench.setViewportSize({ width: 1280, height: 900 });
});

test("a line written wrongly is put right by a new one", async () => {
  await owner.goto("/stock");
  await owner.getByRole("link", { name: "Steel wool pads", exact: true }).click();
  const line = owner
    .getByRole("row")
    .filter({ hasText: "used" })
    .filter({ has: owner.getByRole("link", { name: /correct/i }) })
    .first();
  await line.getByRole("link", { name: /correct/i }).click();
  await expect(owner).toHaveURL(/\/correct\//);
  await expectAccessible(owner);
  const form = owner.getByRole("form", { name: "Correct the line" });
  await form.getByLabel("What was wrong").fill("Another box was opened");
  await form.getByLabel("What it really was").fill("3");
  await form.getByRole("button", { name: "Correct it" }).click();
  await expect(owner.getByText(/corrected/).first()).toBeVisible();
  await expect(owner.getByText("Another box was opened").first()).toBeVisible();
  await expectAccessible(owner);
});

test("steel is cut for an anode, and put back while nothing hangs", async () => {
  await owner.goto("/stock/cutting");
  const form = owner.getByRole("form", { name: "Plan an anode" });
  await form.getByRole("button", { name: "Plan the cut" }).click();
  await expect(owner.getByRole("list", { name: "Bars to saw" })).toBeVisible({ timeout: 30_000 });
  await expectAccessible(owner);
  await owner.getByRole("button", { name: "It is cut" }).click();
  const cut = owner.getByRole("article", { name: /^Cut for/ }).first();
  await expect(cut).toBeVisible();
  await cut.getByText("It was not cut after all").click();
  await cut.getByRole("button").last().click();
  await expect(cut).toContainText("taken back");
});

test("a leak is written down, and epoxy is mixed by its sheet", async () => {
  await bench.goto("/tanks");
  await bench.locator('main a[href^="/tanks/"]').first().click();
  await bench.getByRole("link", { name: /leak/i }).first().click();
  const form = bench.getByRole("form", { name: "Write a leak down" });
  await form.getByLabel("Where").fill("Seam by the tap");
  await form.getByRole("button", { name: "Write it down" }).click();
  await expect(bench.getByRole("article", { name: "Seam by the tap" })).toBeVisible();
  await expectAccessible(bench);

  await bench.goto("/stock");
  await bench.getByRole("link", { name: "Two-part epoxy" }).click();
  await bench.getByRole("link", { name: /mix/i }).first().click();
  const mix = bench.getByRole("form", { name: "Work out a mix" });
  await mix.getByLabel("Both parts together").fill("60");
  await mix.getByRole("button", { name: "Work it out" }).click();
  await expect(bench.getByText("Resin").first()).toBeVisible();
  await expectAccessible(bench);
});

test("stock is worth the same however its day is asked for", async () => {
  await owner.goto("/stock/value?on=2000-01-01");
  await expectAccessible(owner);
  await owner.goto("/stock/value");
  const file = await owner.request.get(
    (await owner.getByRole("link", { name: "Items as CSV" }).getAttribute("href")) ?? "",
  );
  expect(await file.text()).toContain("Steel wool pads");
});
