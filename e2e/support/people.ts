/** People at their own browsers. */
import { type Browser, expect, type Page } from "@playwright/test";

export const PASSWORD = "four plain iron words";

/** A browser of its own, as somebody new sits down at it. A fault in the page fails the journey. */
export async function ownBrowser(browser: Browser, faults: string[]): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  page.on("pageerror", (error) => faults.push(`${page.url()}: ${error.message}`));
  page.on("console", (message) => {
    if (message.type() === "error") faults.push(`${page.url()}: ${message.text()}`);
  });
  return page;
}

export async function signIn(page: Page, email: string): Promise<void> {
  await page.goto("/sign-in");
  await page.getByLabel("E-mail").fill(email);
  await page.getByLabel("Password").fill(PASSWORD);
  await page.getByRole("button", { name: "Sign in" }).click();
  await expect(page.getByRole("heading", { level: 1 })).not.toHaveText("Sign in");
}

/** The owner invites somebody, who joins in their own browser and signs in. */
export async function joinAs(
  owner: Page,
  page: Page,
  person: { readonly name: string; readonly email: string; readonly role: string },
): Promise<void> {
  await owner.goto("/people");
  const invite = owner.getByRole("form", { name: "Invite somebody" });
  await invite.getByLabel("Name").fill(person.name);
  await invite.getByLabel("E-mail").fill(person.email);
  await invite.getByLabel("Role").selectOption({ label: person.role });
  await invite.getByRole("button").first().click();
  const told = invite.locator("input[readonly]");
  await expect(told).toHaveValue(/\/join\//);
  const link = /\/join\/[\w-]+/.exec(await told.inputValue())?.[0] ?? "";
  await page.goto(link);
  await page.getByLabel("A password").fill(PASSWORD);
  await page.getByRole("button", { name: "Join" }).click();
  await signIn(page, person.email);
}
