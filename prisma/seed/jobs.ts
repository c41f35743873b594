/** Six months of people coming to the example shop's counter. */
import { DAY, dayOf, HOUR, MINUTE, nextOpen, openInstant } from "./calendar";
import { PART_KINDS, type PartKind } from "./catalogue";
import { judge, planFor, type SeedPlan } from "./planning";
import { type Answer, quoteJob } from "./quotes";
import { runPart } from "./runs";
import { note, type SeedJob, type SeedPart, type World } from "./world";

/** Chance that a job comes in on an open day; the last days are busier, so that the board is full today. */
const JOBS_A_DAY = 0.4;
const JOBS_A_DAY_NOW = 0.9;
const BUSY_DAYS = 8;

type PlannedPart = { readonly part: SeedPart; readonly plan: SeedPlan };

/** Fills the shop with jobs from the first day of the history to now. */
export function addJobs(world: World, customerIds: readonly string[]): void {
  for (let day = world.from.getTime() + DAY; day < world.now.getTime(); day += DAY) {
    const busy = world.now.getTime() - day < BUSY_DAYS * DAY;
    if (!world.chance.chance(busy ? JOBS_A_DAY_NOW : JOBS_A_DAY)) continue;
    const at = openInstant(world.chance, world.zone, new Date(day));
    if (at < world.now) takeInJob(world, world.chance.pick(customerIds), at);
  }
}

/** One job in so many cannot wait. */
const RUSH_EVERY = 9;

function takeInJob(world: World, customerId: string, at: Date): void {
  const job: SeedJob = {
    id: world.chance.uuid(),
    number: world.rows.jobs.length + 1,
    customerId,
    state: "OPEN",
    takenInAt: at,
    takenInById: world.people.deskId,
    promisedFor: dayOf(
      world.zone,
      nextOpen(world.zone, new Date(at.getTime() + world.chance.whole(7, 14) * DAY)),
    ),
    rush: world.rows.jobs.length % RUSH_EVERY === RUSH_EVERY - 1,
  };
  world.rows.jobs.push(job);
  note(world, at, world.people.deskId, "job.taken-in", job.id);
  const count = world.chance.pick([1, 1, 1, 2, 2, 3]);
  const planned: PlannedPart[] = [];
  for (let index = 0; index < count; index += 1) {
    const part = takeInPart(world, job, index, at);
    const plan = judge(world, part, at) ? planFor(world, part, at) : null;
    if (plan) planned.push({ part, plan });
    else part.state = "REFUSED";
  }
  if (planned.length === 0) end(world, job, "CLOSED", new Date(at.getTime() + HOUR));
  else answerAndRun(world, job, planned);
}

function takeInPart(world: World, job: SeedJob, index: number, at: Date): SeedPart {
  const kind = pickKind(world);
  const size = world.chance.between(0.9, 1.06);
  const part: SeedPart = {
    id: world.chance.uuid(),
    jobId: job.id,
    mark: String.fromCharCode(65 + index),
    description: kind.description,
    state: "TAKEN_IN",
    shape: kind.shape,
    lengthMm: Math.round(kind.lengthMm * size),
    widthMm: Math.round(kind.widthMm * size),
    heightMm: Math.round(kind.heightMm * size),
    wallMm: kind.wallMm ?? null,
    massG: kind.massG ? Math.round(kind.massG * size ** 3) : null,
    material: kind.material,
    hardnessHrc: kind.hardnessHrc ?? null,
    rustGrade: world.chance.pick(kind.rustGrades),
    coatings: [...(kind.coatings ?? [])],
    hazards: [...(kind.hazards ?? [])],
    goal: kind.goal ?? "RUST_ONLY",
    createdAt: at,
  };
  world.rows.parts.push(part);
  const minutes = world.chance.whole(6, 14);
  world.rows.labour.push({
    id: world.chance.uuid(),
    jobId: job.id,
    partId: part.id,
    personId: world.people.deskId,
    at,
    task: "take in",
    minutes,
    costMinor: minutes * 75,
  });
  return part;
}

function pickKind(world: World): PartKind {
  const total = PART_KINDS.reduce((sum, kind) => sum + kind.weight, 0);
  let left = world.chance.between(0, total);
  for (const kind of PART_KINDS) {
    left -= kind.weight;
    if (left < 0) return kind;
  }
  return world.chance.pick(PART_KINDS);
}

function answerAndRun(world: World, job: SeedJob, planned: readonly PlannedPart[]): void {
  for (const { part } of planned) part.state = "PLANNED";
  const quotedAt = nextOpen(
    world.zone,
    new Date(new Date(job.takenInAt).getTime() + world.chance.between(20, 300) * MINUTE),
  );
  if (quotedAt > world.now) return;
  const answer: Answer = quoteJob(world, job, planned, quotedAt);
  if (answer.kind === "declined") end(world, job, "CANCELLED", answer.at);
  if (answer.kind === "waiting" && answer.until < world.now) {
    end(world, job, "CANCELLED", answer.until);
  }
  if (answer.kind !== "accepted") return;
  const finished = planned.map(
    ({ part, plan }) => runPart(world, job, part, plan, answer.at).finishedAt,
  );
  const last = Math.max(...finished.map((at) => at?.getTime() ?? Number.POSITIVE_INFINITY));
  const collectedAt = nextOpen(
    world.zone,
    new Date(Math.min(last, world.now.getTime()) + world.chance.between(0.5, 3) * DAY),
  );
  if (!Number.isFinite(last) || collectedAt > world.now) return;
  for (const { part } of planned) part.state = "HANDED_BACK";
  end(world, job, "CLOSED", collectedAt);
}

function end(world: World, job: SeedJob, state: "CLOSED" | "CANCELLED", at: Date): void {
  if (at > world.now) return;
  job.state = state;
  job.closedAt = at;
  note(world, at, world.people.deskId, `job.${state.toLowerCase()}`, job.id);
}
