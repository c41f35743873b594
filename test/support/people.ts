/** People with known passwords, and the shop they work in, made through the services themselves. */
import type { Actor, Role } from "@/lib/access";
import { database } from "@/lib/data/client";
import { hashPassword } from "@/lib/data";
import { isRefusal, type Refusal } from "@/lib/errors";
import { createSetupCode, type NewShop, openShop } from "@/lib/services/shop";

/** A Monday morning. */
export const MONDAY = new Date("2030-01-07T09:00:00Z");
export const MINUTE_MS = 60_000;
export const DAY_MS = 86_400_000;

/** The moment so long after `from`. */
export const later = (milliseconds: number, from = MONDAY): Date =>
  new Date(from.getTime() + milliseconds);

export const PASSWORD = "four quiet iron words";

/** Everything the first visitor enters; the code is whatever the terminal printed. */
export const newShop = (setupCode: string, change: Partial<NewShop> = {}): NewShop => ({
  setupCode,
  ownerName: "Ada Owner",
  ownerEmail: "ada@example.org",
  password: PASSWORD,
  shopName: "Trough & Anode",
  timeZone: "Europe/Dublin",
  currency: "EUR",
  locale: "en-IE",
  unitSystem: "METRIC",
  contents: "EMPTY",
  ...change,
});

/** Opens an empty shop on MONDAY. @returns its owner */
export async function openEmptyShop(): Promise<Actor> {
  const code = (await createSetupCode(MONDAY)) ?? "";
  await openShop(newShop(code), MONDAY);
  const owner = await database().person.findFirstOrThrow({ where: { role: "OWNER" } });
  return { personId: owner.id, name: owner.name, role: owner.role };
}

let serial = 0;

export type Member = Actor & { readonly email: string };

/** Somebody who can sign in with PASSWORD. */
export async function addMember(role: Role): Promise<Member> {
  serial += 1;
  const email = `member-${serial}@example.org`;
  const passwordHash = await hashPassword(PASSWORD);
  const person = await database().person.create({
    data: { email, name: `Member ${serial}`, role, passwordHash, createdAt: MONDAY },
  });
  return { personId: person.id, name: person.name, role, email };
}

/** What became of simultaneous calls: how many got through, and the refusals. Faults are thrown. */
export async function outcomes(
  calls: readonly Promise<unknown>[],
): Promise<{ done: number; refusals: Refusal[] }> {
  const settled = await Promise.allSettled(calls);
  const refusals: Refusal[] = [];
  for (const one of settled) {
    if (one.status === "fulfilled") continue;
    if (!isRefusal(one.reason)) throw one.reason;
    refusals.push(one.reason);
  }
  return { done: settled.length - refusals.length, refusals };
}
