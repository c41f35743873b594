import { type Actor, requirePermission } from "@/lib/access";
import {
  findRun,
  findTank,
  listDueBakes,
  listItems,
  listReadings,
  listRuns,
  type ReadingRow,
  reading,
  type ReliefBakeRow,
  type RunRow,
  type RunState,
  stockLevels,
  type StockUnit,
  tankHistories,
  type TankRow,
} from "@/lib/data";
import type { Answers } from "@/lib/diagnosis";
import { Refusal } from "@/lib/errors";
import type { Worked } from "@/lib/units";
import { benchTimes, workingHours } from "../working-hours";
import { type Layout, layoutOfRun } from "./layout";
import { energyOf, type RunProgress, runProgress } from "./progress";
import { canUndo } from "./require-run";

export const RUNS_PER_PAGE = 25;

/** Runs, newest first, a page at a time. @throws Refusal not-allowed */
export async function seeRuns(
  actor: Actor,
  list: { readonly state?: RunState | undefined; readonly page: number },
): Promise<{ readonly runs: readonly RunRow[]; readonly total: number }> {
  requirePermission(actor, "see-shop");
  const window = { skip: (list.page - 1) * RUNS_PER_PAGE, take: RUNS_PER_PAGE };
  return reading((db) => listRuns(db, list.state ? { state: list.state } : {}, window));
}

/** Something in stock that a load may use, and how much there is. */
export type StockChoice = {
  readonly itemId: string;
  readonly name: string;
  readonly unit: StockUnit;
  readonly onHand: number;
};

/** Everything the bench sees of one run. */
export type RunView = {
  readonly run: RunRow;
  readonly tank: TankRow;
  readonly readings: readonly ReadingRow[];
  readonly progress: RunProgress;
  /** at the wall, so far or until it was pulled */
  readonly energy: Worked;
  readonly bakes: readonly ReliefBakeRow[];
  readonly protection: readonly StockChoice[];
  /** bench minutes that the rate card reckons with, for this load */
  readonly usualMinutes: { readonly load: number; readonly pull: number; readonly finish: number };
  readonly undoable: "load" | "pull" | null;
  /** how the load hangs; null once it is out */
  readonly layout: Layout | null;
};

/**
 * @param answers outcomes of checks made on the bench, which narrow the diagnosis; nothing is stored
 * @throws Refusal not-allowed | not-found
 */
export async function seeRun(
  actor: Actor,
  runId: string,
  now: Date,
  answers: Answers = {},
): Promise<RunView> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const run = await findRun(db, runId);
    const tank = run && (await findTank(db, run.tankId));
    if (!run || !tank) throw new Refusal("not-found", "This run is not in the shop.");
    const { timeZone } = await workingHours(db, now);
    const [readings, bakes, bench, items, levels, histories] = await Promise.all([
      listReadings(db, run.id),
      listDueBakes(
        db,
        run.dips.map(({ partId }) => partId),
      ),
      benchTimes(db, timeZone, now),
      listItems(db),
      stockLevels(db, now),
      tankHistories(db, run.state === "RUNNING" ? [tank.id] : [], now),
    ]);
    const areaM2 = run.dips.reduce((sum, { plan, part }) => sum + part.quantity * plan.areaM2, 0);
    return {
      run,
      tank,
      readings,
      bakes,
      energy: energyOf(run, readings, now),
      progress: runProgress(run, readings, { tank, history: histories.get(tank.id), answers }, now),
      protection: items
        .filter(({ kind }) => kind === "PROTECTION" || kind === "CONSUMABLE")
        .map(({ id, name, unit }) => ({
          itemId: id,
          name,
          unit,
          onHand: levels.get(id)?.onHand ?? 0,
        }))
        .filter(({ onHand }) => onHand > 0),
      usualMinutes: {
        load: bench.loadMinutes,
        pull: bench.pullMinutes,
        finish: Math.round(bench.finishMinutesPerM2 * areaM2),
      },
      undoable: undoable(run, readings.length, now),
      layout: layoutOfRun(run, tank),
    };
  });
}

function undoable(run: RunRow, readings: number, now: Date): "load" | "pull" | null {
  if (run.state === "RUNNING" && readings === 0 && canUndo(run.loadedAt, now)) return "load";
  return run.state === "PULLED" && canUndo(run.pulledAt, now) ? "pull" : null;
}
