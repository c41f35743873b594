/** Booking, running and finishing one part in the example shop, up to the present moment. */
import { anodeMassDissolved } from "@/lib/electrolysis";
import { ampereHours } from "@/lib/units";
import { renewBathIfOld, topUp } from "./baths";
import { HOUR, MINUTE, nextOpen, nextOpenWithRoom, onQuarter } from "./calendar";
import type { SeedPlan } from "./planning";
import { ITEM_NAMES } from "./stockroom";
import { note, type SeedJob, type SeedPart, type TankInUse, type World } from "./world";

type RunRow = World["rows"]["runs"][number] & { readonly id: string };
type Outcome = { readonly finishedAt: Date | null };
type Load = {
  readonly job: SeedJob;
  readonly part: SeedPart;
  readonly plan: SeedPlan;
  readonly tank: TankInUse;
  readonly run: RunRow;
};
type ReadingRow = World["rows"]["readings"][number];

/** Minutes of bench work the example shop writes down. */
const LOAD_MINUTES = 15;
const PULL_MINUTES = 10;
const FINISH_MINUTES_PER_M2 = 60;
const LABOUR_MINOR_PER_MINUTE = 75;
/** How this shop differs from the model, so that there is something to learn: its heavy rust takes longer. */
const HEAVY_RUST_FACTOR = 1.2;
const USUAL_FACTOR = 0.95;
/** Pulled later than this after it was clean, somebody notices. */
const NOTICED_LATE_HOURS = 1;
/** Every so many runs nobody is sure. */
const UNSURE_EVERY = 7;

/**
 * Books the part into its planned tank after `acceptedAt` and lets time run to the present: later steps
 * than now are left out, so the newest loads come out as booked or running.
 */
export function runPart(
  world: World,
  job: SeedJob,
  part: SeedPart,
  plan: SeedPlan,
  acceptedAt: Date,
): Outcome {
  const tank = plan.tank;
  const bookedAt = nextOpen(world.zone, new Date(acceptedAt.getTime() + HOUR));
  if (bookedAt > world.now) return { finishedAt: null };
  const after = new Date(Math.max(bookedAt.getTime() + HOUR / 2, tank.freeFrom.getTime()));
  const ready =
    after < world.now ? renewBathIfOld(world, tank, nextOpen(world.zone, after)) : after;
  const startsAt = onQuarter(nextOpenWithRoom(world.zone, ready, LOAD_MINUTES + 15));
  const treatedAt = startsAt.getTime() + LOAD_MINUTES * MINUTE + plan.hoursP90 * HOUR;
  const pullAt = onQuarter(nextOpenWithRoom(world.zone, new Date(treatedAt), PULL_MINUTES + 15));
  const endsAt = new Date(pullAt.getTime() + PULL_MINUTES * MINUTE);
  const run = book(world, { part, plan, tank, bookedAt, startsAt, endsAt });
  tank.freeFrom = new Date(endsAt.getTime() + HOUR / 2);
  part.state = "BOOKED";
  if (startsAt > world.now) return { finishedAt: null };
  return load(world, { job, part, plan, tank, run });
}

function book(
  world: World,
  booking: Omit<Load, "job" | "run"> & { bookedAt: Date; startsAt: Date; endsAt: Date },
): RunRow {
  const { part, plan, tank } = booking;
  const run: RunRow = {
    id: world.chance.uuid(),
    number: world.rows.runs.length + 1,
    tankId: tank.tank.id,
    bathId: tank.bath.id,
    supplyId: tank.supply.id,
    state: "PLANNED",
    startsAt: booking.startsAt,
    endsAt: booking.endsAt,
    treatHours: plan.hoursP90,
    benchMinutes: FINISH_MINUTES_PER_M2 * plan.areaM2,
    expectedCurrentA: plan.currentA,
    currentLowA: plan.currentLowA,
    currentHighA: plan.currentHighA,
    targetChargeAh: plan.chargeAh,
    bookedAt: booking.bookedAt,
    idempotencyKey: world.chance.uuid(),
  };
  world.rows.runs.push(run);
  world.rows.dips.push({
    id: world.chance.uuid(),
    runId: run.id,
    partId: part.id,
    planId: plan.planId,
  });
  note(world, booking.bookedAt, world.people.deskId, "run.booked", run.id);
  return run;
}

function load(world: World, it: Load): Outcome {
  const { run, part, plan, tank } = it;
  run.state = "RUNNING";
  run.loadedAt = run.startsAt;
  run.safetyAcknowledgedAt = run.startsAt;
  run.safetyAcknowledgedById = world.people.benchId;
  run.bathId = tank.bath.id;
  part.state = "IN_BATH";
  work(world, it, "load", LOAD_MINUTES, new Date(run.startsAt));
  topUp(world, tank, new Date(run.startsAt));

  const factor = part.rustGrade === "D" ? HEAVY_RUST_FACTOR : USUAL_FACTOR;
  const hours = plan.hoursP50 * factor * world.chance.spread(0.25);
  const pulledAt = nextOpen(
    world.zone,
    new Date(Math.min(millis(run.startsAt) + hours * HOUR, millis(run.endsAt))),
  );
  const readings = takeReadings(world, it, pulledAt);
  if (pulledAt > world.now) return { finishedAt: null };
  tank.freeFrom = new Date(pulledAt.getTime() + HOUR / 2);
  pull(world, it, pulledAt, readings);
  const timing = timingOf(run, hours, pulledAt);
  return finish(world, it, { pulledAt, timing });
}

