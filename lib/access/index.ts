/**
 * Who may do what. Fail closed: a role or a permission that is not in the table is refused.
 * Pure: the signed-in person is an argument, never looked up here.
 */
import { Refusal } from "@/lib/errors";

export const ROLES = ["OWNER", "FRONT_DESK", "BENCH"] as const;
export type Role = (typeof ROLES)[number];

/** The signed-in person on whose behalf a service runs. */
export type Actor = {
  readonly personId: string;
  readonly name: string;
  readonly role: Role;
};

export const PERMISSIONS = [
  "see-shop", // every screen of work: jobs, parts, tanks, runs, stock levels
  "take-in", // customers, jobs, parts, photos
  "decide", // verdicts and plans
  "overrule-verdict", // let a part in against the rules, with a reason
  "quote", // write, send and withdraw quotes
  "bill", // write statements and credit notes, enter payments
  "book", // book, move and cancel runs
  "work-runs", // load, read, pull, finish; record labour
  "keep-tanks", // baths, top-ups, anodes, weighings
  "set-up-tanks", // add and change tanks and supplies
  "keep-stock", // receive, take, count, spoil, return, correct
  "see-money", // rates, costs, margins
  "set-rates", // rate cards, taxes
  "set-up-shop", // name, hours, zone, units
  "manage-people", // invite, disable, sign out
  "see-audit",
] as const;
export type Permission = (typeof PERMISSIONS)[number];

const BENCH: readonly Permission[] = [
  "see-shop",
  "take-in",
  "decide",
  "book",
  "work-runs",
  "keep-tanks",
  "keep-stock",
];
const FRONT_DESK: readonly Permission[] = [
  "see-shop",
  "take-in",
  "decide",
  "quote",
  "bill",
  "book",
  "keep-stock",
  "see-money",
];

const GRANTS: ReadonlyMap<Role, ReadonlySet<Permission>> = new Map([
  ["OWNER", new Set<Permission>(PERMISSIONS)],
  ["FRONT_DESK", new Set(FRONT_DESK)],
  ["BENCH", new Set(BENCH)],
]);

/** How a role is written on screens. */
export const ROLE_NAMES: Readonly<Record<Role, string>> = {
  OWNER: "owner",
  FRONT_DESK: "front desk",
  BENCH: "bench",
};

/** The same for whatever a role may turn out to be. */
const roleName = (role: string): string =>
  Object.entries(ROLE_NAMES).find(([known]) => known === role)?.[1] ?? "unknown";

/**
 * Whether this person may do this. Unknown roles and permissions are refused.
 *
 * @example may({ personId: "1", name: "Ada", role: "BENCH" }, "set-rates") // false
 */
export function may(actor: Pick<Actor, "role">, permission: Permission): boolean {
  return GRANTS.get(actor.role)?.has(permission) ?? false;
}

/**
 * Refuses unless the person may do this. Every service calls it first.
 *
 * @throws Refusal not-allowed, naming the permission
 */
export function requirePermission(actor: Actor, permission: Permission): void {
  if (!may(actor, permission)) {
    throw new Refusal(
      "not-allowed",
      `Your role (${roleName(actor.role)}) may not do this: it needs “${permission}”. Ask the owner.`,
    );
  }
}
