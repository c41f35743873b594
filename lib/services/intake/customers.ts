import { type Actor, requirePermission } from "@/lib/access";
import {
  type CustomerDescription,
  type CustomerListRow,
  type CustomerRow,
  type Db,
  findCustomer,
  inTransaction,
  insertCustomer,
  listCustomers,
  rateCardOn,
  reading,
  recordAudit,
  updateCustomer,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import type { TaxRule } from "@/lib/pricing";
import { calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { type Paged, pageOf, searchTerm } from "../paging";

/** Customers by name, searched and paged. @throws Refusal not-allowed */
export async function customerList(
  actor: Actor,
  list: { readonly search: string; readonly page: number },
): Promise<Paged<CustomerListRow>> {
  requirePermission(actor, "see-shop");
  const search = searchTerm(list.search);
  return pageOf(list.page, (skip, take) =>
    reading((db) => listCustomers(db, { search, skip, take })),
  );
}

/** @throws Refusal not-allowed | not-found */
export async function customerById(actor: Actor, id: string): Promise<CustomerRow> {
  requirePermission(actor, "see-shop");
  const customer = await reading((db) => findCustomer(db, id));
  if (!customer) throw new Refusal("not-found", "There is no such customer.");
  return customer;
}

/** Ways of taxing that a customer can be charged under, by the card in force today. @throws Refusal not-allowed */
export async function taxChoices(actor: Actor, now: Date): Promise<readonly TaxRule[]> {
  requirePermission(actor, "see-shop");
  return reading((db) => rulesToday(db, now));
}

async function rulesToday(db: Db, now: Date): Promise<readonly TaxRule[]> {
  const { timeZone } = await requireShop(db);
  return (await rateCardOn(db, calendarDay(now, timeZone)))?.taxRules ?? [];
}

async function checkTaxCode(db: Db, { taxCode }: CustomerDescription, now: Date): Promise<void> {
  if (!taxCode || (await rulesToday(db, now)).some(({ code }) => code === taxCode)) return;
  throw new Refusal("invalid", "The rates know no such way of taxing.", {
    taxCode: "Choose one of those offered.",
  });
}

/** @returns its id @throws Refusal not-allowed | invalid (a way of taxing that the rates do not have) */
export async function addCustomer(
  actor: Actor,
  customer: CustomerDescription,
  now: Date,
): Promise<string> {
  requirePermission(actor, "take-in");
  return inTransaction(async (db) => {
    await checkTaxCode(db, customer, now);
    const id = await insertCustomer(db, customer, now);
    await recordAudit(db, {
      actor,
      at: now,
      action: "customer.added",
      subjectType: "customer",
      subjectId: id,
    });
    return id;
  });
}

/** @throws Refusal not-allowed | not-found | invalid */
export async function changeCustomer(
  actor: Actor,
  id: string,
  customer: CustomerDescription,
  now: Date,
): Promise<void> {
  requirePermission(actor, "take-in");
  await inTransaction(async (db) => {
    if (!(await findCustomer(db, id))) {
      throw new Refusal("not-found", "There is no such customer.");
    }
    await checkTaxCode(db, customer, now);
    await updateCustomer(db, id, customer);
    await recordAudit(db, {
      actor,
      at: now,
      action: "customer.changed",
      subjectType: "customer",
      subjectId: id,
    });
  });
}
