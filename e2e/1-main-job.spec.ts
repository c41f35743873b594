/**
 * The main job as a shop does it: the owner opens the shop and sets it up; the front desk takes a part in, quotes it
 * and books it; the customer accepts on a private link; the bench loads, reads, pulls and finishes. Each sits at a
 * browser of their own, and every screen is checked by axe on the way.
 */
import { type Browser, expect, type Page, test } from "@playwright/test";
import { expectAccessible } from "./support/accessible";
import { joinAs, ownBrowser, PASSWORD, signIn } from "./support/people";
import { openAllWeek, setUpTank } from "./support/set-up";

const TANK = "Journey tub";
const PART = "Skillet from the journey";

test.describe.configure({ mode: "serial" });

let owner: Page;
let desk: Page;
let bench: Page;
let customer: Page;
const faults: string[] = [];
let jobUrl = "";
let partUrl = "";
let runUrl = "";

async function fourBrowsers(browser: Browser): Promise<void> {
  owner = await ownBrowser(browser, faults);
  desk = await ownBrowser(browser, faults);
  bench = await ownBrowser(browser, faults);
  customer = await ownBrowser(browser, faults);
}

test.beforeAll(async ({ browser }) => {
  await fourBrowsers(browser);
});

test.afterAll(async () => {
  for (const page of [owner, desk, bench, customer]) await page.context().close();
  expect(faults, "faults in the browsers").toEqual([]);
});

test("the owner opens the example shop with the one-time code", async () => {
  await owner.goto("/welcome");
  await expectAccessible(owner);
  await owner.getByLabel("One-time code").fill("WRON-GCOD-EXXX");
  await owner.getByLabel("Your name").fill("Nora Quill");
  await owner.getByLabel("Your e-mail").fill("nora@example.com");
  await owner.getByLabel("A password").fill(PASSWORD);
  await owner.getByLabel("Name of the shop").fill("Alder Quay Ironworks");
  await owner.getByLabel("The example shop").check();
  await owner.getByRole("button", { name: "Open the shop" }).click();
  await expect(owner.locator("main").getByRole("alert")).toContainText("not the code");
  await expect(owner.getByLabel("Your name")).toHaveValue("Nora Quill");

  await owner.getByLabel("One-time code").fill(process.env["SETUP_CODE"] ?? "");
  await owner.getByRole("button", { name: "Open the shop" }).click();
  await expect(owner).toHaveURL(/sign-in/, { timeout: 60_000 });
  await expectAccessible(owner);
  await signIn(owner, "nora@example.com");
  await expectAccessible(owner);
});

test("the owner invites the front desk and the bench", async () => {
  await joinAs(owner, desk, { name: "Dara Finch", email: "dara@example.com", role: "front desk" });
  await joinAs(owner, bench, { name: "Bo Lindt", email: "bo@example.com", role: "bench" });
  await owner.goto("/people");
  await expectAccessible(owner);
  await bench.goto("/people");
  await expect(bench.getByRole("heading", { level: 1 })).not.toHaveText("People");
});

test("the owner sets up hours, a supply, a tank, its anode and its bath", async () => {
  await openAllWeek(owner);
  await expectAccessible(owner);
  await setUpTank(owner, TANK);
  await expectAccessible(owner);
});

test("the front desk takes a part in, and the verdict comes with reasons", async () => {
  await desk.goto("/jobs/new");
  await expectAccessible(desk);
  const form = desk.getByRole("form", { name: "Job of a new customer" });
  await form.getByLabel("Name").fill("Ottilie Marsh");
  await form.getByLabel("E-mail").fill("ottilie@example.org");
  await form.getByRole("button").click();
  await expect(desk.getByRole("heading", { level: 1, name: "Take in a part" })).toBeVisible();
  await expectAccessible(desk);

  await desk.getByRole("button", { name: "Take it in and decide" }).click();
  await expect(desk.locator("main").getByRole("alert")).toBeVisible();
  await desk.getByLabel("What is it?").fill(PART);
  await desk.getByLabel("pan or bowl").check();
  await desk.getByLabel("Length").fill("260");
  await desk.getByLabel("Width").fill("260");
  await desk.getByLabel("Height").fill("50");
  await desk.getByLabel("Wall, bar or rim").fill("4");
  await desk.getByLabel("Made of").selectOption({ label: "cast iron" });
  await desk.getByLabel("Mass").fill("2,2");
  await desk.getByRole("button", { name: "Take it in and decide" }).click();
  await expect(desk.getByRole("heading", { level: 1, name: PART })).toBeVisible();
  await expect(desk.getByText("May go in", { exact: false }).first()).toBeVisible();
  await expect(desk.getByText("Flash rust")).toBeVisible();
  partUrl = desk.url();
  await desk.getByRole("link", { name: /^Job \d+$/ }).click();
  await expect(desk.getByRole("heading", { level: 1, name: /^Job \d+$/ })).toBeVisible();
  jobUrl = desk.url();
  await expectAccessible(desk);
});

