import { PrismaPg } from "@prisma/adapter-pg";
import { Pool } from "pg";
import { PrismaClient } from "./generated/client";
import { asRefusal } from "./errors";

type TransactionClient = Parameters<Parameters<PrismaClient["$transaction"]>[0]>[0];

/** The database, or one transaction on it. Every query of this folder takes one as its first argument. */
export type Db = TransactionClient;

/** Connections a process may hold; a shop's few people and the worker stay far below it. */
const POOL_SIZE = 20;

type Connection = { readonly prisma: PrismaClient; readonly pool: Pool };

// Kept on globalThis so that the development server's reloads do not open a new pool each time.
const kept = globalThis as typeof globalThis & { ironbathConnection?: Connection };

function connect(): Connection {
  const connectionString = process.env["DATABASE_URL"];
  if (!connectionString) {
    throw new Error(
      "DATABASE_URL is not set: start the shop with `npm start`, or name a database.",
    );
  }
  const pool = new Pool({ connectionString, max: POOL_SIZE });
  // An idle connection that the server closes must not end the process; the next query opens a new one.
  pool.on("error", () => undefined);
  return { pool, prisma: new PrismaClient({ adapter: new PrismaPg(pool) }) };
}

function connection(): Connection {
  return (kept.ironbathConnection ??= connect());
}

/** The shop's database, connected on first use. */
export function database(): PrismaClient {
  return connection().prisma;
}

/** The pool beneath, for the few things that speak SQL alone: the rate limiter and LISTEN. */
export function databasePool(): Pool {
  return connection().pool;
}

/** Closes every connection; the next use opens them again. */
export async function disconnect(): Promise<void> {
  const open = kept.ironbathConnection;
  delete kept.ironbathConnection;
  await open?.prisma.$disconnect();
  if (open && !open.pool.ended) await open.pool.end();
}

/** Hundreds may press one button at the same moment: each waits for its turn, and is then told how it stands. */
const LONGEST_WAIT_MS = 60_000;

/**
 * Runs `work` in one transaction: whole or absent.
 *
 * @throws Refusal where a constraint of the database refused it (see errors.ts)
 * @example await inTransaction(async (db) => insertRun(db, run))
 */
export async function inTransaction<T>(work: (db: Db) => Promise<T>): Promise<T> {
  try {
    return await database().$transaction(work, { maxWait: LONGEST_WAIT_MS, timeout: 30_000 });
  } catch (error) {
    throw asRefusal(error);
  }
}

/** Reads outside a transaction, with the same translation of refusals. */
export async function reading<T>(work: (db: Db) => Promise<T>): Promise<T> {
  try {
    return await work(database());
  } catch (error) {
    throw asRefusal(error);
  }
}
