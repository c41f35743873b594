import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  endBath,
  findShop,
  insertBath,
  inTransaction,
  listLiveRuns,
  recordAudit,
  type TankRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { volumeAt } from "@/lib/tanks";
import { millimetres } from "@/lib/units";
import { sensible } from "../sensible";
import { contentsWith, pour, saltOf, type SaltUse } from "./salt";
import { requireTank } from "./set-up";
import { tankShape } from "./shape";

export type NewMix = {
  readonly tankId: string;
  /** mm of water before a part goes in */
  readonly levelMm: number;
  /** null: plain water, to which salt is added later */
  readonly salt: SaltUse | null;
  /** °C; the workshop's where it was not measured */
  readonly temperatureC: number | null;
  readonly idempotencyKey: string;
};

/**
 * Mixes a bath: water to a level, salt out of stock. Of two people who mix in one tank, the unique index on live
 * baths lets one in.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | not-enough-stock
 */
export async function mixBath(actor: Actor, mix: NewMix, now: Date): Promise<void> {
  requirePermission(actor, "keep-tanks");
  await inTransaction(async (db) => {
    const tank = await requireTank(db, mix.tankId);
    if (wasAdded(tank, mix.idempotencyKey)) return;
    checkDrained(tank);
    const volumeL = litresUpTo(tank, mix.levelMm);
    if (volumeL === 0) {
      throw new Refusal("invalid", "Fill in some water.", { levelMm: "Above 0." });
    }
    const salt = mix.salt && (await saltOf(db, mix.salt));
    const temperatureC = mix.temperatureC ?? (await workshopTemperature(db));
    const contents = contentsWith({ carbonateG: 0, bicarbonateG: 0 }, salt, volumeL, temperatureC);
    const bathId = await insertBath(db, {
      tankId: tank.id,
      mixedAt: now,
      volumeL,
      carbonateG: 0,
      bicarbonateG: 0,
      temperatureC,
    });
    const { carbonateMassG: carbonateG, bicarbonateMassG: bicarbonateG } = contents;
    await pour(db, {
      ...{ actor, at: now, tank, bathId, salt },
      id: mix.idempotencyKey,
      waterL: volumeL,
      note: "mixed",
      gained: { volumeL: 0, carbonateG, bicarbonateG },
    });
    await note(db, actor, now, "bath.mixed", tank, { volumeL, saltG: salt?.massG ?? 0 });
  });
}

/** Whether this addition is there already: it carries the caller's key as its own id, read under the tank's lock. */
function wasAdded({ bath }: TankRow, idempotencyKey: string): boolean {
  return bath?.additions.some(({ id }) => id === idempotencyKey) ?? false;
}

function checkDrained({ bath, retiredAt }: TankRow): void {
  if (retiredAt) throw new Refusal("conflict", "This tank is out of use.");
  if (bath) {
    throw new Refusal(
      "conflict",
      "That tank already holds a bath. Dispose of it before you mix a new one.",
    );
  }
}

const litresUpTo = (tank: TankRow, levelMm: number): number =>
  sensible(() => volumeAt(tankShape(tank), millimetres(levelMm)));

/** °C of the workshop; 18 before the shop has said so, as its own setting starts. */
async function workshopTemperature(db: Db): Promise<number> {
  return (await findShop(db))?.workshopTempC ?? 18;
}

export type TopUp = {
  readonly tankId: string;
  /** mm seen now */
  readonly levelBeforeMm: number;
  /** mm after the water, not below `levelBeforeMm` */
  readonly levelAfterMm: number;
  readonly salt: SaltUse | null;
  readonly note: string;
  readonly idempotencyKey: string;
};

/**
 * Tops a bath up with water, salt or both. What evaporated is made good: the bath then holds the litres of the new
 * level. While a run is in the tank, its salt is written on the run.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | not-enough-stock
 */
export async function topUpBath(actor: Actor, topUp: TopUp, now: Date): Promise<void> {
  requirePermission(actor, "keep-tanks");
  await inTransaction(async (db) => {
    const tank = await requireTank(db, topUp.tankId);
    const { bath } = tank;
    if (!bath) throw new Refusal("conflict", "There is no bath in this tank. Mix one.");
    if (wasAdded(tank, topUp.idempotencyKey)) return;
    const { waterL, volumeL } = waterOf(tank, topUp);
    const salt = topUp.salt && (await saltOf(db, topUp.salt));
    if (waterL === 0 && !salt) throw new Refusal("invalid", "Add water, salt, or both.");
    const contents = contentsWith(bath, salt, volumeL, bath.temperatureC);
    await pour(db, {
      ...{ actor, at: now, tank, bathId: bath.id, salt, waterL },
      id: topUp.idempotencyKey,
      note: topUp.note,
      gained: {
        volumeL: volumeL - bath.volumeL,
        carbonateG: contents.carbonateMassG - bath.carbonateG,
        bicarbonateG: contents.bicarbonateMassG - bath.bicarbonateG,
      },
    });
    await note(db, actor, now, "bath.topped-up", tank, { waterL, saltG: salt?.massG ?? 0 });
  });
}

function waterOf(
  tank: TankRow,
  { levelBeforeMm, levelAfterMm }: TopUp,
): { readonly waterL: number; readonly volumeL: number } {
  if (levelAfterMm < levelBeforeMm) {
    throw new Refusal("invalid", "Water only raises the level.", {
      levelAfterMm: "Not below the level now.",
    });
  }
  const volumeL = litresUpTo(tank, levelAfterMm);
  return { volumeL, waterL: volumeL - litresUpTo(tank, levelBeforeMm) };
}

/**
 * Ends a bath, with where it went. Refused while a load is in it.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict
 */
export async function disposeBath(
  actor: Actor,
  disposal: { readonly tankId: string; readonly note: string },
  now: Date,
): Promise<void> {
  requirePermission(actor, "keep-tanks");
  if (disposal.note.trim() === "") {
    throw new Refusal("invalid", "Write where it went.", {
      note: "For the shop's own record: drain, carrier, sludge dried and binned …",
    });
  }
  await inTransaction(async (db) => {
    const tank = await requireTank(db, disposal.tankId);
    if (!tank.bath) throw new Refusal("conflict", "There is no bath in this tank.");
    const live = await listLiveRuns(db, tank.id);
    if (live.some((run) => run.state === "RUNNING")) {
      throw new Refusal("conflict", "A load is in this bath. Pull it first.");
    }
    await endBath(db, tank.bath.id, now, disposal.note);
    await note(db, actor, now, "bath.disposed", tank, {
      volumeL: tank.bath.volumeL,
      note: disposal.note,
    });
  });
}

async function note(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  tank: TankRow,
  detail: Readonly<Record<string, string | number>>,
): Promise<void> {
  await recordAudit(db, { actor, at, action, subjectType: "tank", subjectId: tank.id, detail });
}
