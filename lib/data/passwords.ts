/** How a password is kept: argon2id, as OWASP's cheat sheet advises (19 MiB, two passes; from memory). */
import { hash, verify } from "@node-rs/argon2";

const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;

/** Hash of no password, verified when the e-mail is unknown so that both answers take as long. */
let nobodysHash: Promise<string> | undefined;

export async function hashPassword(password: string): Promise<string> {
  return hash(password, COST);
}

/**
 * Whether the password is the one that was hashed.
 *
 * @param kept the stored hash, or null where there is no such person
 */
export async function passwordMatches(kept: string | null, password: string): Promise<boolean> {
  nobodysHash ??= hashPassword("no person has this password");
  const known = kept?.startsWith("$argon2id$") ? kept : null;
  const right = await verify(known ?? (await nobodysHash), password);
  return right && known !== null;
}
