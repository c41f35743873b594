/** WCAG 2.2 AA by axe, and no sideways scrolling at phone width. */
import AxeBuilder from "@axe-core/playwright";
import { expect, type Page } from "@playwright/test";

const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
const DESK = { width: 1280, height: 900 };
const PHONE = { width: 390, height: 844 };

/** Checks the screen as it stands, at desk and at phone width. */
export async function expectAccessible(page: Page): Promise<void> {
  for (const size of [PHONE, DESK]) {
    await page.setViewportSize(size);
    const { violations } = await new AxeBuilder({ page }).withTags(TAGS).analyze();
    const found = violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ""}`);
    expect(found, `${page.url()} at ${size.width} px`).toEqual([]);
    const overflow = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(overflow, `${page.url()} scrolls sideways at ${size.width} px`).toBeLessThanOrEqual(0);
  }
}
