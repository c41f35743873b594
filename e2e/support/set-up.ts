/** What the owner does before the first part can come: hours, stock, a supply, a tank with anode and bath. */
import { expect, type Page } from "@playwright/test";

/** Open day and night, so that the journey can be made at any hour. */
export async function openAllWeek(owner: Page): Promise<void> {
  await owner.goto("/settings");
  const form = owner.getByRole("form", { name: "Opening hours" });
  for (let weekday = 1; weekday <= 7; weekday += 1) {
    await form.locator(`[name="opens${weekday}"]`).fill("00:00");
    await form.locator(`[name="closes${weekday}"]`).fill("23:59");
  }
  await form.getByRole("button", { name: "Save the hours" }).click();
  await expect(form.getByRole("status")).toHaveText("Saved.");
}

/** A tub of the journey's own: its supply, its anode and its bath, the soda weighed out of stock. */
export async function setUpTank(owner: Page, name: string): Promise<void> {
  await owner.goto("/supplies/new");
  await owner.getByLabel("Name").fill(`Charger of ${name}`);
  await owner.getByLabel("Voltage without load").fill("13.8");
  await owner.getByLabel("Resistance inside").fill("0.15");
  await owner.getByLabel("Rated current").fill("10");
  await owner.getByRole("button", { name: "Add the supply" }).click();
  await expect(owner).not.toHaveURL(/new$/);

  await owner.goto("/tanks/new");
  await owner.getByLabel("Name", { exact: true }).fill(name);
  await owner.getByLabel("Length at the rim").fill("600");
  await owner.getByLabel("Width at the rim").fill("400");
  await owner.getByLabel("Length at the floor").fill("550");
  await owner.getByLabel("Width at the floor").fill("350");
  await owner.getByLabel("Depth").fill("380");
  await owner.getByLabel("Working level").fill("300");
  await owner.getByLabel("Supply").selectOption({ label: `Charger of ${name}` });
  await owner.getByRole("button", { name: "Add the tank" }).click();
  await expect(owner.getByRole("heading", { level: 1, name })).toBeVisible();

  const anode = owner.getByRole("form", { name: "Hang an anode" });
  await openAround(owner, "Hang an anode");
  await anode.getByLabel("Name").fill("Wall anode");
  await anode.getByLabel("Mass, weighed").fill("2400");
  await anode.getByLabel("Area facing the bath").fill("0.2");
  await anode.getByRole("button", { name: "It hangs" }).click();
  await expect(owner.getByRole("article", { name: "Wall anode" })).toBeVisible();

  const bath = owner.getByRole("form", { name: "Mix a bath" });
  await openAround(owner, "Mix a bath");
  await bath.getByLabel("Water up to").fill("300");
  const soda = bath.getByLabel("Soda");
  const ash = await soda.locator("option", { hasText: "Soda ash" }).getAttribute("value");
  await soda.selectOption(ash);
  await bath.getByLabel("Weighed").fill("220");
  await bath.getByRole("button", { name: "Mixed" }).click();
  await expect(owner.getByText("Dispose of this bath")).toBeVisible();
}

/** Forms that are needed seldom stand behind a summary: opens the one around a form. */
async function openAround(page: Page, form: string): Promise<void> {
  const folded = page.locator("details:not([open])", {
    has: page.getByRole("form", { name: form, includeHidden: true }),
  });
  if (await folded.count()) await folded.first().locator("summary").first().click();
}
