import type { Db } from "./client";

export type CustomerDescription = {
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly address: string;
  readonly notes: string;
  /** tax rule of the shop's rate card under which this customer is charged; empty or left out: the usual one */
  readonly taxCode?: string;
};
export type CustomerRow = Required<CustomerDescription> & {
  readonly id: string;
  readonly createdAt: Date;
};

export type CustomerListRow = Pick<CustomerRow, "id" | "name" | "email" | "phone"> & {
  readonly jobs: number;
  readonly openJobs: number;
};

/** Customers by name whose name, e-mail or telephone holds `search`; one page. */
export async function listCustomers(
  db: Db,
  list: { readonly search: string; readonly skip: number; readonly take: number },
): Promise<{ rows: readonly CustomerListRow[]; total: number }> {
  const holds = { contains: list.search, mode: "insensitive" } as const;
  const where = list.search ? { OR: [{ name: holds }, { email: holds }, { phone: holds }] } : {};
  const [rows, total] = await Promise.all([
    db.customer.findMany({
      where,
      orderBy: [{ name: "asc" }, { id: "asc" }],
      skip: list.skip,
      take: list.take,
      select: {
        id: true,
        name: true,
        email: true,
        phone: true,
        jobs: { select: { state: true } },
      },
    }),
    db.customer.count({ where }),
  ]);
  return {
    total,
    rows: rows.map(({ jobs, ...customer }) => ({
      ...customer,
      jobs: jobs.length,
      openJobs: jobs.filter(({ state }) => state === "OPEN").length,
    })),
  };
}

/** The customer, or null where there is none. */
export async function findCustomer(db: Db, id: string): Promise<CustomerRow | null> {
  return db.customer.findUnique({ where: { id } });
}

/** @returns its id */
export async function insertCustomer(
  db: Db,
  customer: CustomerDescription,
  createdAt: Date,
): Promise<string> {
  const row = await db.customer.create({ data: { ...customer, createdAt }, select: { id: true } });
  return row.id;
}

/** Writes what is said of a customer who is there. */
export async function updateCustomer(
  db: Db,
  id: string,
  customer: CustomerDescription,
): Promise<void> {
  await db.customer.update({ where: { id }, data: customer });
}