/** One reading a quarter of an hour after loading, then about every three open hours, and one at the pull. */
function takeReadings(world: World, it: Load, pulledAt: Date): ReadingRow[] {
  const { run, plan, tank } = it;
  const typical = plan.currentA * world.chance.between(0.88, 1.1);
  const inner = tank.supply.kind === "CHARGER" ? (tank.supply.innerResistanceOhm ?? 0) : 0;
  const readings: ReadingRow[] = [];
  const end = Math.min(pulledAt.getTime(), world.now.getTime());
  let at = millis(run.startsAt) + 15 * MINUTE;
  while (at <= end) {
    const share = (at - millis(run.startsAt)) / (pulledAt.getTime() - millis(run.startsAt));
    const currentA = typical * (1 - 0.12 * share) * world.chance.spread(0.025);
    readings.push({
      id: world.chance.uuid(),
      runId: run.id,
      at: new Date(at),
      voltsV: Number((tank.supply.openVoltageV - currentA * inner).toFixed(2)),
      currentA: Number(currentA.toFixed(2)),
      temperatureC: Number((18 + 3 * share + world.chance.between(-0.5, 0.5)).toFixed(1)),
      takenById: world.people.benchId,
      idempotencyKey: world.chance.uuid(),
    });
    at = nextOpen(world.zone, new Date(at + world.chance.between(2.2, 3.8) * HOUR)).getTime();
  }
  world.rows.readings.push(...readings);
  return readings;
}

function pull(world: World, it: Load, pulledAt: Date, readings: readonly ReadingRow[]): void {
  const { run, part, tank } = it;
  const hours = (pulledAt.getTime() - millis(run.startsAt)) / HOUR;
  const mean =
    readings.reduce((total, reading) => total + reading.currentA, 0) / Math.max(1, readings.length);
  const chargeAh = (readings.length > 0 ? mean : it.plan.currentA) * hours;
  const efficiency = tank.supply.efficiency ?? 0.75;
  run.state = "PULLED";
  run.pulledAt = pulledAt;
  run.endsAt = pulledAt;
  run.chargeAh = Number(chargeAh.toFixed(3));
  run.energyKwh = Number(((chargeAh * tank.supply.openVoltageV) / efficiency / 1000).toFixed(4));
  part.state = "PULLED";
  tank.bath.chargeAh += chargeAh;
  const lossG = anodeMassDissolved(ampereHours(chargeAh), tank.lossFactor);
  tank.anodeLossG += lossG;
  world.rows.wear.push({
    id: world.chance.uuid(),
    anodeId: tank.anodeId,
    runId: run.id,
    chargeAh,
    lossG,
    costMinor: Math.round(lossG * 0.4),
  });
  work(world, it, "pull", PULL_MINUTES, pulledAt);
  note(world, pulledAt, world.people.benchId, "run.pulled", run.id);
}

type DipTiming = NonNullable<World["rows"]["dips"][number]["timing"]> | null;

/** What the bench says: a load that waited for the shop to open had been clean for a while. */
function timingOf({ number, startsAt }: RunRow, hours: number, pulledAt: Date): DipTiming {
  if (number % UNSURE_EVERY === 0) return null;
  const waited = (pulledAt.getTime() - millis(startsAt)) / HOUR - hours;
  return waited > NOTICED_LATE_HOURS ? "LONG_CLEAN" : "JUST_CLEAN";
}

type Pulled = { readonly pulledAt: Date; readonly timing: DipTiming };

function finish(world: World, it: Load, { pulledAt, timing }: Pulled): Outcome {
  const { run, part, plan, tank } = it;
  const minutes = Math.max(10, FINISH_MINUTES_PER_M2 * plan.areaM2 * world.chance.spread(0.3));
  const finishedAt = nextOpen(world.zone, new Date(pulledAt.getTime() + (minutes + 15) * MINUTE));
  if (finishedAt > world.now) return { finishedAt: null };
  run.state = "FINISHED";
  run.finishedAt = finishedAt;
  part.state = "FINISHED";
  const dip = world.rows.dips.find((candidate) => candidate.runId === run.id);
  if (dip) {
    dip.result = world.chance.chance(0.93) ? "CLEAN" : "PARTLY";
    dip.timing = timing;
  }
  work(world, it, "finish", minutes, finishedAt);
  const usage = {
    at: finishedAt,
    enteredById: world.people.benchId,
    runId: run.id,
    jobId: it.job.id,
    tankId: tank.tank.id,
  };
  world.stockroom.use({
    ...usage,
    name: ITEM_NAMES.oil,
    quantity: 15 + 60 * plan.areaM2,
    note: `protecting ${part.description}`,
  });
  world.stockroom.use({
    ...usage,
    name: ITEM_NAMES.wool,
    quantity: world.chance.whole(1, 2),
    note: `brushing ${part.description}`,
  });
  return { finishedAt };
}

function work(world: World, it: Load, task: string, minutes: number, at: Date): void {
  world.rows.labour.push({
    id: world.chance.uuid(),
    jobId: it.job.id,
    partId: it.part.id,
    runId: it.run.id,
    personId: world.people.benchId,
    at,
    task,
    minutes: Math.round(minutes),
    costMinor: Math.round(minutes) * LABOUR_MINOR_PER_MINUTE,
  });
}

const millis = (at: Date | string): number => new Date(at).getTime();
