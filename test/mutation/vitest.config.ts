import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

/** What mutation testing runs: the tests of the pure calculations, without the slow simulated shops and faults. */
const root = fileURLToPath(new URL("../..", import.meta.url)).replace(/\/$/, "");

export default defineConfig({
  root,
  resolve: { alias: { "@": root } },
  test: {
    // A run beside others on a busy machine; what hangs is found by the mutation run itself.
    testTimeout: 60_000,
    include: [
      "lib/{electrolysis,tanks,treatment,diagnosis,learning}/**/*.test.ts",
      "test/reference/**/*.test.ts",
    ],
    exclude: [
      "lib/diagnosis/trial.test.ts",
      "lib/learning/simulation.test.ts",
      "test/reference/{csv,money,quote-pdf,iso-weeks,stock-valuation}.test.ts",
    ],
  },
});
