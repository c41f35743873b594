/** WCAG 2.2 AA by axe, and no sideways scrolling at phone width. */
import AxeBuilder from "@axe-core/playwright";
import { expect, type Page } from "@playwright/test";

const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
const DESK = { width: 1280, height: 900 };
const PHONE = { width: 390, height: 844 };

/**
 * Bookings on the board are as long as they last: two hours in a month are less than 24 px, and what follows them begins
 * there. Their size alone is let pass; "as a list" has every one of them at full size (WCAG 2.5.8, equivalent control).
 */
const DRAWN_TO_SCALE = /data-(run|hold|slot)=/;

/** Checks the screen as it stands, at desk and at phone width. */
export async function expectAccessible(page: Page): Promise<void> {
  for (const size of [PHONE, DESK]) {
    await page.setViewportSize(size);
    const { violations } = await new AxeBuilder({ page }).withTags(TAGS).analyze();
    const found = violations.flatMap(({ id, nodes }) =>
      nodes
        .filter(({ html }) => !(id === "target-size" && DRAWN_TO_SCALE.test(html)))
        .map(({ html }) => `${id}: ${html}`),
    );
    expect(found, `${page.url()} at ${size.width} px`).toEqual([]);
    const overflow = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(overflow, `${page.url()} scrolls sideways at ${size.width} px`).toBeLessThanOrEqual(0);
  }
}
