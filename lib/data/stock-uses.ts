/** What stock can be taken for by hand: loads, jobs and tanks that work is going on with. */
import type { Db } from "./client";

/** What something was taken for; the shop itself where nothing is named. */
export const USE_KINDS = ["run", "job", "tank"] as const;
export type UseKind = (typeof USE_KINDS)[number];

export type UsePlace = {
  readonly kind: UseKind;
  readonly id: string;
  /** "run 12 in Long tank", "job 7, Ada Byron", "Long tank" */
  readonly name: string;
  /** false where nothing can be written on it any more */
  readonly open: boolean;
};

const RUN = { id: true, number: true, state: true, tank: { select: { name: true } } } as const;
const JOB = { id: true, number: true, state: true, customer: { select: { name: true } } } as const;
const TANK = { id: true, name: true, retiredAt: true } as const;

type RunNamed = { id: string; number: number; state: string; tank: { name: string } };
type JobNamed = { id: string; number: number; state: string; customer: { name: string } };
type TankNamed = { id: string; name: string; retiredAt: Date | null };

const ofRun = ({ id, number, state, tank }: RunNamed): UsePlace => ({
  kind: "run",
  id,
  name: `run ${number} in ${tank.name}`,
  open: state !== "CANCELLED",
});
const ofJob = ({ id, number, state, customer }: JobNamed): UsePlace => ({
  kind: "job",
  id,
  name: `job ${number}, ${customer.name}`,
  open: state === "OPEN",
});
const ofTank = ({ id, name, retiredAt }: TankNamed): UsePlace => ({
  kind: "tank",
  id,
  name,
  open: retiredAt === null,
});

/** The loads put in since a day, the jobs in hand and the tanks in use; at most fifty of each, newest first. */
export async function listUsePlaces(db: Db, since: Date): Promise<readonly UsePlace[]> {
  const [runs, jobs, tanks] = await Promise.all([
    db.run.findMany({
      where: { state: { not: "CANCELLED" }, loadedAt: { gte: since } },
      orderBy: { number: "desc" },
      take: 50,
      select: RUN,
    }),
    db.job.findMany({
      where: { state: "OPEN" },
      orderBy: { number: "desc" },
      take: 50,
      select: JOB,
    }),
    db.tank.findMany({
      where: { retiredAt: null },
      orderBy: { name: "asc" },
      take: 50,
      select: TANK,
    }),
  ]);
  return [...runs.map(ofRun), ...jobs.map(ofJob), ...tanks.map(ofTank)];
}

export async function findUsePlace(db: Db, kind: UseKind, id: string): Promise<UsePlace | null> {
  const where = { id };
  if (kind === "run") {
    const run = await db.run.findUnique({ where, select: RUN });
    return run && ofRun(run);
  }
  if (kind === "job") {
    const job = await db.job.findUnique({ where, select: JOB });
    return job && ofJob(job);
  }
  const tank = await db.tank.findUnique({ where, select: TANK });
  return tank && ofTank(tank);
}
