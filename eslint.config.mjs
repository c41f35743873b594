import nextVitals from "eslint-config-next/core-web-vitals";
import nextTypeScript from "eslint-config-next/typescript";
import prettier from "eslint-config-prettier/flat";
import { defineConfig, globalIgnores } from "eslint/config";
import typescript from "typescript-eslint";

/** Long code is hard to hold in the head: a file, a function and a component each have their limit. */
const limit = (max) => ({ max, skipBlankLines: true, skipComments: true });

const SOURCES = ["app/**/*.{ts,tsx}", "lib/**/*.{ts,tsx}", "prisma/**/*.ts"];
const TYPED_TESTS = ["**/*.test.ts", "test/**/*.ts", "e2e/**/*.ts"];
const TESTS = ["**/*.test.{ts,tsx}", "test/**/*.{ts,mjs}", "e2e/**/*.ts"];

export default defineConfig(
  globalIgnores([
    ".next/",
    ".data/",
    "coverage/",
    "playwright-report/",
    "test-results/",
    "lib/data/generated/",
    "next-env.d.ts",
    "lib/field/assembly/*.ts", // AssemblyScript: its own compiler checks it, see kernels.test.ts
    "test/architecture/planted/", // violations on purpose: test/architecture lints them itself
  ]),
  // A rule is changed here, where it is seen, never switched off in passing.
  { linterOptions: { noInlineConfig: true, reportUnusedDisableDirectives: "error" } },
  { files: ["app/**/*.{ts,tsx}"], extends: [nextVitals] },
  nextTypeScript,
  {
    files: [...SOURCES, ...TYPED_TESTS],
    languageOptions: {
      parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname },
    },
  },
  {
    // A test that forgets to wait cannot fail. The rest of what types can tell, the compiler tells about tests.
    files: TYPED_TESTS,
    extends: [typescript.configs.strict],
    rules: {
      "@typescript-eslint/no-floating-promises": "error",
      "@typescript-eslint/await-thenable": "error",
    },
  },
  {
    files: SOURCES,
    ignores: ["**/*.test.ts"],
    extends: [typescript.configs.strictTypeChecked],
    rules: {
      // A number reads well in a sentence; everything else is turned into text on purpose.
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true }],
      "@typescript-eslint/no-confusing-void-expression": ["error", { ignoreArrowShorthand: true }],
      // React takes an async function where it does not look at the answer.
      "@typescript-eslint/no-misused-promises": [
        "error",
        { checksVoidReturn: { attributes: false } },
      ],
    },
  },
  {
    files: [...SOURCES, ...TYPED_TESTS],
    rules: {
      "@typescript-eslint/no-explicit-any": "error",
      "@typescript-eslint/consistent-type-imports": [
        "error",
        { fixStyle: "inline-type-imports", disallowTypeAnnotations: false },
      ],
      "@typescript-eslint/no-unused-vars": [
        "error",
        { argsIgnorePattern: "^_", varsIgnorePattern: "^_" },
      ],
    },
  },
  {
    // Loops over typed arrays whose indexes cannot leave them: a check for what cannot be missing would hide the sum.
    files: ["lib/field/**/*.ts"],
    rules: { "@typescript-eslint/no-non-null-assertion": "off" },
  },
  {
    rules: {
      "max-lines": ["error", limit(300)],
      "max-lines-per-function": ["error", limit(50)],
      complexity: ["error", 12],
      eqeqeq: "error",
    },
  },
  {
    // In markup every `?? ""` of a form's first values counts as a branch.
    files: ["**/*.tsx"],
    rules: { "max-lines-per-function": ["error", limit(150)], complexity: ["error", 25] },
  },
  {
    // A `describe` is one function, and a table of cases may be long.
    files: TESTS,
    rules: { "max-lines": "off", "max-lines-per-function": "off", complexity: "off" },
  },
  { files: ["**/*.cjs"], rules: { "@typescript-eslint/no-require-imports": "off" } },
  prettier,
);