test("a part that would be ruined is refused, with the reason", async () => {
  await desk.goto(`${jobUrl}/parts/new`);
  await desk.getByLabel("What is it?").fill("Jelly mould");
  await desk.getByLabel("Length").fill("120");
  await desk.getByLabel("Width").fill("90");
  await desk.getByLabel("Height").fill("60");
  await desk.getByLabel("Made of").selectOption({ label: "aluminium" });
  await desk.getByRole("button", { name: "Take it in and decide" }).click();
  await expect(desk.getByText("Must not go in").first()).toBeVisible();
  await expect(desk.getByText("Aluminium dissolves")).toBeVisible();
  await expect(desk.getByRole("button", { name: "Plan the treatment" })).toHaveCount(0);
});

test("the plan names the tank, and every figure opens its working", async () => {
  await desk.goto(partUrl);
  const form = desk.getByRole("form", { name: "Plan" });
  await form.getByRole("button", { name: "Plan the treatment" }).click();
  await expect(desk.getByText(/nine in ten within/).first()).toBeVisible();
  const again = desk.getByRole("form", { name: "Plan" });
  const journeyTub = await again
    .getByLabel("Tank")
    .locator("option", { hasText: TANK })
    .getAttribute("value");
  await again.getByLabel("Tank").selectOption(journeyTub ?? "");
  await again.getByRole("button", { name: "Plan it anew" }).click();
  await expect(desk.getByText(new RegExp(`${TANK}: about`))).toBeVisible();
  await desk.getByText("show the working").first().click();
  await expect(desk.getByText("Formula:").first()).toBeVisible();
  await expect(desk.getByText("Rests on:").first()).toBeVisible();
  await expectAccessible(desk);
});

test("the front desk quotes, and the customer accepts on a private link", async () => {
  await desk.goto(`${jobUrl}/quote`);
  await expectAccessible(desk);
  await desk
    .locator("form", { has: desk.getByLabel("Discount") })
    .getByRole("button")
    .last()
    .click();
  await desk.getByRole("button", { name: /Send: make the customer/ }).click();
  const link = await shownLink(desk);
  await expectAccessible(desk);

  await customer.goto(link);
  await expect(customer.getByText(PART).first()).toBeVisible();
  await expectAccessible(customer);
  const pdf = await customer.request.get(`${link}/pdf`);
  expect((await pdf.body()).subarray(0, 5).toString()).toBe("%PDF-");
  await customer
    .getByRole("form", { name: "Accept the quote" })
    .getByLabel("Your name")
    .fill("Ottilie Marsh");
  await customer.getByRole("button", { name: /^Accept for/ }).click();
  await expect(customer.getByText(/Accepted by Ottilie Marsh/).first()).toBeVisible();
  await expectAccessible(customer);

  // The link opens this quote and nothing else.
  await customer.goto("/jobs");
  await expect(customer).toHaveURL(/sign-in/);
  await customer.goto(`${link.slice(0, -4)}AAAA`);
  await expect(customer.getByRole("heading", { level: 1 })).toContainText("does not open a quote");
  await desk.goto(jobUrl);
  await expect(desk.getByText("accepted").first()).toBeVisible();
});

async function shownLink(page: Page): Promise<string> {
  const found = page.locator("text=/\\/q\\/[\\w-]{20,}/").first();
  const field = page.locator('input[value*="/q/"]').first();
  await expect(found.or(field).first()).toBeVisible();
  const text = (await field.count())
    ? await field.inputValue()
    : ((await found.textContent()) ?? "");
  return /\/q\/[\w-]+/.exec(text)?.[0] ?? "";
}
