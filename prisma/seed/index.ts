/**
 * The example shop: an invented shop with invented customers, parts and prices, six months of plausible
 * history up to the present moment, and tanks of several shapes. Never loaded by a migration: only when the
 * owner chooses it on the first visit.
 */
import { type Db, type ExampleRows, insertExampleRows, noExampleRows } from "@/lib/data";
import { fillTank, weighAnode } from "./baths";
import { addBilling } from "./billing";
import { addOpeningHours, DAY, HOUR, nextOpen, nextOpenWithRoom, onQuarter } from "./calendar";
import { CUSTOMERS } from "./catalogue";
import { addJobs } from "./jobs";
import { workingVolumeL } from "./planning";
import { addPurchasing } from "./purchasing";
import { random } from "./random";
import { addRates } from "./rates";
import { addSteelAndEpoxy } from "./steel";
import { addShelfChecks } from "./shelf-checks";
import { openStockroom } from "./stockroom";
import { addVessels } from "./vessels";
import { HISTORY_DAYS, type TankInUse, type World } from "./world";

/** One stream of chance for every example shop. */
const SEED = 20_261_125;

export type ExampleShop = {
  readonly now: Date;
  readonly timeZone: string;
  readonly currency: string;
  readonly shopName: string;
  readonly ownerId: string;
};

/**
 * Writes the example shop, inside the transaction that opens the shop.
 *
 * @example await loadExampleShop(db, { now, timeZone: "Europe/Dublin", currency: "EUR", shopName: "Trough & Anode", ownerId })
 */
export async function loadExampleShop(db: Db, shop: ExampleShop): Promise<void> {
  await insertExampleRows(db, exampleRows(shop));
}

/** The rows of the example shop: the same for the same moment. */
export function exampleRows(shop: ExampleShop): ExampleRows {
  const rows = noExampleRows();
  const chance = random(SEED);
  const from = new Date(shop.now.getTime() - HISTORY_DAYS * DAY);
  const people = addPeople(rows, shop.ownerId, from, chance.uuid);
  addOpeningHours(rows);
  addRates(rows, from);
  const stockroom = openStockroom(rows, chance, { from, now: shop.now, ownerId: shop.ownerId });
  // A stream of chance of its own, so that the rest of the example is as it would be without.
  addPurchasing(rows, random(SEED + 1), { now: shop.now, from, people });
  const beginning = {
    rows,
    chance,
    now: shop.now,
    from,
    zone: shop.timeZone,
    currency: shop.currency,
    people,
    stockroom,
  };
  const tanks = addVessels(rows, chance, from).map((tank) =>
    fillTank(beginning, tank, workingVolumeL(tank, rows.levelMarks)),
  );
  const world: World = { ...beginning, tanks };
  addJobs(world, addCustomers(world));
  for (const tank of tanks) {
    weighAnode(world, tank, lastOpenBefore(world, 5));
    careFor(world, tank);
  }
  addWork(world);
  addSteelAndEpoxy(world);
  addBilling(world, shop.shopName);
  addShelfChecks(world);
  return rows;
}

/** Work ahead on two tanks, once what is booked in them is out. */
function addWork({ rows, chance, zone, people, tanks, now }: World): void {
  const kinds = [
    { kind: "BATH_CHANGE", hours: 2, note: "Sludge out, mix anew" },
    { kind: "ANODE_CHANGE", hours: 1, note: "New sheet is cut" },
  ] as const;
  for (const [index, { kind, hours, note }] of kinds.entries()) {
    const tank = tanks[index];
    if (!tank) continue;
    const free = new Date(Math.max(tank.freeFrom.getTime(), now.getTime()) + DAY);
    const startsAt = onQuarter(nextOpenWithRoom(zone, free, 60 * hours + 15));
    rows.holds.push({
      id: chance.uuid(),
      tankId: tank.tank.id,
      kind,
      startsAt,
      endsAt: new Date(startsAt.getTime() + hours * HOUR),
      note,
      createdById: people.benchId,
      idempotencyKey: chance.uuid(),
    });
  }
}

function addPeople(rows: ExampleRows, ownerId: string, from: Date, uuid: () => string) {
  const staff = [
    { name: "Wilma Harkness", email: "desk@example.com", role: "FRONT_DESK" },
    { name: "Piet Olander", email: "bench@example.com", role: "BENCH" },
  ] as const;
  const [deskId, benchId] = staff.map((person) => {
    const id = uuid();
    // Nobody can sign in as an invented person: disabled, and no password has this hash.
    rows.people.push({ ...person, id, passwordHash: "!", createdAt: from, disabledAt: from });
    return id;
  });
  return { ownerId, deskId: deskId ?? ownerId, benchId: benchId ?? ownerId };
}

function addCustomers(world: World): string[] {
  return CUSTOMERS.map((customer) => {
    const id = world.chance.uuid();
    world.rows.customers.push({ ...customer, id, createdAt: world.from });
    return id;
  });
}

/** Some open moment so many days back. */
function lastOpenBefore(world: World, days: number): Date {
  const at = nextOpen(world.zone, new Date(world.now.getTime() - days * DAY));
  return at < world.now ? at : world.now;
}

/** What the bench last did to keep a tank in order: sludge with the bath, clamps weekly, the anode when it was weighed. */
function careFor(world: World, tank: TankInUse): void {
  const done = [
    { kind: "SLUDGE_OUT", at: tank.bath.mixedAt },
    { kind: "CLAMPS", at: lastOpenBefore(world, 8) },
    { kind: "ANODE_BRUSHED", at: lastOpenBefore(world, 5) },
  ] as const;
  for (const { kind, at } of done) {
    world.rows.care.push({
      id: world.chance.uuid(),
      tankId: tank.tank.id,
      kind,
      at,
      doneById: world.people.benchId,
      idempotencyKey: world.chance.uuid(),
    });
  }
}
