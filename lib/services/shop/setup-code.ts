import { createHash, randomInt } from "node:crypto";
import { findShop, inTransaction, keepSetupCode } from "@/lib/data";

/** No letters or digits that are mistaken for each other when read from a terminal. */
const ALPHABET = "ABCDEFGHJKMNPQRSTUVWXYZ23456789";
const GROUPS = 3;
const GROUP_LENGTH = 4;

/** The code as it is kept: case and separators do not count. */
export function hashSetupCode(code: string): string {
  const plain = code.toUpperCase().replace(/[^A-Z0-9]/g, "");
  return createHash("sha256").update(plain).digest("hex");
}

/**
 * A new one-time code for the first visit, while no shop is open; the one before stops working.
 *
 * @returns the code to print, or undefined once the shop is open
 * @example await createSetupCode(new Date()) // "K7QM-2XWD-PR9T"
 */
export async function createSetupCode(now: Date): Promise<string | undefined> {
  return inTransaction(async (db) => {
    if (await findShop(db)) return undefined;
    const code = Array.from({ length: GROUPS }, randomGroup).join("-");
    await keepSetupCode(db, hashSetupCode(code), now);
    return code;
  });
}

function randomGroup(): string {
  return Array.from({ length: GROUP_LENGTH }, () =>
    ALPHABET.charAt(randomInt(ALPHABET.length)),
  ).join("");
}
