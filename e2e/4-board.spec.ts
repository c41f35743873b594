/** The tanks over time: a free time found, a run moved by keys and seen to move elsewhere, taken back, other work, a calendar. */
import { type Browser, expect, type Page, test } from "@playwright/test";
import { expectAccessible } from "./support/accessible";
import { ownBrowser, signIn } from "./support/people";

const PART = "Gate hinge of the board";

test.describe.configure({ mode: "serial" });

let owner: Page;
let onlooker: Page;
const faults: string[] = [];
let partUrl = "";

const pages = async (browser: Browser): Promise<void> => {
  owner = await ownBrowser(browser, faults);
  onlooker = await ownBrowser(browser, faults);
  await signIn(owner, "nora@example.com");
  await signIn(onlooker, "nora@example.com");
};

test.beforeAll(async ({ browser }) => {
  await pages(browser);
});

test.afterAll(async () => {
  await owner.context().close();
  await onlooker.context().close();
  expect(faults, "faults in the browsers").toEqual([]);
});

const runOn = (page: Page) => page.getByRole("button", { name: new RegExp(PART) }).first();

test("a part is taken in, planned, and its free times stand on the board", async () => {
  await owner.goto("/jobs/new");
  const form = owner.getByRole("form", { name: "Job of a new customer" });
  await form.getByLabel("Name").fill("Ilse Marrow");
  await form.getByLabel("E-mail").fill("ilse@example.org");
  await form.getByRole("button").click();
  await owner.getByLabel("What is it?").fill(PART);
  await owner.getByLabel("Length").fill("300");
  await owner.getByLabel("Width").fill("60");
  await owner.getByLabel("Height").fill("40");
  await owner.getByLabel("Made of").selectOption({ label: "mild steel" });
  await owner.getByRole("button", { name: "Take it in and decide" }).click();
  await owner.getByRole("button", { name: "Plan the treatment" }).click();
  await expect(owner.getByRole("link", { name: "Book a tank" })).toBeVisible();
  partUrl = owner.url();

  await owner.goto("/board");
  await owner.getByText(/Free time for a part/).click();
  await owner.getByRole("searchbox").fill("gate hinge of the board");
  await owner.getByRole("link", { name: new RegExp(PART) }).click();
  await expect(owner.getByRole("region", { name: `Free times for ${PART}` })).toBeVisible();
  await expectAccessible(owner);
});

test("it is booked, moved by keys while others look on, and moved back", async () => {
  await owner.goto(`${partUrl}/book`);
  await owner.getByRole("radio").nth(1).check();
  await owner.getByRole("button", { name: "Book it" }).click();
  await expect(owner).toHaveURL(/runs/);
  await onlooker.goto("/board");
  await owner.goto("/board");
  await expect(runOn(onlooker)).toBeVisible();
  const before = await runOn(onlooker).getAttribute("aria-label");

  await runOn(owner).focus();
  for (let press = 0; press < 4; press += 1) await owner.keyboard.press("ArrowRight");
  await expect(owner.getByText("Nothing stands against it.").first()).toBeVisible();
  await owner.keyboard.press("Enter");
  await expect(owner.getByRole("button", { name: "Undo" })).toBeVisible();
  // The other browser follows without being touched.
  await expect(runOn(onlooker)).not.toHaveAttribute("aria-label", before ?? "", {
    timeout: 15_000,
  });
  await owner.getByRole("button", { name: "Undo" }).click();
  await expect(runOn(onlooker)).toHaveAttribute("aria-label", before ?? "", { timeout: 15_000 });
});

test("a run's sheet tells of it, and other work is booked on a tank and done", async () => {
  await runOn(owner).click();
  await expect(owner.getByRole("link", { name: "Open the run" })).toBeVisible();
  await owner.getByRole("button", { name: "Fix in place" }).click();
  await expect(owner.getByRole("button", { name: "Let it move" })).toBeVisible();
  await expectAccessible(owner);
  await owner.keyboard.press("Escape");

  await owner.getByRole("button", { name: "Book other work" }).click();
  const work = owner.getByRole("form", { name: "Other work" });
  await work.getByLabel("Tank").selectOption({ label: "Bucket" });
  await work.getByLabel("What is done").selectOption({ label: "Maintenance" });
  const day = new Date(Date.now() + 3 * 86_400_000).toISOString().slice(0, 10);
  await work.getByLabel("From").fill(`${day}T10:00`);
  await work.getByLabel("Until").fill(`${day}T12:00`);
  await work.getByLabel("Note").fill("Strap of the handle");
  await work.getByRole("button", { name: "Book it" }).click();
  await owner.goto("/board");
  const hold = owner.getByRole("button", { name: /maintenance.*Strap of the handle/i }).first();
  await hold.click();
  await owner.getByRole("button", { name: "It is done" }).click();
  await expect(owner.getByText(/maintenance/i).first()).toBeVisible();
});

test("the same bookings stand in a list, by the day and by the month", async () => {
  await owner.goto("/board");
  await owner.getByRole("link", { name: "as a list" }).click();
  await expect(owner.getByRole("link", { name: "as a board" })).toBeVisible();
  // Each day has a table of its own; which day the run fell on depends on when this is tried.
  await expect(owner.getByRole("main")).toContainText(PART);
  await expectAccessible(owner);
  for (const view of ["day", "month"]) {
    await owner.goto(`/board?view=${view}`);
    await expectAccessible(owner);
  }
});
