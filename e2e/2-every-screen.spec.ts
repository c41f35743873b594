/** Every screen of the example shop, by axe, at desk and at phone width, and a picture of the board. */
import { expect, type Page, test } from "@playwright/test";
import { expectAccessible } from "./support/accessible";
import { ownBrowser, signIn } from "./support/people";

const SCREENS = [
  "/",
  "/jobs",
  "/jobs?which=all",
  "/jobs/new",
  "/customers",
  "/customers/new",
  "/board/improve",
  "/board/improve?look=1&waiting=yes&tanks=yes",
  "/board/ahead",
  "/board/ahead?look=1&weeks=2&arrivals=yes&change=HANDS",
  "/tanks",
  "/tanks/new",
  "/supplies",
  "/supplies/new",
  "/runs",
  "/stock",
  "/stock/new",
  "/stock/orders",
  "/stock/suppliers",
  "/stock/count",
  "/stock/value",
  "/stock/cutting",
  "/money",
  "/figures",
  "/figures/learned",
  "/people",
  "/settings",
  "/account",
  "/no-such-page",
] as const;

/** Lists and the kind of page each leads to. */
const FIRST_OF = [
  ["/customers", /^\/customers\/[0-9a-f-]{36}$/],
  ["/tanks", /^\/tanks\/[0-9a-f-]{36}$/],
  ["/supplies", /^\/supplies\/[0-9a-f-]{36}$/],
  ["/runs", /^\/runs\/[0-9a-f-]{36}$/],
  ["/stock", /^\/stock\/[0-9a-f-]{36}$/],
  ["/stock/orders", /^\/stock\/orders\/[0-9a-f-]{36}$/],
  ["/stock/suppliers", /^\/stock\/suppliers\/[0-9a-f-]{36}$/],
  ["/money", /^\/jobs\/[0-9a-f-]{36}\/money$/],
] as const;

test.describe.configure({ mode: "serial" });

let owner: Page;
const faults: string[] = [];

test.beforeAll(async ({ browser }) => {
  owner = await ownBrowser(browser, faults);
  await signIn(owner, "nora@example.com");
});

test.afterAll(async () => {
  await owner.context().close();
  const unexpected = faults.filter((fault) => !fault.includes("/no-such-page"));
  expect(unexpected, "faults in the browser").toEqual([]);
});

for (const screen of SCREENS) {
  test(`${screen} is accessible at both widths`, async () => {
    await owner.goto(screen);
    await expect(owner.getByRole("heading", { level: 1 })).toHaveCount(1);
    await expectAccessible(owner);
  });
}

for (const [list, detail] of FIRST_OF) {
  test(`what ${list} leads to is accessible at both widths`, async () => {
    await owner.goto(list);
    const addresses = await owner
      .locator("main a[href]")
      .evaluateAll((links) => links.map((link) => link.getAttribute("href") ?? ""));
    const first = addresses.find((address) => detail.test(address));
    expect(first, `a link on ${list} like ${String(detail)}`).toBeDefined();
    await owner.goto(first ?? "");
    await expect(owner.getByRole("heading", { level: 1 })).toHaveCount(1);
    await expectAccessible(owner);
  });
}

test("the board can be worked by keyboard: skip link, then the first tank", async () => {
  await owner.goto("/tanks");
  await owner.keyboard.press("Tab");
  await expect(owner.getByRole("link", { name: "Skip to the content" })).toBeFocused();
  await owner.keyboard.press("Enter");
  await expect(owner.locator("#main")).toBeFocused();
});

test("a calendar address opens without signing in, until it is revoked", async () => {
  await owner.goto("/account");
  const form = owner.getByRole("form", { name: "Make a calendar address" });
  await form.getByLabel("What the calendar shows").selectOption("shop");
  await form.getByLabel("Where you will use it").fill("the office");
  await form.getByRole("button", { name: "Make an address" }).click();
  const made = form.locator("input[readonly]");
  await expect(made).toHaveValue(/\/calendar\/[\w-]{43}\.ics$/);
  const address = await made.inputValue();
  await expectAccessible(owner);

  const calendar = await fetch(address);
  expect(calendar.headers.get("content-type")).toBe("text/calendar; charset=utf-8");
  expect(await calendar.text()).toContain("BEGIN:VEVENT\r\n");

  const row = owner.getByRole("listitem").filter({ hasText: "The whole shop: the office" });
  await row.getByText("Revoke", { exact: true }).click();
  await row.getByRole("button", { name: "Revoke this address" }).click();
  await expect(row).toHaveCount(0);
  expect((await fetch(address)).status).toBe(404);
});
