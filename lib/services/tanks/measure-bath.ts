import { type Actor, requirePermission } from "@/lib/access";
import {
  hasMeasurement,
  insertMeasurement,
  inTransaction,
  type MeasuredBy,
  recordAudit,
} from "@/lib/data";
import { bathFromConductivity } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { siemensPerMetre } from "@/lib/units";
import { sensible } from "../sensible";
import { contentsOf } from "./bath-figures";
import { requireTank } from "./set-up";

export type BathToMeasure = {
  readonly tankId: string;
  readonly measuredBy: MeasuredBy;
  /** S/m at the bath's temperature, above 0: not corrected to 25 °C */
  readonly conductivitySPerM: number;
  readonly temperatureC: number;
  readonly idempotencyKey: string;
};

/**
 * Writes a measured conductivity: the bath then holds so much soda as shows it, in the proportion that the books have.
 * Salt that is gone went out with parts and sludge, and salt that is more was never written in; neither comes from
 * stock or goes back to it.
 *
 * @returns g of anhydrous salt in the bath before and after
 * @throws Refusal not-allowed | not-found | conflict (no bath) | invalid (no salt in the books, or out of reach)
 */
export async function measureBath(
  actor: Actor,
  found: BathToMeasure,
  now: Date,
): Promise<{ readonly beforeG: number; readonly afterG: number }> {
  requirePermission(actor, "keep-tanks");
  return inTransaction(async (db) => {
    const tank = await requireTank(db, found.tankId); // locked: two people measure one after the other
    const { bath } = tank;
    if (!bath) throw new Refusal("conflict", "There is no bath in this tank. Mix one.");
    const beforeG = bath.carbonateG + bath.bicarbonateG;
    if (await hasMeasurement(db, found.idempotencyKey)) return { beforeG, afterG: beforeG };
    const after = sensible(() =>
      bathFromConductivity(
        { ...contentsOf(bath), temperatureC: found.temperatureC },
        siemensPerMetre(found.conductivitySPerM),
      ),
    );
    await insertMeasurement(db, {
      bathId: bath.id,
      at: now,
      measuredBy: found.measuredBy,
      conductivitySPerM: found.conductivitySPerM,
      temperatureC: found.temperatureC,
      carbonateBeforeG: bath.carbonateG,
      bicarbonateBeforeG: bath.bicarbonateG,
      carbonateAfterG: after.carbonateMassG,
      bicarbonateAfterG: after.bicarbonateMassG,
      measuredById: actor.personId,
      idempotencyKey: found.idempotencyKey,
    });
    const afterG = after.carbonateMassG + after.bicarbonateMassG;
    await recordAudit(db, {
      actor,
      at: now,
      action: "bath.measured",
      subjectType: "tank",
      subjectId: tank.id,
      detail: { conductivitySPerM: found.conductivitySPerM, beforeG, afterG },
    });
    return { beforeG, afterG };
  });
}
