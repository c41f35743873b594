import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  insertTank,
  inTransaction,
  listLiveRuns,
  lockTank,
  recordAudit,
  setTankRetired,
  type TankDescription,
  type TankRow,
  updateTank,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { checkShape, volumeAt } from "@/lib/tanks";
import { millimetres } from "@/lib/units";
import { sensible } from "../sensible";
import { tankShape } from "./shape";

/**
 * Adds a tank; it starts drained, without an anode.
 *
 * @returns its id
 * @throws Refusal not-allowed | invalid | conflict (another tank has the name)
 */
export async function addTank(actor: Actor, tank: TankDescription, now: Date): Promise<string> {
  requirePermission(actor, "set-up-tanks");
  checkTank(tank);
  return inTransaction(async (db) => {
    const id = await insertTank(db, tank, now);
    await audit(db, actor, now, "tank.added", id, tank.name);
    return id;
  });
}

/**
 * Changes what is said about a tank. Its shape stays as it is while a bath is in it: the level would no longer
 * tell the litres that were mixed.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict
 */
export async function changeTank(
  actor: Actor,
  tankId: string,
  tank: TankDescription,
  now: Date,
): Promise<void> {
  requirePermission(actor, "set-up-tanks");
  checkTank(tank);
  await inTransaction(async (db) => {
    const before = await requireTank(db, tankId);
    const sameShape = JSON.stringify(tankShape(before)) === JSON.stringify(tankShape(tank));
    if (before.bath && !sameShape) {
      throw new Refusal(
        "conflict",
        "The measures cannot change while a bath is in the tank: its litres were worked out from them. Dispose of the bath first.",
      );
    }
    await updateTank(db, tankId, tank);
    await audit(db, actor, now, "tank.changed", tankId, tank.name);
  });
}

/**
 * Takes a drained tank without bookings out of use; its history stays.
 *
 * @throws Refusal not-allowed | not-found | conflict
 */
export async function retireTank(actor: Actor, tankId: string, now: Date): Promise<void> {
  requirePermission(actor, "set-up-tanks");
  await inTransaction(async (db) => {
    const tank = await requireTank(db, tankId);
    if (tank.bath) {
      throw new Refusal("conflict", "A bath is still in this tank. Dispose of it first.");
    }
    if ((await listLiveRuns(db, tankId)).length > 0) {
      throw new Refusal("conflict", "Loads are booked for this tank. Move or cancel them first.");
    }
    await setTankRetired(db, tankId, now);
    await audit(db, actor, now, "tank.retired", tankId, tank.name);
  });
}

/** Puts a retired tank back in use. @throws Refusal not-allowed | not-found */
export async function bringBackTank(actor: Actor, tankId: string, now: Date): Promise<void> {
  requirePermission(actor, "set-up-tanks");
  await inTransaction(async (db) => {
    const tank = await requireTank(db, tankId);
    await setTankRetired(db, tankId, null);
    await audit(db, actor, now, "tank.brought-back", tankId, tank.name);
  });
}

/** The tank, locked to the end of the transaction. @throws Refusal not-found */
export async function requireTank(db: Db, tankId: string): Promise<TankRow> {
  const tank = await lockTank(db, tankId);
  if (!tank) throw new Refusal("not-found", "This tank is not in the shop.");
  return tank;
}

function checkTank(tank: TankDescription): void {
  const fields: Record<string, string> = {};
  if (tank.name.trim() === "") fields["name"] = "Give it a name people say.";
  if (!(tank.workingLevelMm > 0 && tank.workingLevelMm < tank.depthMm)) {
    fields["workingLevelMm"] = "Above the floor and below the rim.";
  }
  if (!(tank.clearanceMm >= 0)) fields["clearanceMm"] = "0 or more.";
  if (!(tank.leadLengthM > 0)) fields["leadLengthM"] = "More than 0.";
  if (!(tank.leadAreaMm2 > 0)) fields["leadAreaMm2"] = "More than 0.";
  if (!(tank.contactOhm >= 0)) fields["contactOhm"] = "0 or more.";
  if (Object.keys(fields).length > 0) {
    throw new Refusal("invalid", "Some of this does not fit together yet.", fields);
  }
  sensible(() => {
    checkShape(tankShape(tank));
    volumeAt(tankShape(tank), millimetres(tank.workingLevelMm));
  });
}

async function audit(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  subjectId: string,
  name: string,
): Promise<void> {
  await recordAudit(db, { actor, at, action, subjectType: "tank", subjectId, detail: { name } });
}
