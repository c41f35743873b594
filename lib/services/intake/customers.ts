import { type Actor, requirePermission } from "@/lib/access";
import {
  type CustomerDescription,
  type CustomerListRow,
  type CustomerRow,
  findCustomer,
  inTransaction,
  insertCustomer,
  listCustomers,
  reading,
  recordAudit,
  updateCustomer,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
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

/** @returns its id @throws Refusal not-allowed */
export async function addCustomer(
  actor: Actor,
  customer: CustomerDescription,
  now: Date,
): Promise<string> {
  requirePermission(actor, "take-in");
  return inTransaction(async (db) => {
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

/** @throws Refusal not-allowed | not-found */
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
