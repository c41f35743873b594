/** Valid rows for tests of tanks, bookings and runs. Each takes overrides; what is left out is plausible. */
import { randomUUID } from "node:crypto";
import type { Actor } from "@/lib/access";
import { findTank, reading } from "@/lib/data";
import { database } from "@/lib/data/client";
import { bookRun, loadRun, SAFETY_CHECKS, tankOption } from "@/lib/services";
import { type PartDescription, planPart, type TreatmentPlan } from "@/lib/treatment";
import { createJob } from "./factories-money";

/** A Monday, 09:00 in Berlin: the shop is open. */
export const MONDAY = new Date("2030-01-07T08:00:00Z");
const OPENED = new Date("2029-06-01T08:00:00Z");
const HOUR_MS = 3_600_000;

export const hoursAfter = (from: Date, hours: number): Date =>
  new Date(from.getTime() + hours * HOUR_MS);

let serial = 0;
const next = (): number => (serial += 1);

/** Mondays to Fridays, 08:00 to 17:00. */
export async function createOpeningHours(): Promise<void> {
  await database().openingHours.createMany({
    data: [1, 2, 3, 4, 5].map((weekday) => ({ weekday, opensMinute: 480, closesMinute: 1020 })),
  });
}

/** A 60 L tub with a charger, a wall anode and a bath of soda ash: ready for a load. */
export async function createReadyTank(
  missing: { readonly bath?: null; readonly anode?: null; readonly supply?: null } = {},
) {
  const number = next();
  const supply =
    missing.supply === null
      ? null
      : await database().supply.create({
          data: {
            name: `charger ${number}`,
            kind: "CHARGER",
            openVoltageV: 13.8,
            innerResistanceOhm: 0.15,
            ratedCurrentA: 10,
            efficiency: 0.75,
            createdAt: OPENED,
          },
        });
  const tank = await database().tank.create({
    data: {
      name: `tub ${number}`,
      kind: "TAPERED_BOX",
      topLengthMm: 600,
      topWidthMm: 400,
      bottomLengthMm: 550,
      bottomWidthMm: 350,
      depthMm: 380,
      workingLevelMm: 300,
      supplyId: supply?.id ?? null,
      createdAt: OPENED,
    },
  });
  if (missing.anode !== null) await createAnode(tank.id);
  if (missing.bath !== null) {
    await database().bath.create({
      data: { tankId: tank.id, mixedAt: OPENED, volumeL: 62, carbonateG: 190, temperatureC: 18 },
    });
  }
  return tank;
}

export async function createAnode(tankId: string, overrides: { wettedAreaM2?: number } = {}) {
  return database().anode.create({
    data: {
      tankId,
      name: `wall ${next()}`,
      installedAt: OPENED,
      initialMassG: 2000,
      wettedAreaM2: 0.2,
      lossFactor: 0.2,
      lossFactorError: 0.1,
      costMinor: 1000,
      ...overrides,
    },
  });
}

const SKILLET: PartDescription = {
  quantity: 1,
  shape: "PAN",
  lengthMm: 260,
  widthMm: 260,
  heightMm: 50,
  wallMm: 4,
  massG: 2200,
  areaOverrideM2: null,
  material: "CAST_IRON",
  hardnessHrc: null,
  tensileMpa: null,
  rustGrade: "C",
  coatings: [],
  hazards: [],
  goal: "RUST_ONLY",
};

/** A part that was accepted and planned for a tank, by the real planner. */
export async function createPlannedSkillet(
  actor: Actor,
  tankId: string,
  { jobId, part = {} }: { jobId?: string; part?: Partial<PartDescription> } = {},
) {
  const description = { ...SKILLET, ...part };
  const row = await database().part.create({
    data: {
      ...description,
      coatings: [...description.coatings],
      hazards: [...description.hazards],
      jobId: jobId ?? (await createJob(actor)).id,
      mark: `P${next()}`,
      description: "skillet",
      state: "PLANNED",
      createdAt: OPENED,
      verdicts: {
        create: {
          decidedAt: OPENED,
          decidedById: actor.personId,
          outcome: "ACCEPT",
          findings: { outcome: "ACCEPT", findings: [] },
        },
      },
    },
  });
  await createPlan(actor, row.id, tankId, description);
  return row;
}

const planned = new Map<string, Promise<TreatmentPlan>>();

/** Fifty like parts for one tank have one plan: it is worked out once. */
function planFor(tankId: string, part: PartDescription): Promise<TreatmentPlan> {
  const key = `${tankId} ${JSON.stringify(part)}`;
  const plan = planned.get(key) ?? workOutPlan(tankId, part);
  planned.set(key, plan);
  return plan;
}

async function workOutPlan(tankId: string, part: PartDescription): Promise<TreatmentPlan> {
  const tank = await reading((db) => findTank(db, tankId));
  if (!tank) throw new Error("the tank of this plan is missing");
  const answer = planPart({
    part,
    tanks: [tankOption(tank)],
    workshop: { temperatureC: 18, roomVolumeM3: 60, saltGrade: "SODA_ASH_LIGHT" },
  });
  if (!answer.planned) throw new Error(`not planned: ${JSON.stringify(answer.notTaken)}`);
  return answer.plan;
}

async function createPlan(actor: Actor, partId: string, tankId: string, part: PartDescription) {
  const plan = await planFor(tankId, part);
  await database().plan.create({
    data: {
      partId,
      tankId,
      version: 1,
      madeAt: OPENED,
      madeById: actor.personId,
      areaM2: plan.figures.areaM2.value,
      solutionL: plan.figures.solutionL.value,
      saltGrade: plan.saltGrade,
      saltG: plan.figures.saltG.value,
      currentA: plan.currentA.mid,
      hoursP50: plan.hours.p50,
      hoursP90: plan.hours.p90,
      chargeAh: plan.figures.chargeAh.value,
      anodeLossG: plan.figures.anodeLossG.value,
      energyKwh: plan.figures.energyKwh.value,
      dipCount: plan.dips,
      result: structuredClone(plan) as object,
    },
  });
}

/** Books a planned part; at `startsAt`, `MONDAY` when left out. */
export async function book(actor: Actor, partId: string, tankId: string, startsAt = MONDAY) {
  const booking = { partIds: [partId], tankId, startsAt, notes: "", idempotencyKey: randomUUID() };
  return bookRun(actor, booking, MONDAY);
}

export const ALL_CHECKS = SAFETY_CHECKS.map(({ code }) => code);

/** A run that is loaded and under current since `at`. */
export async function createRunningRun(actor: Actor, at = MONDAY) {
  const tank = await createReadyTank();
  const part = await createPlannedSkillet(actor, tank.id);
  const { runId } = await book(actor, part.id, tank.id);
  await loadRun(actor, { runId, acknowledged: ALL_CHECKS }, at);
  return { tank, part, runId };
}

/** A reading to send; 12 V and 3 A when left out. */
export const readingOf = (
  runId: string,
  at: Date,
  overrides: { voltsV?: number; currentA?: number; idempotencyKey?: string } = {},
) => ({
  runId,
  at,
  voltsV: 12,
  currentA: 3,
  temperatureC: null,
  levelMm: null,
  note: "",
  idempotencyKey: randomUUID(),
  ...overrides,
});
