/** The only code that knows Prisma and pg. Area files are added here, one line each. */
export * from "./audit";
export { type Db, databasePool, disconnect, inTransaction, reading } from "./client";
export * from "./counters";
export { sqlState, violatedConstraint } from "./errors";
export { type ExampleRows, insertExampleRows, noExampleRows } from "./example";
export * from "./upkeep";
