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
  // The cut-short link of a customer is answered with 404, as it should be.
  const unexpected = faults.filter((fault) => !fault.includes("AAAA: Failed to load resource"));
  expect(unexpected, "faults in the browsers").toEqual([]);
});

test("the owner opens the example shop with the one-time code", async () => {
  await owner.goto("/welcome");
  await expectAccessible(owner);
  await owner.getByLabel("One-time code").fill("WRON-GCOD-EXXX");
  await owner.getByLabel("Your name").fill("Nora Quill");
  await owner.getByLabel("Your e-mail").fill("nora@example.com");
  await owner.getByLabel("A password").fill(PASSWORD);
  await owner.getByLabel("Name of the shop").fill("Alder Quay Ironworks");
  await owner.getByLabel("Units").selectOption("METRIC");
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

test("other settings are tried on the plan's own models, and nothing is stored", async () => {
  await desk.goto(partUrl);
  await desk.getByRole("button", { name: /Try more or less soda/ }).click();
  const conductivity = desk.locator("details", { hasText: "Conductivity of the bath" }).last();
  const before = await conductivity.locator("summary").innerText();
  await desk.getByLabel("Temperature of the bath").fill("36");
  await expect(conductivity.locator("summary")).not.toHaveText(before, { useInnerText: true });
  await expectAccessible(desk);
  await desk.getByRole("button", { name: "Back to the plan" }).click();
  await expect(conductivity.locator("summary")).toHaveText(before, { useInnerText: true });
});

test("the bath is looked into: hours in tones and figures, the part moved, a cut and a rod", async () => {
  await desk.goto(partUrl);
  await desk.getByRole("button", { name: "Look into the bath" }).click();
  const section = desk.locator("#current");
  const figures = section.getByRole("region", { name: "The bath in figures" });
  await expect(
    figures.getByRole("row", { name: /^Outside, half are clean by [\d.]+ h$/ }),
  ).toBeVisible();
  await expect(figures.getByRole("row", { name: /^Shape length of the cell \d.*±/ })).toBeVisible();
  await expect(
    section.getByRole("heading", { name: "Hours until a place is clean" }),
  ).toBeVisible();
  await expectAccessible(desk);
  // A browser that draws nothing in space moves the part by the same buttons, beside the cut.
  const move = section.getByRole("radio", { name: "Move the part" });
  if (await move.isVisible()) await move.check();
  await section.getByRole("button", { name: "Move right" }).click();
  await section.getByRole("button", { name: "Move right" }).click();
  await expect(section.getByText(/20 mm along and 0 mm across/)).toBeVisible();
  await section.getByRole("button", { name: "Back to the middle of the tank" }).click();
  await expect(section.getByText(/ 0 mm along and 0 mm across/)).toBeVisible();
  await section.getByLabel("Cut through the bath, seen").selectOption("from above");
  await expect(section.getByRole("img", { name: /seen from above, to scale/ })).toBeVisible();
  // Several may help; which, is up to what the field of the plan found.
  await section
    .getByRole("radio", { name: /^A rod of/ })
    .first()
    .check();
  await expect(figures.getByRole("columnheader", { name: /^A rod of/ })).toBeVisible();
  await expect(figures.getByRole("columnheader", { name: "Nothing inside" })).toBeVisible();
  const anode = section.getByRole("radio", { name: "Move the anode inside" });
  if (await anode.isVisible()) await anode.check();
  await section.getByRole("button", { name: "Move right" }).last().click();
  await expect(section.getByText(/anode inside hangs 10 mm along and 0 mm across/)).toBeVisible();
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

test("the front desk books the next free slot, and the board shows it without reloading", async () => {
  await bench.goto("/tanks");
  await expectAccessible(bench);
  await desk.goto(partUrl);
  await desk.getByRole("link", { name: "Book a tank" }).click();
  await expect(desk.getByText(/Load .+, pull/).first()).toBeVisible();
  await expectAccessible(desk);
  await desk.getByRole("button", { name: "Book it" }).click();
  await expect(desk).toHaveURL(/\/runs\//);
  runUrl = desk.url();
  await expectAccessible(desk);
  // The bench's board was open all the while.
  await expect(bench.getByText(PART).first()).toBeVisible();
});

test("the bench ticks every safety check before the current goes on", async () => {
  await bench.goto(runUrl);
  await bench
    .getByRole("link", { name: /safety|load/i })
    .first()
    .click();
  const form = bench.getByRole("form", { name: "Safety check" });
  await form.getByRole("button").click();
  await expect(form.getByRole("alert")).toContainText("left");
  await expectAccessible(bench);
  for (const box of await form.getByRole("checkbox").all()) await box.check();
  await form.getByRole("button").click();
  await expect(bench.getByRole("link", { name: /reading/i }).first()).toBeVisible();
  await expectAccessible(bench);
});

test("readings are compared with what was expected; bad ones keep what was typed", async () => {
  await bench
    .getByRole("link", { name: /reading/i })
    .first()
    .click();
  const form = bench.getByRole("form", { name: "Reading" });
  await form.getByLabel("Volts").fill("12.6");
  await form.getByLabel("Amps").fill("four");
  await form.getByRole("button").first().click();
  await expect(form.getByLabel("Volts")).toHaveValue("12.6");
  await expectAccessible(bench);
  await form.getByLabel("Amps").fill("4,2");
  await form.getByLabel("Bath").fill("19");
  await form.getByRole("button").first().click();
  // Once the shop has it, the form leads back to the run by itself.
  await bench.waitForURL((url) => url.href === runUrl);
  await expect(bench.getByRole("cell", { name: "4.20 A" })).toBeVisible();
  await expect(
    bench.getByRole("heading", { name: /^What (may be wrong|the meter says)$/ }),
  ).toBeVisible();
  await expectAccessible(bench);
});

test("the bench pulls and finishes: stock falls and the anode loses what the charge took", async () => {
  await bench.goto(`${runUrl}?step=pull`);
  const pull = bench.getByRole("form", { name: "Pull the load" });
  await pull.getByRole("checkbox").check();
  await expectAccessible(bench);
  await pull.getByRole("button").click();
  const finish = bench.getByRole("form", { name: "Finish the load" });
  await expect(finish).toBeVisible();
  await expectAccessible(bench);
  await finish.getByLabel(/how did it come out/).selectOption("CLEAN");
  await finish.getByRole("button").click();
  await expect(finish).toHaveCount(0);
  await expectAccessible(bench);
  await owner.goto("/stock");
  await owner.getByRole("link", { name: "Soda ash, light" }).click();
  await expect(owner.getByRole("row").filter({ hasText: TANK }).first()).toBeVisible();
  await expectAccessible(owner);
});

test("the job's cost stands against its quote", async () => {
  await desk.goto(`${jobUrl}/cost`);
  await expect(desk.getByRole("heading", { level: 2, name: "Line by line" })).toBeVisible();
  await expectAccessible(desk);
  await bench.goto(`${jobUrl}/cost`);
  await expect(bench.getByRole("heading", { level: 1 })).toHaveText("Your role may not open this");
});

test("the part is handed back and the job closed", async () => {
  await desk.goto(jobUrl);
  await desk.getByText("Hand everything back and close").click();
  await desk.getByRole("button", { name: "Hand back and close" }).click();
  await expect(desk.getByRole("button", { name: "Take it up again" })).toBeVisible();
  await desk.getByRole("button", { name: "Take it up again" }).click();
  await expect(desk.getByText("Hand everything back and close")).toBeVisible();
});

test("signing somebody out everywhere works at once", async () => {
  await owner.goto("/people");
  await owner
    .getByRole("form", { name: "Sign Bo Lindt out everywhere" })
    .getByRole("button")
    .click();
  await expect(owner.getByRole("form", { name: "Sign Bo Lindt out everywhere" })).toHaveCount(0);
  await bench.goto("/tanks");
  await expect(bench).toHaveURL(/sign-in/);
});
