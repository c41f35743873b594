/**
 * A rule that silently stops matching protects nothing: each one has a violation planted in `planted`, a small copy of
 * the project's folders, and must catch it at error level.
 */
import { execFileSync } from "node:child_process";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";

type Rule = { readonly name: string; readonly severity: string };
type Violation = { readonly from: string; readonly rule: Rule };

const PROJECT = fileURLToPath(new URL("../..", import.meta.url));
const PLANTED = fileURLToPath(new URL("planted", import.meta.url));
const CONFIG = `${PROJECT}.dependency-cruiser.cjs`;

const { forbidden } = createRequire(import.meta.url)(CONFIG) as { forbidden: readonly Rule[] };

/** Where each rule's violation is planted, for those that are not named after their module. */
const PLANTED_IN: Readonly<Record<string, string>> = {
  "pure-without-node": "lib/units/plants-node.ts",
  "documents-types-only": "lib/documents/plants-value.ts",
  "data-types-only": "lib/data/plants-value.ts",
  "app-imports": "app/plants-import.tsx",
  "client-imports": "app/plants-client-import.tsx",
  "through-the-index": "lib/services/plants-deep-import.ts",
  "no-cycles": "lib/tanks/plants-cycle.ts",
  "database-only-in-data": "lib/services/plants-database.ts",
  "next-only-in-app-and-server": "lib/services/plants-next.ts",
  "code-without-tests": "lib/stock/plants-test-import.ts",
  resolvable: "lib/stock/plants-unresolvable.ts",
};

/** `money-imports` is planted in lib/money/plants-import.ts, `money-packages` in lib/money/plants-package.ts. */
function plantedIn(rule: string): string {
  const [, module, kind] = /^([a-z]+)-(import|package)s$/.exec(rule) ?? [];
  return PLANTED_IN[rule] ?? `lib/${module ?? "?"}/plants-${kind ?? "?"}.ts`;
}

function violationsOf(cruised: string): readonly Violation[] {
  const answer = JSON.parse(cruised) as { summary: { violations: readonly Violation[] } };
  return answer.summary.violations;
}

let violations: readonly Violation[] = [];

beforeAll(() => {
  const command = `${PROJECT}node_modules/dependency-cruiser/bin/dependency-cruise.mjs`;
  const output = execFileSync(
    process.execPath,
    [command, "app", "lib", "--config", CONFIG, "--output-type", "json"],
    { cwd: PLANTED, encoding: "utf8", maxBuffer: 50_000_000 },
  );
  violations = violationsOf(output);
}, 120_000);

describe("the import rules", () => {
  it.each(forbidden.map((rule) => rule.name))("%s catches its planted violation", (name) => {
    const caught = violations.filter(
      (violation) => violation.rule.name === name && violation.from === plantedIn(name),
    );

    expect(caught.map((violation) => violation.rule.severity)).toContain("error");
  });

  it("let lawful imports through", () => {
    const lawful = violations.filter((violation) => /lawful/.test(violation.from));

    expect(lawful).toEqual([]);
  });
});
