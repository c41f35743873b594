/** The field of a plan: asked for with it, worked out by the service, taken into the next plan; a part's own shape. */
import { expect, type Page, test } from "@playwright/test";
import { expectAccessible } from "./support/accessible";
import { ownBrowser, signIn } from "./support/people";

const PART = "Ash box of a stove";

test.describe.configure({ mode: "serial" });

let owner: Page;
const faults: string[] = [];
let partUrl = "";

test.beforeAll(async ({ browser }) => {
  owner = await ownBrowser(browser, faults);
  await signIn(owner, "nora@example.com");
});

test.afterAll(async () => {
  await owner.context().close();
  expect(faults, "faults in the browser").toEqual([]);
});

test("a plan's field is worked out while one looks on, and the next plan rests on it", async () => {
  await owner.goto("/jobs/new");
  const form = owner.getByRole("form", { name: "Job of a new customer" });
  await form.getByLabel("Name").fill("Casper Wren");
  await form.getByLabel("E-mail").fill("casper@example.org");
  await form.getByRole("button").click();
  await owner.getByLabel("What is it?").fill(PART);
  await owner.getByLabel("open box").check();
  await owner.getByLabel("Length").fill("420");
  await owner.getByLabel("Width").fill("200");
  await owner.getByLabel("Height").fill("180");
  await owner.getByLabel("Wall, bar or rim").fill("2");
  await owner.getByLabel("Made of").selectOption({ label: "mild steel" });
  await owner.getByRole("button", { name: "Take it in and decide" }).click();
  await expect(owner.getByRole("heading", { level: 1, name: PART })).toBeVisible();
  partUrl = owner.url();
  await owner.getByRole("button", { name: "Plan the treatment" }).click();
  await expect(owner.getByText("rest on closed forms")).toBeVisible();
  await expect(owner.getByText(/By the field, stored with the plan/)).toBeVisible({
    timeout: 60_000,
  });
  await expectAccessible(owner);

  await owner.getByRole("button", { name: "Plan with the anode inside" }).click();
  await expect(owner.getByText("Planned with an anode hung inside")).toBeVisible();
  await expect(owner.getByText("rest on the field of this part in this tank")).toBeVisible();
  await expectAccessible(owner);
});

test("the plan is printed for the bench", async () => {
  const sheet = await owner.request.get(`${partUrl}/plan-sheet`);
  expect(sheet.headers()["content-type"]).toBe("application/pdf");
  expect((await sheet.body()).subarray(0, 5).toString()).toBe("%PDF-");
});

test("a part brings its own shape; a file that is none is refused beside the field", async () => {
  await owner.goto(partUrl);
  const shape = owner.locator("#own-shape");
  await shape.getByText("Bring a drawing or a scan of it").click();
  const file = shape.locator("input[type=file]");
  await file.setInputFiles({
    name: "note.stl",
    mimeType: "model/stl",
    buffer: Buffer.from("solid nothing at all"),
  });
  await shape.getByRole("button", { name: "Read the shape" }).click();
  await expect(shape.getByRole("alert").first()).toBeVisible();
  await file.setInputFiles({
    name: "block.stl",
    mimeType: "model/stl",
    buffer: Buffer.from(blockAsText(400, 190, 170)),
  });
  await shape.getByRole("button", { name: "Read the shape" }).click();
  await expect(shape.getByText("block.stl, drawn in mm")).toBeVisible();
  await expectAccessible(owner);
});

/** A closed block, mm, as an STL text file. */
function blockAsText(length: number, width: number, height: number): string {
  const corner = (index: number): string =>
    [index & 1 ? length : 0, index & 2 ? width : 0, index & 4 ? height : 0].join(" ");
  // Outwards, two triangles a side.
  const sides = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ] as const;
  const facet = (corners: readonly number[]): string =>
    `facet normal 0 0 0\nouter loop\n${corners.map((at) => `vertex ${corner(at)}`).join("\n")}\nendloop\nendfacet`;
  const triangles = sides.flatMap(([a, b, c, d]) => [facet([a, b, c]), facet([a, c, d])]);
  return `solid block\n${triangles.join("\n")}\nendsolid block\n`;
}
