/** Money: a rate card with everything in it, ways of doing a job side by side, what was accepted, charged and paid. */
import { expect, type Page, test } from "@playwright/test";
import { expectAccessible } from "./support/accessible";
import { ownBrowser, signIn } from "./support/people";

let owner: Page;
let desk: Page;
let customer: Page;
const faults: string[] = [];

test.beforeAll(async ({ browser }) => {
  owner = await ownBrowser(browser, faults);
  desk = await ownBrowser(browser, faults);
  customer = await ownBrowser(browser, faults);
  await signIn(owner, "nora@example.com");
  await signIn(desk, "dara@example.com");
});

test.afterAll(async () => {
  for (const page of [owner, desk, customer]) await page.context().close();
  expect(faults, "faults in the browsers").toEqual([]);
});

test("the owner writes rates from a coming day on, and a slip keeps what was typed", async () => {
  await owner.goto("/settings");
  await owner.getByText("New rates from a day on").click();
  const form = owner.getByRole("form", { name: "New rates" });
  await form.getByLabel("In force from").fill("2099-01-01");
  await form.getByRole("button", { name: "Another way of taxing" }).click();
  await form.getByLabel("What is taxed so").last().fill("Two taxes");
  await form.getByLabel("Tax rate").last().fill("5");
  await form.getByRole("button", { name: "Add these rates" }).click();
  await expect(form.getByText(/Row \d: give the tax its name/).first()).toBeVisible();
  await expect(form.getByLabel("What is taxed so").last()).toHaveValue("Two taxes");
  await form.locator('input[name="tax1Name"]').last().fill("GST");
  await form.getByLabel("Second tax").last().fill("PST");
  await form.getByLabel("Second rate").last().fill("7");
  await form.getByLabel("Customers are told prices with their tax in them").check();
  await form.getByRole("button", { name: "Add these rates" }).click();
  await expect(owner.getByText("GST 5 % and PST 7 %").first()).toBeAttached();
  await expectAccessible(owner);
});

test("three ways stand side by side, and the customer accepts one", async () => {
  const link = await offerThreeWays(desk);
  await customer.setViewportSize({ width: 390, height: 844 });
  await customer.goto(link);
  await expectAccessible(customer);
  const form = customer.getByRole("form", { name: "Accept the quote" });
  await form.getByRole("radio", { name: /^Rush/ }).check();
  await form.getByLabel("Your name").fill("Wil Harker");
  await form.getByRole("button", { name: /^Accept/ }).click();
  await expect(customer.getByText(/Accepted by Wil Harker/).first()).toBeVisible();
  await expectAccessible(customer);
  const pdf = await customer.request.get(`${link}/pdf`);
  expect((await pdf.body()).subarray(0, 5).toString()).toBe("%PDF-");
});

/** The first job whose parts can be done in three ways. @returns the customer's link */
async function offerThreeWays(page: Page): Promise<string> {
  await page.goto("/jobs");
  const addresses = await page
    .locator("main a[href]")
    .evaluateAll((links) => links.map((link) => link.getAttribute("href") ?? ""));
  for (const address of new Set(addresses.filter((href) => /^\/jobs\/[0-9a-f-]{36}$/.test(href)))) {
    await page.goto(`${address}/quote`);
    const usual = page.getByRole("button", { name: /^Price the usual 3/ });
    if ((await usual.count()) === 0) continue;
    await usual.click();
    await page.getByRole("button", { name: /Send: make the customer/ }).click();
    const field = page.locator('input[value*="/q/"]').first();
    await expect(field).toBeVisible();
    await expectAccessible(page);
    return /\/q\/[\w-]+/.exec(await field.inputValue())?.[0] ?? "";
  }
  throw new Error("no job of the example shop can be quoted in three ways");
}

test("what is owed is paid in parts, and a slip is put right by a new line", async () => {
  await desk.goto("/money");
  await desk.locator("main").getByRole("link", { name: /^Job/ }).first().click();
  await expect(desk).toHaveURL(/\/money$/);
  await expectAccessible(desk);
  const form = desk.getByRole("form", { name: "Write down a payment" });
  await form.getByLabel("Amount").fill("12.34");
  await form.getByRole("button", { name: "Write it down" }).click();
  await expect(desk.getByText("12.34").first()).toBeVisible();
  await form.getByLabel("Amount").fill("99999");
  await form.getByLabel("It went back to the customer").check();
  await form.getByRole("button", { name: "Write it down" }).click();
  await expect(form.getByRole("alert")).toBeVisible();
  await expect(form.getByLabel("Amount")).toHaveValue("99999");
  const paper = await desk
    .locator("main")
    .getByRole("link", { name: /PDF/ })
    .first()
    .getAttribute("href");
  const pdf = await desk.request.get(paper ?? "");
  expect((await pdf.body()).subarray(0, 5).toString()).toBe("%PDF-");
});

test("the bench does not see what customers owe", async ({ browser }) => {
  const bench = await ownBrowser(browser, faults);
  await signIn(bench, "bo@example.com");
  await bench.goto("/money");
  await expect(bench.getByRole("heading", { level: 1 })).not.toHaveText("Who owes what");
  await bench.context().close();
});
