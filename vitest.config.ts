import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

const root = fileURLToPath(new URL(".", import.meta.url));

export default defineConfig({
  resolve: { alias: { "@": root.replace(/\/$/, "") } },
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          include: [
            "lib/**/*.test.ts",
            "app/**/*.test.ts",
            "test/reference/**/*.test.ts",
            "test/architecture/**/*.test.ts",
          ],
          // Solving a bath takes seconds on a busy machine.
          testTimeout: 20_000,
        },
      },
      {
        extends: true,
        test: {
          name: "integration",
          include: ["test/integration/**/*.test.ts"],
          globalSetup: ["test/support/server.ts"],
          setupFiles: ["test/support/database.ts"],
          maxWorkers: 2,
          testTimeout: 30_000,
          hookTimeout: 60_000,
        },
      },
    ],
  },
});
