/**
 * The one file that knows the shape of the driver's errors. It matches stable codes only;
 * test/integration/driver-errors.test.ts pins the shapes on a real database.
 */
import { isRefusal, Refusal, type RefusalCode } from "@/lib/errors";

type DriverCause = {
  readonly originalCode?: string;
  readonly code?: string;
  readonly originalMessage?: string;
  readonly message?: string;
  readonly constraint?: { readonly index?: string; readonly fields?: readonly string[] };
};

/** Constraints a person can run into, and what to tell them. */
const BY_CONSTRAINT: Readonly<Record<string, readonly [RefusalCode, string]>> = {
  run_tank_free: [
    "tank-busy",
    "That tank is already booked in this time. Choose another time or another tank.",
  ],
  run_one_running_a_tank: [
    "tank-busy",
    "A load is still in that tank. Pull it before you load the next.",
  ],
  run_beside_hold: [
    "tank-busy",
    "Other work is booked on that tank in this time: a change of bath or anode, or maintenance. Choose another time.",
  ],
  part_in_one_place: [
    "conflict",
    "The other end of a part of this load is in a tank then. Choose a time before or after it.",
  ],
  run_within_supply: [
    "supply-full",
    "Other loads on the same supply draw current in this time: together they would ask for more than it gives all day. Choose another time, or a tank on another supply.",
  ],
  run_within_anode: [
    "conflict",
    "By then the tank's anode is due for replacement. Book its replacement first, or choose an earlier time or another tank.",
  ],
  run_within_bath: [
    "conflict",
    "By then the tank's bath is spent. Book a bath change first, or choose an earlier time or another tank.",
  ],
  supply_carries_bookings: [
    "conflict",
    "More is booked on this supply than it would then give all day. Move or cancel those runs first.",
  ],
  tank_hold_apart: ["tank-busy", "Other work on that tank is booked in this time already."],
  hold_beside_runs: ["tank-busy", "A load is booked in that tank in this time. Move it first."],
  lot_value: [
    "conflict",
    "What is left of this delivery would be worth less than nothing. Correct what was taken from it since first.",
  ],
  ledger_entry_corrects_id_key: [
    "conflict",
    "This line was corrected already. Open the item again.",
  ],
  leak_patch_is_dry: [
    "conflict",
    "Epoxy holds on dry walls only. Pull the load and dispose of the bath first.",
  ],
  bath_beside_patch: [
    "conflict",
    "A patch in this tank has not set yet. Fill it when it has: the tank's page says when.",
  ],
  run_beside_patch: [
    "conflict",
    "A patch in this tank has not set yet. Load it when it has: the tank's page says when.",
  ],
  offcut_within_lot: [
    "conflict",
    "The offcuts would be longer than what the ledger says of this delivery. Count what is there first.",
  ],
  lot_amounts: ["not-enough-stock", "There is not enough of it in stock for this."],
  supplier_name_once: ["conflict", "Another supplier of goods already has this name."],
  purchase_order_one_draft: [
    "conflict",
    "There is a newer list for this supplier that is not ordered yet. Order or cancel that one first.",
  ],
  purchase_order_steps: [
    "conflict",
    "Somebody else changed this list a moment ago. Open it again.",
  ],
  purchase_order_come: ["conflict", "Some of this order has come in already."],
  purchase_line_of_draft: ["conflict", "This list is ordered already. Open it again."],
  lot_of_its_line: ["conflict", "This order is not open any more. Open it again."],
  purchase_line_order_id_item_id_key: ["conflict", "This item is on the list already."],
  bath_one_live_a_tank: [
    "conflict",
    "That tank already holds a bath. Dispose of it before you mix a new one.",
  ],
  quote_version_one_live: [
    "conflict",
    "Somebody else changed this quote a moment ago. Open it again.",
  ],
  job_document_one_open: [
    "conflict",
    "This job has a statement already. Credit it whole before you write another.",
  ],
  credit_within_statement: [
    "conflict",
    "More would be credited than is left of the statement. Look at it again.",
  ],
  credit_within_line: [
    "conflict",
    "More would be credited of a line than is left of it. Look at it again.",
  ],
  payment_not_below_zero: ["conflict", "More would go back than was paid for this job."],
  payment_corrects_id_key: ["conflict", "Somebody has taken this entry back already."],
  shop_pkey: ["conflict", "This shop is already open. Sign in."],
  person_email_key: ["conflict", "Somebody with this e-mail address is already here."],
  tank_name_key: ["conflict", "Another tank already has this name."],
  supply_name_key: ["conflict", "Another supply already has this name."],
  item_name_key: ["conflict", "Another item already has this name."],
  rate_card_valid_from_key: ["conflict", "There is already a rate card from this day."],
};

/** Name of the violated constraint or index, where the error carries one. */
export function violatedConstraint(error: unknown): string | undefined {
  const cause = driverCause(error);
  if (!cause) return undefined;
  const text = cause.originalMessage ?? cause.message ?? "";
  return cause.constraint?.index ?? /constraint "([^"]+)"/.exec(text)?.[1];
}

/** PostgreSQL's SQLSTATE, where the error carries one. */
export function sqlState(error: unknown): string | undefined {
  const cause = driverCause(error);
  return cause?.originalCode ?? cause?.code;
}

/** The same error, or the Refusal that stands for it. */
export function asRefusal(error: unknown): unknown {
  if (isRefusal(error)) return error;
  const known = BY_CONSTRAINT[violatedConstraint(error) ?? ""];
  if (known) return new Refusal(known[0], known[1]);
  // Two transactions that would deadlock or that PostgreSQL could not line up: nothing was written.
  if (["40001", "40P01"].includes(sqlState(error) ?? "")) {
    return new Refusal(
      "conflict",
      "Somebody changed the same thing at the same moment. Try again.",
    );
  }
  if (hasCode(error, NO_TURN)) {
    return new Refusal(
      "conflict",
      "So many people are at work at this moment that your turn did not come. Nothing was changed: try again.",
    );
  }
  return error;
}

/** Prisma: no connection became free in time to begin a transaction. */
const NO_TURN = "P2028";

const hasCode = (error: unknown, code: string): boolean =>
  error instanceof Error && "code" in error && error.code === code;

function driverCause(error: unknown): DriverCause | undefined {
  if (!(error instanceof Error)) return undefined;
  const meta: unknown = "meta" in error ? error.meta : undefined;
  const adapterError = property(meta, "driverAdapterError") ?? error;
  const cause = property(adapterError, "cause");
  return typeof cause === "object" && cause !== null ? cause : undefined;
}

function property(value: unknown, name: string): unknown {
  if (typeof value !== "object" || value === null) return undefined;
  return (value as Record<string, unknown>)[name];
}
