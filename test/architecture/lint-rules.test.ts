/** The limits that eslint keeps, each with a violation planted in `planted/lint` that it must catch as an error. */
import { readFileSync } from "node:fs";
import { ESLint } from "eslint";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const PROJECT = fileURLToPath(new URL("../..", import.meta.url));

/** Fixtures are linted as if they lay among the sources, where the rules that need types find their project. */
const AMONG_SOURCES = "lib/units/index.ts";
const AMONG_SCREENS = "app/layout.tsx";

const eslint = new ESLint({ cwd: PROJECT });

/** Names of the rules that a planted file breaks, errors only. */
async function errorsIn(planted: string): Promise<readonly (string | null)[]> {
  const file = fileURLToPath(new URL(`planted/lint/${planted}`, import.meta.url));
  const [result] = await eslint.lintText(readFileSync(file, "utf8"), {
    filePath: `${PROJECT}${planted.endsWith(".tsx") ? AMONG_SCREENS : AMONG_SOURCES}`,
  });
  const messages = result?.messages ?? [];
  return messages.filter((message) => message.severity === 2).map((message) => message.ruleId);
}

describe("the lint rules", () => {
  it.each([
    ["plants-any.ts", "@typescript-eslint/no-explicit-any"],
    ["plants-switched-off.ts", "@typescript-eslint/no-explicit-any"],
    ["plants-floating-promise.ts", "@typescript-eslint/no-floating-promises"],
    ["plants-long-file.ts", "max-lines"],
    ["plants-long-function.ts", "max-lines-per-function"],
    ["plants-long-component.tsx", "max-lines-per-function"],
    ["plants-complexity.ts", "complexity"],
  ])(
    "%s is caught by %s",
    async (planted, rule) => {
      expect(await errorsIn(planted)).toContain(rule);
    },
    120_000,
  );
});
