import { type Actor, requirePermission } from "@/lib/access";
import {
  addBathCharge,
  closeUnstartedBakes,
  type Db,
  deleteWearOfRun,
  findShop,
  insertWear,
  inTransaction,
  lastAuditDetail,
  listReadings,
  lockTank,
  movePartStates,
  moveRunState,
  type NewWear,
  openBake,
  type RunRow,
  type SaltsGained,
  type TankRow,
} from "@/lib/data";
import { workedCharge } from "@/lib/diagnosis";
import { anodeMassDissolved, bathAfterCharge } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { wearCost } from "@/lib/stock";
import { ampereHours } from "@/lib/units";
import { contentsOf } from "../tanks";
import { energyOf, spanOf } from "./progress";
import { auditRun, canUndo, partIdsOf, requireRun, UNDO_MINUTES } from "./require-run";

const HOUR_MS = 3_600_000;

/**
 * Says that the supply is off and the load is out. The charge is integrated from the readings (expected current where
 * none was taken); anodes lose iron by it, the bath has passed it, and the energy at the wall follows. Parts that need
 * a relief bake get the time by which it must start.
 *
 * The conditional change from RUNNING lets one of two callers in; a repeat finds it pulled and changes nothing.
 *
 * @throws Refusal not-allowed | not-found | conflict
 */
export async function pullRun(actor: Actor, runId: string, now: Date): Promise<void> {
  requirePermission(actor, "work-runs");
  await inTransaction(async (db) => {
    const run = await requireRun(db, runId);
    if (run.state === "PULLED" || run.state === "FINISHED") return;
    const tank = await lockTank(db, run.tankId);
    const passed = await chargePassed(db, run, now);
    const pulled = await moveRunState(db, run.id, "RUNNING", {
      state: "PULLED",
      pulledAt: now,
      // A span must not be empty, also for a load pulled in the instant it went in.
      endsAt: new Date(Math.max(now.getTime(), run.startsAt.getTime() + 1)),
      ...passed,
    });
    if (!pulled) throw new Refusal("conflict", "This run is not loaded: there is nothing to pull.");
    if (tank) await insertWear(db, wearOf(tank, run.id, passed.chargeAh));
    const turned = tank?.bath ? turnedBy(tank.bath, passed.chargeAh) : NOTHING_TURNED;
    if (run.bathId) await addBathCharge(db, run.bathId, passed.chargeAh, turned);
    await movePartStates(db, partIdsOf(run), "IN_BATH", "PULLED");
    await openBakes(db, run, now);
    await auditRun(db, actor, now, "run.pulled", run, {
      chargeAh: passed.chargeAh,
      ...turned,
      endsAtBefore: run.endsAt.toISOString(),
    });
  });
}

/**
 * Takes a pulling back that was a slip, within five minutes: wear, charge and bake times are as before. Refused where
 * somebody booked the tank meanwhile.
 *
 * @throws Refusal not-allowed | not-found | conflict | tank-busy
 */
export async function undoPull(actor: Actor, runId: string, now: Date): Promise<void> {
  requirePermission(actor, "work-runs");
  await inTransaction(async (db) => {
    const run = await requireRun(db, runId);
    if (run.state === "RUNNING") return; // taken back already
    if (run.state !== "PULLED" || !canUndo(run.pulledAt, now)) {
      throw new Refusal("conflict", `A pulling can be taken back for ${UNDO_MINUTES} minutes.`);
    }
    await lockTank(db, run.tankId);
    const pulled = await lastAuditDetail(db, "run.pulled", run.id);
    const before = pulled?.["endsAtBefore"];
    await moveRunState(db, run.id, "PULLED", {
      state: "RUNNING",
      pulledAt: null,
      chargeAh: null,
      energyKwh: null,
      endsAt: typeof before === "string" ? new Date(before) : run.endsAt,
    });
    await deleteWearOfRun(db, run.id);
    if (run.bathId) {
      await addBathCharge(db, run.bathId, -(run.chargeAh ?? 0), {
        carbonateG: -Number(pulled?.["carbonateG"] ?? 0),
        bicarbonateG: -Number(pulled?.["bicarbonateG"] ?? 0),
      });
    }
    await movePartStates(db, partIdsOf(run), "PULLED", "IN_BATH");
    await closeUnstartedBakes(db, partIdsOf(run));
    await auditRun(db, actor, now, "run.pull-undone", run);
  });
}

async function chargePassed(
  db: Db,
  run: RunRow,
  now: Date,
): Promise<{ readonly chargeAh: number; readonly energyKwh: number }> {
  const readings = await listReadings(db, run.id);
  return {
    chargeAh: workedCharge(spanOf(run, readings, now)).value,
    energyKwh: energyOf(run, readings, now).value,
  };
}

const NOTHING_TURNED: SaltsGained = { carbonateG: 0, bicarbonateG: 0 };

/** What the charge does to the bath's salts: bicarbonate slowly turns to carbonate. */
function turnedBy(bath: NonNullable<TankRow["bath"]>, chargeAh: number): SaltsGained {
  const contents = contentsOf(bath);
  const after = bathAfterCharge(contents, ampereHours(chargeAh));
  return {
    carbonateG: after.carbonateMassG - contents.carbonateMassG,
    bicarbonateG: after.bicarbonateMassG - contents.bicarbonateMassG,
  };
}

/** Faraday's law with each anode's own φ; the charge divides by wetted area. */
function wearOf(tank: TankRow, runId: string, chargeAh: number): NewWear[] {
  const areaM2 = tank.anodes.reduce((sum, anode) => sum + anode.wettedAreaM2, 0);
  return tank.anodes.map((anode) => {
    const share = (chargeAh * anode.wettedAreaM2) / areaM2;
    const lossG = anodeMassDissolved(ampereHours(share), anode.lossFactor);
    // The anode is used up when its usable share is gone, so that share carries all of its cost.
    const costMinor = wearCost(
      {
        costMinor: anode.costMinor,
        usableG: anode.initialMassG * anode.replaceAtShare,
        lostG: anode.wear.reduce((sum, wear) => sum + wear.lossG, 0),
        writtenMinor: anode.wear.reduce((sum, wear) => sum + wear.costMinor, 0),
      },
      lossG,
    );
    return { anodeId: anode.id, runId, chargeAh: share, lossG, costMinor };
  });
}

/** The shop's own time to start by, and never later than the table allows. */
async function openBakes(db: Db, run: RunRow, pulledAt: Date): Promise<void> {
  const shop = await findShop(db);
  for (const { partId, plan } of run.dips) {
    const bake = plan.result.reliefBake;
    if (!bake) continue;
    await openBake(db, {
      partId,
      temperatureC: (bake.leastC + bake.mostC) / 2,
      hours: bake.hours,
      mustStartBy: new Date(
        pulledAt.getTime() +
          Math.min(bake.startWithinHours, (shop?.bakeStartMinutes ?? 60) / 60) * HOUR_MS,
      ),
    });
  }
}
