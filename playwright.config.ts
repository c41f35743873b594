import { defineConfig, devices } from "@playwright/test";
import { findBrowser } from "./test/support/browser.mjs";
import { freeLoopbackPort } from "./lib/setup/ports";

// This file is read again in every process of the run; the first one chooses, the others inherit.
const port = (process.env["JOURNEY_PORT"] ??= String(await freeLoopbackPort()));
const executablePath = findBrowser();

export default defineConfig({
  testDir: "e2e",
  globalSetup: "./e2e/support/global-setup.ts",
  outputDir: "test-results",
  // The journeys share one shop, as its people do: they run one after the other, in the order of their names.
  workers: 1,
  fullyParallel: false,
  forbidOnly: true,
  retries: 0,
  timeout: 180_000,
  expect: { timeout: 15_000 },
  reporter: [["list"]],
  use: {
    ...devices["Desktop Chrome"],
    baseURL: `http://localhost:${port}`,
    trace: "retain-on-failure",
    launchOptions: {
      ...(executablePath ? { executablePath } : {}),
      args: [
        ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
        ...["--disable-gpu", "--disable-quic", "--no-first-run"],
        ...["--disable-background-networking", "--disable-component-update", "--disable-sync"],
      ],
    },
  },
});
