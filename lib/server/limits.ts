import { createHash } from "node:crypto";
import { RateLimiterPostgres } from "rate-limiter-flexible";
import { databasePool } from "@/lib/data";
import { Refusal } from "@/lib/errors";

type Limit = { readonly tries: number; readonly seconds: number };

/**
 * How often one caller may try each thing. Signing in counts twice: few tries from one address, and no more than
 * `sign-in-anywhere` at one e-mail whatever the address, which the caller may make up where no proxy sets it.
 */
const LIMITS = {
  "sign-in": { tries: 8, seconds: 900 },
  "sign-in-anywhere": { tries: 30, seconds: 900 },
  "own-password": { tries: 8, seconds: 900 },
  "setup-code": { tries: 10, seconds: 900 },
  "private-link": { tries: 60, seconds: 60 },
} as const satisfies Record<string, Limit>;

export type Limited = keyof typeof LIMITS;

const limiters = new Map<Limited, RateLimiterPostgres>();

/** Counted in the database, so that every server counts together. */
function limiterOf(what: Limited): RateLimiterPostgres {
  const known = limiters.get(what);
  if (known) return known;
  const limiter = new RateLimiterPostgres({
    storeClient: databasePool(),
    tableName: "rate_limit",
    tableCreated: true,
    keyPrefix: what,
    points: LIMITS[what].tries,
    duration: LIMITS[what].seconds,
  });
  limiters.set(what, limiter);
  return limiter;
}

/** A key of one length, which neither keeps an e-mail address nor grows with what somebody sends. */
const keyOf = (who: string): string => createHash("sha256").update(who).digest("base64url");

/**
 * Counts one try.
 *
 * @param who whom it is counted against, of any length
 * @throws Refusal too-many-tries, saying when to come back
 */
export async function countTry(what: Limited, who: string): Promise<void> {
  try {
    await limiterOf(what).consume(keyOf(who));
  } catch (error) {
    if (error instanceof Error) throw error;
    const wait = Math.ceil(millisecondsLeft(error) / 60_000);
    throw new Refusal(
      "too-many-tries",
      `Too many tries. Wait ${wait} ${wait === 1 ? "minute" : "minutes"} and try again.`,
    );
  }
}

/** Forgets the tries after a success. */
export async function forgetTries(what: Limited, who: string): Promise<void> {
  await limiterOf(what).delete(keyOf(who));
}

function millisecondsLeft(rejected: unknown): number {
  if (typeof rejected !== "object" || rejected === null) return 60_000;
  const left: unknown = "msBeforeNext" in rejected ? rejected.msBeforeNext : undefined;
  return typeof left === "number" ? left : 60_000;
}
