/**
 * Who may import whom. The tables below are the rules; test/architecture plants a violation of each and asserts
 * that it is caught.
 */
const { existsSync, readdirSync, readFileSync } = require("node:fs");
const { join } = require("node:path");

/** Calculation: no framework, database, clock, randomness or environment. Module → the modules it may import. */
const PURE = {
  errors: [],
  units: ["errors"],
  access: ["errors"],
  money: ["units"],
  electrolysis: ["units"],
  field: ["units", "electrolysis"],
  tanks: ["units", "electrolysis"],
  treatment: ["units", "electrolysis", "field", "tanks"],
  scheduling: ["errors", "units", "tanks"],
  learning: ["units"],
  stock: ["units", "money"],
  pricing: ["units", "money", "electrolysis", "treatment", "stock"],
  diagnosis: ["units", "electrolysis"],
};
const DOMAIN = Object.keys(PURE);

/** Packages that compute and nothing else, by the module that may use them. */
const COMPUTING_PACKAGES = { scheduling: ["temporal-polyfill", "highs"], stock: ["highs"] };

/** Documents are laid out from these; what they are made of stays with its owner, so only types come from there. */
const DOCUMENT_SUBJECTS = ["pricing", "treatment", "scheduling"];

const TESTS = "\\.test\\.tsx?$";
const OWN_CODE = "^(app|lib|prisma|test|e2e)/";
const inLib = (names) => `^lib/(${names.join("|")})/`;
const inPackages = (names) => `(^|/)node_modules/(${names.join("|")})/`;

const forbid = (name, comment, from, to) => ({ name, comment, severity: "error", from, to });

/** Files that run in the browser: those that say so in their first line. */
function clientFiles() {
  if (!existsSync("app")) return [];
  return readdirSync("app", { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name))
    .filter((file) => /^\s*["']use client["']/.test(readFileSync(file, "utf8")))
    .map((file) => `^${file.replaceAll("\\", "/").replace(/[.*+?^${}()|[\]]/g, "\\$&")}$`);
}

const layers = [
  ...DOMAIN.map((name) =>
    forbid(
      `${name}-imports`,
      `lib/${name} is pure calculation; of this project it may import ${PURE[name].join(", ") || "nothing"}.`,
      { path: inLib([name]), pathNot: TESTS },
      { path: OWN_CODE, pathNot: inLib([name, ...PURE[name]]) },
    ),
  ),
  ...DOMAIN.map((name) =>
    forbid(
      `${name}-packages`,
      `lib/${name} is pure calculation; packages that do more than compute stay outside (see COMPUTING_PACKAGES).`,
      { path: inLib([name]), pathNot: TESTS },
      { path: "node_modules/", pathNot: inPackages(COMPUTING_PACKAGES[name] ?? ["none"]) },
    ),
  ),
  forbid(
    "pure-without-node",
    "Pure calculation knows no files, network, randomness or environment: they are arguments.",
    { path: inLib(DOMAIN), pathNot: TESTS },
    { dependencyTypes: ["core"] },
  ),
  forbid(
    "documents-imports",
    "Documents turn data into bytes: they know units, money, and what they print.",
    { path: inLib(["documents"]), pathNot: TESTS },
    { path: OWN_CODE, pathNot: inLib(["documents", "units", "money", ...DOCUMENT_SUBJECTS]) },
  ),
  forbid(
    "documents-types-only",
    "A document shows a result and calculates none: of its subjects it takes the types only.",
    { path: inLib(["documents"]), pathNot: TESTS },
    { path: inLib(DOCUMENT_SUBJECTS), dependencyTypesNot: ["type-only"] },
  ),
  forbid(
    "data-imports",
    "Queries know errors and the domain's types, and nothing that sits on top of them.",
    { path: inLib(["data"]), pathNot: TESTS },
    { path: OWN_CODE, pathNot: inLib(["data", ...DOMAIN]) },
  ),
  forbid(
    "data-types-only",
    "Queries store and load; calculation belongs to services, so only types come from the domain.",
    { path: inLib(["data"]), pathNot: TESTS },
    {
      path: inLib(DOMAIN.filter((name) => name !== "errors")),
      dependencyTypesNot: ["type-only"],
    },
  ),
  forbid(
    "services-imports",
    "A use case stands on the domain, documents, data and the example shop; screens and sessions stand on it.",
    { path: inLib(["services"]), pathNot: TESTS },
    {
      path: OWN_CODE,
      pathNot: `${inLib(["services", "documents", "data", ...DOMAIN])}|^prisma/seed/`,
    },
  ),
  forbid(
    "server-imports",
    "lib/server knows who is signed in and how a form becomes a use case, not which use cases there are.",
    { path: inLib(["server"]), pathNot: TESTS },
    { path: OWN_CODE, pathNot: inLib(["server", "access", "errors", "units", "data"]) },
  ),
  forbid(
    "setup-imports",
    "The start and the worker call use cases; they know no screen.",
    { path: inLib(["setup"]), pathNot: TESTS },
    { path: OWN_CODE, pathNot: inLib(["setup", "services", "data"]) },
  ),
  forbid(
    "app-imports",
    "Screens call use cases; they never query by themselves.",
    { path: "^app/", pathNot: TESTS },
    { path: OWN_CODE, pathNot: `^app/|${inLib(["services", "server", "documents", ...DOMAIN])}` },
  ),
  forbid(
    "client-imports",
    "What runs in the browser knows pure calculation and app/ui; services, data and sessions stay on the server.",
    { path: [...clientFiles(), "^$"], pathNot: TESTS },
    {
      path: inLib(["services", "data", "server", "documents", "setup"]),
      dependencyTypesNot: ["type-only"],
    },
  ),
];

module.exports = {
  forbidden: [
    ...layers,
    forbid(
      "through-the-index",
      "Another module is imported through its index.ts only: what that does not export is the module's own.",
      { path: "^(?:app|prisma|lib/([^/]+))/", pathNot: TESTS },
      // The exact solvers are entrances of their own: behind the index they would be part of what browsers load.
      {
        path: "^lib/[^/]+/",
        pathNot: [
          "^lib/[^/]+/index\\.ts$",
          "^lib/scheduling/solver\\.ts$",
          "^lib/stock/cutting-solver\\.ts$",
          "^lib/$1/",
        ],
      },
    ),
    forbid(
      "no-cycles",
      "Two files that need each other are one file, or three.",
      {},
      {
        circular: true,
      },
    ),
    forbid(
      "database-only-in-data",
      "Prisma and pg are known to lib/data, and to lib/setup, which makes the database.",
      { path: OWN_CODE, pathNot: ["^lib/(data|setup)/", "^(test|e2e)/", TESTS] },
      { path: inPackages(["@prisma", "prisma", "pg"]) },
    ),
    forbid(
      "next-only-in-app-and-server",
      "Next and next-auth are known to app, lib/server, and the process that serves them.",
      { path: OWN_CODE, pathNot: ["^(app|lib/server)/", "^lib/setup/web\\.mjs$"] },
      { path: inPackages(["next", "next-auth"]) },
    ),
    forbid(
      "code-without-tests",
      "What is delivered does not lean on what tests it.",
      { path: "^(app|lib|prisma)/", pathNot: TESTS },
      { path: `^(test|e2e)/|${TESTS}` },
    ),
    forbid("resolvable", "Every import leads somewhere.", {}, { couldNotResolve: true }),
  ],
  options: {
    doNotFollow: { path: "node_modules|^lib/data/generated/" },
    exclude: { path: "^test/architecture/planted/" },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: "tsconfig.json" },
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "node", "default", "types"],
    },
  },
};
