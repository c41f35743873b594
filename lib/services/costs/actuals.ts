import {
  type CostedBath,
  type CostedEntry,
  type CostedRun,
  type Db,
  entriesOfJob,
  type LabourRow,
  listLabour,
  runsOfJob,
  saltCostOfBath,
} from "@/lib/data";
import { energyRate, type JobActuals, type RateCard } from "@/lib/pricing";
import { bathShare } from "../bath-share";
import { minuteOfWeek } from "../calendar";

const HOUR_MS = 3_600_000;

/** One run as the job bears it. */
export type RunShare = CostedRun & {
  /** h that the run held the tank, up to now while it runs */
  readonly hours: number;
  /** A·h, kW·h and g of the job's share; from the plan while it runs */
  readonly jobChargeAh: number;
  readonly jobEnergyKwh: number;
  /** minor units that it costs, at the tariff of the hours in the bath */
  readonly jobEnergyMinor: number;
  readonly jobAnodeMinor: number;
  /** false while it runs: the figures are then what the plan expects so far */
  readonly settled: boolean;
};

/** Stock as the job bears it. */
export type EntryShare = CostedEntry & { readonly jobMinor: number };

/** What a job took so far, with what stands behind it. */
export type JobRecords = {
  readonly labour: readonly LabourRow[];
  readonly runs: readonly RunShare[];
  readonly entries: readonly EntryShare[];
  readonly actuals: JobActuals;
};

/** When, where and at which rates a job is costed. */
type JobPlace = { readonly rates: RateCard; readonly timeZone: string; readonly now: Date };

/** Adds up what the shop wrote down for a job, its shares of runs and baths included. */
export async function jobRecords(
  db: Db,
  jobId: string,
  { rates, timeZone, now }: JobPlace,
): Promise<JobRecords> {
  const loaded = await runsOfJob(db, jobId);
  const [labour, entries] = await Promise.all([
    listLabour(db, jobId),
    entriesOfJob(
      db,
      jobId,
      loaded.map(({ id }) => id),
    ),
  ]);
  const runs = loaded.map((run) => asRunShare(run, rates, timeZone, now));
  const shareOfRun = new Map(runs.map(({ id, jobShare }) => [id, jobShare]));
  const shares = entries.map((entry) => ({
    ...entry,
    jobMinor: -entry.costMinor * (entry.onJob ? 1 : (shareOfRun.get(entry.runId ?? "") ?? 0)),
  }));
  const bathSalt = await bathSaltMinor(db, runs);
  return { labour, runs, entries: shares, actuals: addUp(labour, runs, shares, bathSalt) };
}

function asRunShare(run: CostedRun, rates: RateCard, timeZone: string, now: Date): RunShare {
  const settled = run.pulledAt !== null;
  const hours = Math.max(0, ((run.pulledAt ?? now).getTime() - run.loadedAt.getTime()) / HOUR_MS);
  const chargeAh = run.chargeAh ?? run.expectedCurrentA * hours;
  const { planned } = run;
  const per = (amount: number): number =>
    planned.chargeAh > 0 ? (amount / planned.chargeAh) * chargeAh : 0;
  const wearMinor = settled
    ? run.wear.reduce((total, { costMinor }) => total + costMinor, 0)
    : (per(planned.anodeLossG) / 1000) * rates.anodeSteelPerKgMinor;
  const jobEnergyKwh = (run.energyKwh ?? per(planned.energyKwh)) * run.jobShare;
  return {
    ...run,
    hours,
    settled,
    jobChargeAh: chargeAh * run.jobShare,
    jobEnergyKwh,
    jobEnergyMinor: jobEnergyKwh * energyRate(rates, minuteOfWeek(run.loadedAt, timeZone), hours),
    jobAnodeMinor: wearMinor * run.jobShare,
  };
}

/** The job's share of what the salt of its baths cost, by the charge it passed through each. */
async function bathSaltMinor(db: Db, runs: readonly RunShare[]): Promise<number> {
  const baths = new Map<string, CostedBath>();
  for (const { bath } of runs) if (bath) baths.set(bath.id, bath);
  const costs = await Promise.all(
    [...baths.values()].map(
      async (bath) => (await saltCostOfBath(db, bath)) * bathPart(runs, bath),
    ),
  );
  return costs.reduce((total, cost) => total + cost, 0);
}

/** Share of a bath that the job's runs in it used up. */
function bathPart(runs: readonly RunShare[], bath: CostedBath): number {
  const chargeAh = runs
    .filter((run) => run.bath?.id === bath.id)
    .reduce((total, { jobChargeAh }) => total + jobChargeAh, 0);
  return bathShare(chargeAh, bath.volumeL, bath.chargeAh);
}

function addUp(
  labour: readonly LabourRow[],
  runs: readonly RunShare[],
  entries: readonly EntryShare[],
  bathSalt: number,
): JobActuals {
  const stock = (...kinds: readonly CostedEntry["itemKind"][]): number =>
    sum(
      entries.filter(({ itemKind }) => kinds.includes(itemKind)),
      ({ jobMinor }) => jobMinor,
    );
  // More may have been brought back to the shelf than was taken for the job: that is no income of the job.
  const notBelowZero = (minor: number): number => Math.max(0, minor);
  return {
    labourMinor: sum(labour, ({ costMinor }) => costMinor),
    labourMinutes: sum(labour, ({ minutes }) => minutes),
    tankHours: sum(runs, ({ hours, jobShare }) => hours * jobShare),
    sodaMinor: notBelowZero(stock("SALT") + bathSalt),
    anodeSteelMinor: notBelowZero(stock("ANODE_STEEL") + sum(runs, (run) => run.jobAnodeMinor)),
    consumablesMinor: notBelowZero(stock("CONSUMABLE", "PROTECTION", "EPOXY")),
    energyKwh: sum(runs, ({ jobEnergyKwh }) => jobEnergyKwh),
    energyMinor: sum(runs, ({ jobEnergyMinor }) => jobEnergyMinor),
    disposalL: sum(runs, ({ bath, jobChargeAh }) =>
      bath ? bath.volumeL * bathShare(jobChargeAh, bath.volumeL, bath.chargeAh) : 0,
    ),
  };
}

function sum<Row>(rows: readonly Row[], value: (row: Row) => number): number {
  return rows.reduce((total, row) => total + value(row), 0);
}
