/** Fills of tanks, from mixing to disposal, and what was added to them. */
import type { Db } from "./client";
import type { Bath, BathAddition, BathMeasurement, MeasuredBy } from "./generated/client";

export type { MeasuredBy };

export type BathRow = Bath & { readonly additions: readonly BathAddition[] };

export type NewBath = Pick<
  Bath,
  "tankId" | "mixedAt" | "volumeL" | "carbonateG" | "bicarbonateG" | "temperatureC"
>;

export type NewAddition = BathAddition;

/** @returns its id; the database refuses a second live bath in one tank */
export async function insertBath(db: Db, bath: NewBath): Promise<string> {
  const row = await db.bath.create({ data: bath, select: { id: true } });
  return row.id;
}

/** Writes an addition and moves the bath's volume and salts by it, in the caller's transaction. */
export async function addToBath(
  db: Db,
  addition: NewAddition,
  gained: { readonly volumeL: number; readonly carbonateG: number; readonly bicarbonateG: number },
): Promise<void> {
  await db.bathAddition.create({ data: addition });
  await db.bath.update({
    where: { id: addition.bathId },
    data: {
      volumeL: { increment: gained.volumeL },
      carbonateG: { increment: gained.carbonateG },
      bicarbonateG: { increment: gained.bicarbonateG },
    },
  });
}

/** Salts that a bath gained; negative where it lost them. */
export type SaltsGained = { readonly carbonateG: number; readonly bicarbonateG: number };

/**
 * Adds charge that a run passed, and the bicarbonate that it turned to carbonate; the same with its signs turned takes
 * an undone run back.
 */
export async function addBathCharge(
  db: Db,
  bathId: string,
  chargeAh: number,
  turned: SaltsGained,
): Promise<void> {
  await db.bath.update({
    where: { id: bathId },
    data: {
      chargeAh: { increment: chargeAh },
      carbonateG: { increment: turned.carbonateG },
      bicarbonateG: { increment: turned.bicarbonateG },
    },
  });
}

export type NewMeasurement = Omit<BathMeasurement, "id">;

/** Writes what a bath was found to hold, and lets it hold just that, in the caller's transaction. */
export async function insertMeasurement(db: Db, measurement: NewMeasurement): Promise<void> {
  await db.bathMeasurement.create({ data: measurement });
  await db.bath.update({
    where: { id: measurement.bathId },
    data: {
      carbonateG: measurement.carbonateAfterG,
      bicarbonateG: measurement.bicarbonateAfterG,
      temperatureC: measurement.temperatureC,
    },
  });
}

export async function hasMeasurement(db: Db, idempotencyKey: string): Promise<boolean> {
  return (await db.bathMeasurement.count({ where: { idempotencyKey } })) > 0;
}

/** Sets what a reading found: the bath's temperature now. */
export async function setBathTemperature(
  db: Db,
  bathId: string,
  temperatureC: number,
): Promise<void> {
  await db.bath.update({ where: { id: bathId }, data: { temperatureC } });
}

/**
 * Ends a bath if it is still live: a conditional UPDATE whose count is checked, so that of two people one disposes.
 * @returns whether it was live
 */
export async function endBath(
  db: Db,
  bathId: string,
  disposedAt: Date,
  disposalNote: string,
): Promise<boolean> {
  const { count } = await db.bath.updateMany({
    where: { id: bathId, disposedAt: null },
    data: { disposedAt, disposalNote },
  });
  return count === 1;
}

/** Every bath a tank has had, newest first. */
export async function listBaths(db: Db, tankId: string, take: number): Promise<readonly BathRow[]> {
  return db.bath.findMany({
    where: { tankId },
    orderBy: { mixedAt: "desc" },
    take,
    include: { additions: { orderBy: { at: "asc" } } },
  });
}
