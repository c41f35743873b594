import { RateLimiterPostgres } from "rate-limiter-flexible";
import { databasePool } from "@/lib/data";
import { Refusal } from "@/lib/errors";

type Limit = { readonly tries: number; readonly seconds: number };

/** How often one caller may try each thing. */
const LIMITS = {
  "sign-in": { tries: 8, seconds: 900 },
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

/**
 * Counts one try.
 *
 * @throws Refusal too-many-tries, saying when to come back
 */
export async function countTry(what: Limited, who: string): Promise<void> {
  try {
    await limiterOf(what).consume(who);
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
  await limiterOf(what).delete(who);
}

function millisecondsLeft(rejected: unknown): number {
  if (typeof rejected !== "object" || rejected === null) return 60_000;
  const left: unknown = "msBeforeNext" in rejected ? rejected.msBeforeNext : undefined;
  return typeof left === "number" ? left : 60_000;
}
